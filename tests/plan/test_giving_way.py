"""A newly wished for item on full ground (season.md, 6): something of less worth gives way, nothing else
does. Invented tasks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from sowing_cases import household

from evenpick.base.arrays import Floats
from evenpick.plan.effort import Effort
from evenpick.plan.kept import Exact
from evenpick.plan.make import make_plan
from evenpick.plan.mend import mended
from evenpick.plan.request import Request
from evenpick.plan.settled import Settled

ITEMS, NEW = 8, 1


@pytest.fixture(scope="module")
def full() -> tuple[Request, Floats]:
    """Ground too small for all that is wanted, and a plan that was made before one of the items was wished
    for."""
    request = household(ITEMS, 10, 70, open_m2=12.0, tunnel_m2=2.0, every=2)
    wanted = request.wanted.copy()
    wanted[NEW] = 0.0
    return request, make_plan(replace(request, wanted=wanted), Effort(branch_rounds=0)).areas


def missing(request: Request, areas: Floats, item: int) -> float:
    """Share of what is at stake of an item that a plan loses."""
    task = Exact.of(request)
    return float(task.losses(areas)[item] / task.losses(np.zeros(areas.size))[item])


def test_what_is_asked_for_more_gets_ground_where_it_is_worth_it(full: tuple[Request, Floats]) -> None:
    request, before = full
    left = mended(request, before, change=1.0)
    found = mended(request, before, change=1.0, asked=[NEW])
    assert missing(request, left.areas, NEW) > 0.9
    assert missing(request, found.areas, NEW) < 0.75
    changed = Settled(before, request.candidates.trouble)
    assert found.value + changed.cost(found.areas) < left.value + changed.cost(left.areas)
    assert Exact.of(request).fits(found.areas)


def test_the_plan_stays_much_as_it_was(full: tuple[Request, Floats]) -> None:
    request, before = full
    after = mended(request, before, change=1.0, asked=[NEW]).areas
    same = Settled(before, request.candidates.trouble).same(after)
    assert same.sum() > 0.6 * (before > 0).sum()


def test_what_is_worth_next_to_nothing_gets_none_of_it(full: tuple[Request, Floats]) -> None:
    request, before = full
    cheap = tuple(replace(item, weight=1e-3) if i == NEW else item for i, item in enumerate(request.items))
    request = replace(request, items=cheap)
    left, found = (mended(request, before, change=1.0, asked=asked).areas for asked in ([], [NEW]))
    np.testing.assert_array_equal(left, found)
