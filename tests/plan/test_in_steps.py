"""Plans in whole steps (planner.md, 12): against every plan of the same sowings in whole steps. Invented
tasks."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import numpy as np
import pytest
from sowing_cases import household, small

from evenpick.base.arrays import Floats
from evenpick.plan import in_steps
from evenpick.plan.effort import Effort
from evenpick.plan.in_steps import GAIN, bettered
from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.make import make_plan
from evenpick.plan.settled import Settled

STEP = 0.5
CASES = 60


def stepped(task: Exact, most_steps: int = 4) -> Iterator[Floats]:
    """Every plan in whole steps that fits."""
    n = len(task.request.candidates)
    for steps in product(range(most_steps + 1), repeat=n):
        x = STEP * np.array(steps, dtype=float)
        if task.fits(x):
            yield x


@pytest.fixture(scope="module")
def cases() -> list[tuple[Exact, list[Floats], Floats, Floats]]:
    """Task, its plans in steps, the one of them nearest to the best areas of as many sowings as there is room
    for, and what that is bettered to."""
    made = []
    for seed in range(CASES):
        task = Exact.of(small(seed, items=2, candidates=4))
        every = list(stepped(task))
        areas = best_areas(task, max(every, key=np.count_nonzero))
        start = min(every, key=lambda x: float(np.abs(x - areas).sum()))
        made.append((task, every, start, bettered(task, start, np.full(start.size, STEP))))
    return made


def test_what_is_bettered_is_one_of_the_plans_and_no_worse(
    cases: list[tuple[Exact, list[Floats], Floats, Floats]]
) -> None:
    moved = 0
    for task, every, start, found in cases:
        assert any(np.allclose(found, x) for x in every)
        assert task.cost(found) <= task.cost(start) + 1e-9
        moved += not np.allclose(found, start)
    assert moved > CASES / 6


def test_no_step_more_or_less_pays_afterwards(
    cases: list[tuple[Exact, list[Floats], Floats, Floats]]
) -> None:
    for task, _, _, found in cases:
        least = GAIN * task.cost(np.zeros(found.size))
        for j, sign in product(range(found.size), (-1, 1)):
            if sign < 0 and not found[j]:
                continue
            x = found.copy()
            x[j] += sign * STEP
            assert not task.fits(x) or task.cost(x) >= task.cost(found) - least - 1e-9


def test_nearly_all_that_was_lost_to_the_best_of_all_comes_back(
    cases: list[tuple[Exact, list[Floats], Floats, Floats]]
) -> None:
    before, after = 0.0, 0.0
    for task, every, start, found in cases:
        best = min(map(task.cost, every))
        stake = task.cost(np.zeros(found.size))
        before += (task.cost(start) - best) / stake
        after += (task.cost(found) - best) / stake
    assert 0 <= after < before / 20


def test_among_many_none_is_added(monkeypatch: pytest.MonkeyPatch) -> None:
    """A sowing that was taken out comes back where candidates are few alone."""
    task = Exact.of(small(3, items=2, candidates=4))
    best = min(stepped(task), key=task.cost)
    without = np.where(np.arange(best.size) == best.argmax(), 0.0, best)
    assert np.count_nonzero(without) == np.count_nonzero(best) - 1 > 0
    few = bettered(task, without, np.full(best.size, STEP))
    monkeypatch.setattr(in_steps, "FEW", 3)
    many = bettered(task, without, np.full(best.size, STEP))
    assert task.cost(few) < task.cost(many) - GAIN
    assert ((without > 0) | (many == 0)).all()


def test_a_garden_brought_to_coarse_steps_loses_less() -> None:
    """Steps of a square metre on forty: a quarter at least of what rounding each sowing costs comes back."""
    request = household(8, 12, 70, open_m2=40.0)
    task, found = Exact.of(request), make_plan(request, Effort(branch_rounds=0, turns=0)).areas
    least, most = request.candidates.least, request.candidates.most
    near = np.where(found > 0, np.clip(np.floor(found), np.ceil(least), np.floor(most)), 0.0)
    assert task.fits(near)
    lost = task.cost(near) - task.cost(found)
    assert task.cost(bettered(task, near, np.ones(near.size))) < task.cost(near) - 0.25 * lost


def test_nothing_sown_stays_nothing() -> None:
    task = Exact.of(small(1))
    none = np.zeros(len(task.request.candidates))
    assert not bettered(task, none, np.full(none.size, STEP)).any()


def test_whole_pots_are_refilled_where_a_step_alone_does_not_pay() -> None:
    """What one crop leaves free two of it may use better, and no single change comes there: most of what that
    costs comes back where all goes by whole pots."""
    without, refilled = (sum(_lost(seed, refill) for seed in range(40)) for refill in (False, True))
    assert 0 <= refilled < 0.5 * without


def _lost(seed: int, refill: bool) -> float:
    """Share of the stake by which a full plan of the first sowings that fit, bettered, misses the best."""
    task = Exact.of(small(seed, items=2, candidates=6, sizes=STEP))
    start = np.zeros(6)
    for j in range(6):
        start[j] = STEP
        start[j] = STEP if task.fits(start) else 0.0
    found = bettered(task, start, np.full(6, STEP), refill=refill)
    best = min(task.cost(x) for x in stepped(task, most_steps=1))
    return (task.cost(found) - best) / task.cost(np.zeros(6))


def test_what_is_settled_is_made_another_where_that_is_worth_its_charge(
    cases: list[tuple[Exact, list[Floats], Floats, Floats]]
) -> None:
    """Of one sowing in each plan; charged more than all, it stays, and charged nothing it is as any other."""
    stayed = 0
    for task, _, start, found in cases:
        held = np.where(np.arange(start.size) == int(np.argmax(start)), start, 0.0)
        free, dear = (bettered(task, start, np.full(start.size, STEP), settled=Settled(
            held, np.full(start.size, charge))) for charge in (0.0, 1e6))
        assert np.allclose(free, found)
        assert np.allclose(dear[held > 0], held[held > 0])
        stayed += not np.allclose(found[held > 0], held[held > 0])
    assert stayed > 2
