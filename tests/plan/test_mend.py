"""A plan mended keeps what is not worth changing (season.md, 6). The invented garden of test_limits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import pytest
from garden_task import GARDEN, HORIZON, groups, settings, whole

from evenpick.base.arrays import Floats, Ints
from evenpick.base.chance import DEFAULT_SEED, stream
from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.windows import workable_ground
from evenpick.plan.crowded import onto_ground
from evenpick.plan.effort import Effort
from evenpick.plan.kept import Exact
from evenpick.plan.make import make_plan
from evenpick.plan.mend import mended
from evenpick.plan.moves import paired_moves
from evenpick.plan.options import Kind, batches
from evenpick.plan.request import Candidates, Grounds, Item, Request, Supply
from evenpick.plan.settled import SAME, Farms, Settled, across

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


def two_farms(kg: float) -> Request:
    """One want of 10 kg in week 4; on each of two farms one sowing of 10 m² for it, of which a square metre
    gives so many `kg` on the first, one on the second. Only one of them can be made."""
    candidates = Candidates(
        np.zeros(2, np.int64), ("radish/a", "radish/b"), np.zeros(2, np.int64), np.full(2, 10.0),
        np.full(2, 10.0), np.full(2, 1.0), np.full(2, 0.02),
    )
    grounds = Grounds(("carts",), np.full((1, 6), 10.0), np.zeros(2, np.int64), np.arange(2),
                      np.zeros(2, np.int64), np.ones(2))
    four = np.full(2, 4)
    supply = Supply(np.arange(2), np.zeros(2, np.int64), four, four, np.array([kg, 1.0]))
    wanted_kg = np.zeros((1, 6))
    wanted_kg[0, 4] = 10.0
    return Request(candidates, (Item("radish"),), grounds, 1, 6, wanted_kg, supply)


@pytest.mark.parametrize("late", [False, True])
def test_a_sowing_goes_to_another_farm_only_for_what_two_growers_changes_are_worth(late: bool) -> None:
    """What came late went to another farm for a hair, what did not for no more than a week's delay costs."""
    farm, none = np.array([0, 1]), np.zeros(2)

    def moves(kg: float, farms: Ints | None) -> bool:
        at = np.array([10.0, 0.0])
        before, after = (none, at) if late else (at, none)
        found = mended(two_farms(kg), before, after, change=1.0, farm=farms).areas
        assert np.count_nonzero(found) == 1
        return bool(found[1] > 0)

    def most(farms: Ints | None) -> float:
        """The most that the first may give where it goes to the second."""
        return max(kg for kg in np.arange(0.2, 0.99, 0.01) if moves(kg, farms))

    def worth(kg: float) -> float:
        task = Exact.of(two_farms(kg))
        return task.cost(np.array([10.0, 0.0])) - task.cost(np.array([0.0, 10.0]))

    changes = (0 if late else 1) + 1
    assert worth(most(farm)) >= changes
    assert worth(most(farm) + 0.01) < changes
    assert most(None) > most(farm)


def test_what_the_moves_are_weighed_at_is_what_they_cost() -> None:
    """Sowings that go to another farm are counted alike for many moves and for one plan."""
    chance = stream(3, "settled")
    planned = np.where(chance.random(12) < 0.5, chance.uniform(1, 4, 12), 0.0)
    settled = Settled(planned, chance.uniform(0.5, 2, 12), Farms(chance.integers(0, 3, 12), planned))
    x = np.where(chance.random(12) < 0.5, planned, chance.uniform(0, 4, 12) * (chance.random(12) < 0.5))
    moves = paired_moves(x, np.full(12, 0.5), np.full(12, 5.0), np.zeros(12, np.int64), 7)
    assert len(moves)
    weighed = settled.cost_of_moves(x, moves)
    for k in range(len(moves)):
        more = settled.cost(moves.made(x, k)) - settled.cost(x)
        assert weighed[k] == pytest.approx(more, abs=1e-9)
    gone, new = np.array([1, 0, 2]), np.array([0, 2, 2])
    assert int(across(gone, new)) == 1


def test_a_planned_day_keeps_what_it_was_good_for() -> None:
    """Spinach planned to overwinter was mended to spinach for the autumn, which that day nearly is good for:
    its last day was told as three weeks sooner."""
    dry, day_of = workable_ground(settings()), {}
    spinach = load_catalogue().crop("spinach")
    kind = "spinach", "Spinach", "direct", "open"
    for planned in ({}, {kind: [int(day) for day in HORIZON.sow_days()]}):
        found = batches([spinach], GARDEN, settings(), dry, HORIZON, groups(), DEFAULT_SEED, planned=planned)
        day_of[bool(planned)] = {
            int(day): batch.outcome.purpose for batch in found["spinach"]
            if (batch.way.name, batch.cover) == ("direct", "open") for day in batch.days
        }
    assert {purpose.name for purpose in day_of[False].values()} == {"fresh", "overwintering"}
    assert day_of[True].items() >= day_of[False].items()


@pytest.mark.parametrize("change", [0.0, 1.0])
def test_what_was_lost_whole_is_made_good_before_what_lacks_a_little(
    request_: Request, before: Floats, change: float
) -> None:
    """A small item of which everything was lost came after all larger ones, which had filled the ground:
    beetroot was 90 % bare for the year, while `losses` told of a day and room for it."""
    task = Exact.of(request_)
    gone = before.copy()
    gone[task.parts[4].members] = 0.0
    nothing = task.losses(np.zeros(len(gone)))
    found = mended(request_, gone, change=change)
    assert task.losses(found.areas)[4] < 0.4 * nothing[4]
