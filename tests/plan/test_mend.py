"""A plan mended keeps what is not worth changing (season.md, 6). The invented garden of test_limits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import pytest
from garden_task import GARDEN, HORIZON, groups, settings, whole

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.windows import workable_ground
from evenpick.plan.crowded import onto_ground
from evenpick.plan.effort import Effort
from evenpick.plan.kept import Exact
from evenpick.plan.make import make_plan
from evenpick.plan.mend import mended
from evenpick.plan.options import Kind, batches
from evenpick.plan.request import Candidates, Grounds, Item, Request, Supply
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


def test_a_day_of_the_plan_before_stays_worth_considering_while_it_is_nearly_so() -> None:
    """In the tunnel, on days on which the open would do, nothing new is considered; a planned day had moved
    by three weeks because of that. One that is far from good is considered no more."""
    radish = load_catalogue().crop("radish")
    days = HORIZON.sow_days()

    def under(cover: str, planned: Mapping[Kind, Sequence[int]]) -> set[int]:
        dry = workable_ground(settings())
        found = batches([radish], GARDEN, settings(), dry, HORIZON, groups(), DEFAULT_SEED, planned=planned)
        return {int(day) for batch in found["radish"] if batch.cover == cover for day in batch.days}

    june, december = (next(int(day) for day in days if day > after) for after in (110, 300))
    usual = under("tunnel", {})
    assert june not in usual
    assert under("tunnel", {("radish", "Radish", "direct", "tunnel"): [june]}) == usual | {june}
    outside = under("open", {})
    assert december not in outside
    assert under("open", {("radish", "Radish", "direct", "open"): [december]}) == outside


def test_ground_too_small_in_one_week_moves_a_sowing_before_one_is_left_out() -> None:
    """A follow-on sowing a week too soon had cost a whole sowing of potatoes."""
    first, weeks = 10, 4
    day = np.array([0, 63, 70, 77])
    candidates = Candidates(
        np.array([0, 1, 1, 1]), ("potato/planted/open/0", *(f"kale/raised/open/{at}" for at in day[1:])), day,
        np.full(4, 4.0), np.full(4, 8.0), np.full(4, 1.0), np.zeros(4),
    )
    held = [range(first), *(range(int(each) // 7, first + weeks) for each in day[1:])]
    cells = [(j, week) for j, some in enumerate(held) for week in some]
    grounds = Grounds(
        ("open",), np.full((1, first + weeks), 8.0), np.zeros(len(cells), np.int64),
        np.array([j for j, _ in cells]), np.array([week for _, week in cells]), np.ones(len(cells)),
    )
    ripe = np.array([first - 1, *[first + weeks - 1] * 3])
    supply = Supply(np.arange(4), np.zeros(4, np.int64), ripe, ripe, np.full(4, 5.0))
    wanted_kg = np.zeros((2, first + weeks))
    wanted_kg[0, first - 1] = wanted_kg[1, first + weeks - 1] = 40.0
    items = Item("potatoes"), Item("kale")
    request = Request(candidates, items, grounds, 1, first + weeks, wanted_kg, supply)
    x = np.array([8.0, 8.0, 0.0, 0.0])
    task = Exact.of(request)
    assert not task.fits(x)
    np.testing.assert_allclose(onto_ground(task, x, Settled(x, candidates.trouble)), [8.0, 0.0, 8.0, 0.0])
