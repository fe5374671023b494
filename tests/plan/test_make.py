"""Whole plans against enumeration, and what must hold of any plan (planner.md, 10)."""

from __future__ import annotations

import itertools
import os
import subprocess
import sys
import threading
from dataclasses import replace
from functools import cache
from itertools import product

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sowing_cases import household, partly_met, small

from evenpick.base.errors import BadRequest
from evenpick.plan import bench, hands, make, seat
from evenpick.plan.beside import beside
from evenpick.plan.child import Child, ChildLost
from evenpick.plan.effort import Effort, News
from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.make import MORE_STEPS, Plan, make_plan
from evenpick.plan.price import Prices
from evenpick.plan.request import Request

BRANCHED = Effort(turns=1, kicks=2, proof_steps=5, good_enough=0.0)
QUICK = Effort(turns=2, kicks=2, proof_steps=2, branch_rounds=0, together=0)


def enumerated(request: Request, levels: int = 5) -> float:
    """The least cost over a grid of areas: nought, or `levels` steps from least to most."""
    task, c = Exact.of(request), request.candidates
    bounds = zip(c.least, c.most, strict=True)
    choices = [np.concatenate([[0.0], np.linspace(a, b, levels)]) for a, b in bounds]
    trials = (np.array(x) for x in product(*choices))
    return min(task.cost(x) for x in trials if task.fits(x))


def settled(request: Request) -> float:
    """The least cost over every set of sowings, areas by cutting planes to 1e-6."""
    task, c = Exact.of(request), request.candidates
    sets = product((False, True), repeat=len(request.candidates))
    areas = (best_areas(task, np.array(made) * c.least, tolerance=1e-7, rounds=200) for made in sets)
    return min(task.cost(x) for x in areas)


@pytest.mark.parametrize("block", range(10))
def test_whole_plan_against_enumeration(block: int) -> None:
    """200 cases: no grid plan, and no set of sowings at its best areas, beats the bound; the plan is within
    a thousandth of the best of them."""
    for seed in range(7_000 + 20 * block, 7_020 + 20 * block):
        request = small(seed)
        plan = make_plan(request, BRANCHED)
        best = min(enumerated(request), settled(request))
        assert plan.bound <= best + 1e-6, seed
        assert plan.value <= best + 1e-3 * plan.nothing + 1e-6, seed
        assert Exact.of(request).fits(plan.areas), seed
        assert plan.value == pytest.approx(Exact.of(request).cost(plan.areas)), seed


@settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow])
@given(st.integers(0, 10_000))
def test_bound_never_above_what_can_be_done(seed: int) -> None:
    request = small(seed, items=2, candidates=5, years=3, weeks=6)
    plan = make_plan(request, QUICK)
    assert plan.bound <= settled(request) + 1e-6
    assert plan.value <= plan.nothing + 1e-9


@pytest.mark.parametrize("seed", range(6))
def test_more_ground_never_hurts(seed: int) -> None:
    """The optimum falls with ground, so the bound on more ground lies under the plan on less."""
    request = small(seed, candidates=4, years=3, weeks=5)
    wider = replace(request, grounds=replace(request.grounds, limit=request.grounds.limit * 1.5))
    assert settled(wider) <= settled(request) + 1e-6
    assert make_plan(wider, QUICK).bound <= make_plan(request, QUICK).value + 1e-9


@pytest.mark.parametrize("seed", range(20))
def test_with_crops_standing_against_enumeration(seed: int) -> None:
    """What stands is served first (season.md, 4): the best plan for what is left, and its bound holds."""
    request = partly_met(small(7_300 + seed), seed)
    plan = make_plan(request, BRANCHED)
    best = min(enumerated(request), settled(request))
    assert plan.bound <= best + 1e-6
    assert plan.value <= best + 1e-3 * plan.nothing + 1e-6


def test_same_inputs_same_plan() -> None:
    request = household(items=5, years=6, seed=7, every=3)
    first, second = make_plan(request, QUICK), make_plan(request, QUICK)
    assert np.array_equal(first.areas, second.areas)
    assert (first.value, first.bound) == (second.value, second.bound)


@cache
def made_alone() -> tuple[Request, Effort, Plan]:
    """A task, how it is planned, and its plan by one process."""
    request = household(items=5, years=6, seed=7, every=3)
    effort = Effort(turns=2, proof_steps=2, branch_rounds=2)
    return request, effort, make_plan(request, effort)


