"""A plan mended keeps what is not worth changing (season.md, 6). The invented garden of test_limits."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from garden_task import whole

from evenpick.base.arrays import Floats
from evenpick.plan.crowded import onto_ground
from evenpick.plan.kept import Exact
from evenpick.plan.make import Effort, make_plan
from evenpick.plan.mend import mended
from evenpick.plan.request import Request
from evenpick.plan.search import SAME, Settled

SHIFTED = 0.12
"""of an area: more than a grower would measure, less than he would care about"""


@pytest.fixture(scope="module")
def request_() -> Request:
    return whole().request


@pytest.fixture(scope="module")
def before(request_: Request) -> Floats:
    """A plan of which every other sowing is a little smaller than is best."""
    c, best = request_.candidates, make_plan(request_, Effort(branch_rounds=0)).areas
    smaller = np.maximum((1.0 - SHIFTED) * best, c.least)
    return np.where((np.arange(best.size) % 2 == 0) & (best > 0), smaller, best)


def changed(before: Floats, after: Floats) -> int:
    return int(((before > 0) & (np.abs(after - before) > SAME)).sum())


def test_what_is_not_worth_a_change_stays(request_: Request, before: Floats) -> None:
    free, kept = mended(request_, before), mended(request_, before, change=1.0)
    assert changed(before, free.areas) > 3
    assert changed(before, kept.areas) < changed(before, free.areas) / 2
    assert kept.value - free.value < 0.02 * (kept.nothing - free.value)


def test_all_changes_together_are_worth_their_trouble(request_: Request, before: Floats) -> None:
    task = Exact.of(request_)
    for change in (0.25, 1.0, 4.0):
        found = mended(request_, before, change=change)
        settled = Settled(before, change * request_.candidates.trouble)
        assert task.cost(before) - found.value >= settled.changed(found.areas).sum() - 1e-6


def test_a_change_that_costs_more_than_all_is_never_made(request_: Request, before: Floats) -> None:
    found = mended(request_, before, change=1e6)
    assert changed(before, found.areas) == 0
    assert Exact.of(request_).fits(found.areas)


def test_ground_too_small_by_a_little_makes_one_sowing_smaller(request_: Request, before: Floats) -> None:
    """All were settled anew, and most came out other than they were."""
    g = request_.grounds
    used = g.used(before)
    row, week = np.unravel_index(int(np.argmax(used[0])), used.shape)
    limit = g.limit.copy()
    limit[row, week] = used[row, week] - 0.3
    task = Exact.of(replace(request_, grounds=replace(g, limit=limit)))
    assert not task.fits(before)
    fitting = onto_ground(task, before, Settled(before, request_.candidates.trouble))
    assert task.fits(fitting)
    assert changed(before, fitting) == 1