@pytest.mark.parametrize("cores", [2, 3])
def test_processes_change_nothing(monkeypatch: pytest.MonkeyPatch, cores: int) -> None:
    request, effort, here = made_alone()
    started = shared_out(monkeypatch, cores)
    shared = make_plan(request, effort)
    assert len(started) == cores
    assert np.array_equal(here.areas, shared.areas)
    assert (here.value, here.bound) == (shared.value, shared.bound)


def test_what_grew_crops_plans_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """The process beside this one is one of the two, and is not asked to grow anything after."""
    request, effort, here = made_alone()
    started = shared_out(monkeypatch)
    with beside("evenpick.plan.options") as both:
        assert both.map(pow, 2, [1, 2, 3]) == [2, 4, 8]
        shared = make_plan(request, effort, both)
        assert both.map(pow, 2, [1, 2, 3]) == [2, 4, 8]
    assert len(started) == 1
    assert np.array_equal(here.areas, shared.areas)
    assert (here.value, here.bound) == (shared.value, shared.bound)


def shared_out(monkeypatch: pytest.MonkeyPatch, cores: int = 2) -> list[seat.Process]:
    """From here on every task is large enough for processes, on one core too; those that start."""
    started: list[seat.Process] = []

    class Counted(seat.Process):
        def __init__(self, child: Child | None = None) -> None:
            super().__init__(child)
            started.append(self)

    monkeypatch.setattr(bench, "LARGE", 0)
    monkeypatch.setattr(os, "cpu_count", lambda: cores)
    monkeypatch.setattr(hands, "Process", Counted)
    return started


@pytest.mark.parametrize("asked", [False, True])
def test_a_lost_process_is_told(monkeypatch: pytest.MonkeyPatch, asked: bool) -> None:
    """Killed from outside, as a system short of memory does: before it is asked, or with no answer given."""
    started = shared_out(monkeypatch)
    with bench.Bench(household(items=4, years=4, seed=6, every=4)) as lost:
        assert len(started) == 2
        for each in started:
            each._child._process.kill()
            each._child._process.wait()
            if asked:
                monkeypatch.setattr(each, "_tell", lambda thing: None)
        with pytest.raises(ChildLost, match="ended early"):
            lost.every("descent", np.zeros(len(lost.request.candidates)), 1)


@settings(max_examples=15, suppress_health_check=[HealthCheck.too_slow])
@given(st.integers(0, 10_000))
def test_any_plan_keeps_to_ground_and_bounds(seed: int) -> None:
    request = small(seed, items=3, candidates=8, years=4, weeks=8)
    plan, task = make_plan(request, QUICK), Exact.of(request)
    assert task.fits(plan.areas)
    assert 0 <= plan.bound <= plan.value + 1e-9
    assert plan.value == pytest.approx(task.cost(plan.areas))


def test_a_garden_gets_a_plan_and_a_proof() -> None:
    told: list[News] = []
    request = household(items=5, years=6, seed=5, every=3)
    plan = make_plan(request, Effort(progress=told.append))
    assert Exact.of(request).fits(plan.areas)
    assert 0 < plan.bound <= plan.value < plan.nothing
    assert plan.gap < 0.15
    assert [n.gap for n in told] == sorted((n.gap for n in told), reverse=True)
    assert plan.whole


@pytest.mark.parametrize("processes", [False, True])
def test_what_is_proven_is_told_in_the_middle_of_a_round(
    monkeypatch: pytest.MonkeyPatch, processes: bool
) -> None:
    told: list[News] = []
    request = household(items=4, years=5, seed=5, every=4)
    if processes:
        shared_out(monkeypatch)
    plan = make_plan(request, Effort(progress=told.append, good_enough=0.0))
    branching = [news for news in told if news.stage == "branching"]
    assert len(branching) > plan.rounds["branching"]
    assert all(news.bound <= plan.bound <= plan.value <= news.value for news in told)
    assert [news.gap for news in told] == sorted((news.gap for news in told), reverse=True)


def test_stopped_at_once_it_still_answers() -> None:
    request = household(items=4, years=4, seed=6, every=4)
    plan = make_plan(request, Effort(stop=lambda: True))
    assert not plan.whole
    assert plan.value == plan.nothing
    plan = make_plan(request, Effort(seconds=0.0))  # a first plan is waited for
    assert not plan.whole
    assert plan.value < plan.nothing
    stopped: list[News] = []
    plan = make_plan(request, Effort(stop=lambda: len(stopped) >= 4, progress=stopped.append))
    assert not plan.whole
    assert plan.bound <= plan.value < plan.nothing
    assert 4 <= len(stopped) <= 5  # the stage in hand is told at its end, and nothing after it
    assert {news.stage for news in stopped[3:]} == {stopped[3].stage}


@pytest.mark.parametrize("processes", [False, True])
@pytest.mark.parametrize("asks", [1, 4])
def test_a_stop_ends_what_is_under_way(monkeypatch: pytest.MonkeyPatch, processes: bool, asks: int) -> None:
    """Asked before every item: what was found in full by then is handed over. The first plan is told at once,
    before it is bettered and the descents beside it are at their end."""
    request, told = household(items=4, years=4, seed=6, every=4), list[News]()
    left = itertools.count(asks, -1)
    if processes:
        shared_out(monkeypatch)

    def stop() -> bool:
        return len(told) >= 3 and next(left) <= 0

    plan = make_plan(request, Effort(stop=stop, progress=told.append))
    assert [news.stage for news in told] == ["sounding", "descent", "descent"]
    assert not plan.whole
    assert plan.value <= told[-1].value < plan.nothing
    assert 0 <= plan.bound <= plan.value


def test_a_break_ends_the_processes(monkeypatch: pytest.MonkeyPatch) -> None:
    """What they have in hand, here a question never answered, is not waited for."""
    started = shared_out(monkeypatch)
    silent = threading.Event()

    def broken_off() -> None:
        assert silent.wait(30)
        raise KeyboardInterrupt

    with bench.Bench(household(items=4, years=4, seed=6, every=4)) as desks:
        def asking() -> None:
            for each in started:
                monkeypatch.setattr(each, "_tell", lambda thing: silent.set())
            desks.every("descent", np.zeros(len(desks.request.candidates)), 1)

        with pytest.raises(KeyboardInterrupt):
            desks.beside(asking, broken_off)
    assert all(each._child._process.returncode is not None for each in started)


def test_prices_are_tried_on_while_they_close_much(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where two steps did not bring the prices near their best, more are taken; never without end."""
    request = household(items=5, years=4, seed=5, every=4, open_m2=14.0, tunnel_m2=3.0)
    effort, tried = replace(QUICK, turns=1), list[float]()
    step = Prices.step

    def counted(prices: Prices, tolerance: float, rounds: int) -> None:
        step(prices, tolerance, rounds)
        tried.append(prices.bound)

    monkeypatch.setattr(Prices, "step", counted)
    further = make_plan(request, effort)
    assert 2 < len(tried) <= 2 + MORE_STEPS
    assert tried[-1] > tried[1]
    assert further.bound == max(tried)
    monkeypatch.setattr(make, "MORE_STEPS", 0)
    tried.clear()
    assert make_plan(request, effort).bound < further.bound
    assert len(tried) == 2


def test_nothing_wanted_nothing_sown() -> None:
    request = small(3)
    plan = make_plan(replace(request, wanted=0.0 * request.wanted), QUICK)
    assert not plan.areas.any()
    assert plan.gap == 0.0


def test_faults_are_told() -> None:
    request = small(3)
    with pytest.raises(BadRequest, match="wanted has shape"):
        replace(request, wanted=request.wanted[:, :-1])
    with pytest.raises(BadRequest, match="past its time"):
        replace(request, supply=replace(request.supply, last=request.supply.ripe - 1))
    with pytest.raises(BadRequest, match="negative or missing"):
        replace(request, wanted=request.wanted * np.nan)
    with pytest.raises(BadRequest, match="outside"):
        replace(request, supply=replace(request.supply, year=request.supply.year + 99))


def test_the_solver_keeps_quiet() -> None:
    """Nothing but answers may reach the terminal, from the solver's own library either. The banner comes
    with the first model of a process, so a new process makes the plan."""
    code = "from sowing_cases import small; from evenpick.plan.make import make_plan; make_plan(small(2))"
    paths = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=paths)
    assert (run.stdout, run.stderr) == ("", "")


def test_more_rounds_are_made_only_where_they_may_come_near() -> None:
    """A windowsill proven within 10 % after eight rounds of branching took four more of them for a fifth of a
    hundredth."""
    request, effort = household(3, 5, 30), Effort(turns=0, branch_rounds=1, more_rounds=2, good_enough=0.0)
    gap = make_plan(request, replace(effort, more_rounds=0)).gap
    rounds = [make_plan(request, replace(effort, near=near)).rounds["branching"]
              for near in (0.9 * gap, 0.5 * gap)]
    assert rounds[0] > rounds[1] == 1
