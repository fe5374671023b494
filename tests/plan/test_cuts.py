"""Cuts never lie above the truth, and touch it where they are made (planner.md, 4 and 5)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sowing_cases import household, partly_met, small

from evenpick.base.arrays import Bools, Floats
from evenpick.base.chance import stream
from evenpick.plan.cuts import Losses
from evenpick.plan.deepest import Alone, deepest_weeks, depth
from evenpick.plan.moves import paired_moves, single_moves
from evenpick.plan.parts import split
from evenpick.plan.request import Request
from evenpick.plan.search import queue_losses


def check_cuts(request: Request, seed: int, trials: int) -> None:
    rng = stream(seed, "cuts")
    for part in split(request):
        n, most = part.size, part.losses.request.candidates.most
        if n == 0:
            continue
        for whole in (True, False):
            z = (rng.random(n) < 0.5) * (1.0 if whole else rng.uniform(0.05, 1, n))
            x = z * most * rng.uniform(0.05, 1, n)
            pace = np.where(x > 0, x / np.maximum(z, 1e-12), rng.uniform(0.0, 1.0, n) * most)
            loss, bound, rows = part.cut(x, z, pace)
            assert bound >= loss - 1e-7
            if whole:
                assert bound == pytest.approx(loss, abs=1e-7)
            for _ in range(trials):
                other_z = (rng.random(n) < rng.random()).astype(float)
                other = other_z * most * rng.uniform(0, 1, n)
                years = part.losses.by_year(other, part.losses.sweep(other))[0]
                risk = float(part.losses.items(other)[0])
                columns = np.concatenate([other, other_z, [risk], years])
                assert all(row.values @ columns[row.columns] >= row.lower - 1e-7 for row in rows)


@settings(max_examples=40)
@given(st.integers(0, 10_000))
def test_cuts_hold_on_small_cases(seed: int) -> None:
    request = small(seed, items=2, candidates=6, years=3, weeks=7)
    check_cuts(request, seed, trials=5)
    check_cuts(partly_met(request, seed), seed, trials=5)


def by_queue(weeks: Bools, demand: Floats, alone: Alone) -> Floats:
    """d(not G) + Σ share·(used alone in G) by a queue over each sowing, layer and year for itself."""
    years = alone.ripe.shape[0]
    total = np.where(weeks, 0.0, demand).sum(axis=0)
    for column in range(demand.shape[1]):
        for j, share in enumerate(alone.share):
            done = 0.0
            for w in range(len(demand)):
                start = max(done, alone.gone[column % years, w, j])
                done = min(start + demand[w, column] * weeks[w, column], alone.ripe[column % years, w, j])
                total[column] += share * (done - start)
    return np.asarray(total)


@settings(max_examples=25)
@given(st.integers(0, 10_000))
def test_deepest_weeks_end_where_no_week_pays(seed: int) -> None:
    """Never less deep than at the start, and no single week changed goes deeper, by an explicit queue."""
    rng = stream(seed, "weeks")
    weeks, sowings, years, layers = 6, 4, 3, 2
    shape = (weeks, sowings, years)
    ripe = np.cumsum(rng.uniform(0, 1, shape) * (rng.random(shape) < 0.5), axis=0)
    gone = np.vstack([np.zeros((2, sowings, years)), ripe[:-2]])
    ripe, gone = (np.ascontiguousarray(sums.transpose(2, 0, 1)) for sums in (ripe, gone))
    alone = Alone(ripe, gone, rng.random(sowings))
    demand = rng.uniform(0, 1, (weeks, layers * years)) * (rng.random((weeks, layers * years)) < 0.8)
    start = rng.random(demand.shape) < 0.5
    found = deepest_weeks(start, demand, alone)
    best = by_queue(found, demand, alone)
    assert depth(found, demand, alone) == pytest.approx(best)
    assert np.all(best <= by_queue(start, demand, alone) + 1e-9)
    for w in range(weeks):
        other = found.copy()
        other[w] = ~other[w]
        assert np.all(best <= by_queue(other, demand, alone) + 1e-5)


def test_cuts_hold_on_a_garden() -> None:
    check_cuts(household(items=4, years=6, seed=3, every=3), 3, trials=10)


def test_risk_is_the_worst_years() -> None:
    """(1−λ)·mean + λ·mean of the worst fifth: ten years, so the two worst (by hand)."""
    request = household(items=2, years=10, seed=4, every=5)
    losses = split(request)[0].losses
    values = np.arange(10.0)[None]
    risk = (losses.year_weights(values) * values).sum()
    assert risk == pytest.approx(0.8 * 4.5 + 0.2 * 8.5)


def test_moves_weighed_are_exact_where_later_goes_over_later() -> None:
    """Single precision: to 1e-4 of what is at stake; with a part of the wants met already, and without."""
    request = household(items=4, years=5, seed=2, every=4)
    check_moves(request)
    check_moves(partly_met(request, 2))


def check_moves(request: Request) -> None:
    rng = stream(5, "queue")
    for part in split(request):
        c = part.losses.request.candidates
        x = (rng.random(part.size) < 0.2) * rng.uniform(c.least, c.most)
        for moves in (single_moves(x, c.least, c.most, c.most), paired_moves(x, c.least, c.most, c.day, 35)):
            picked = moves.pick(slice(0, len(moves), 7))
            after = [picked.made(x, k) for k in range(len(picked))]
            assert all(((a == 0) | ((a >= c.least - 1e-9) & (a <= c.most + 1e-9))).all() for a in after)
            exact = [float(part.losses.items(a)[0]) for a in after]
            assert queue_losses(part, x, picked) == pytest.approx(exact, abs=1e-4 * part.losses.all_lost[0])


@settings(max_examples=40)
@given(st.integers(0, 10_000))
def test_weeks_without_a_want_change_no_loss(seed: int) -> None:
    """Rule 1: an item's part, on its wanted weeks alone, loses what it loses among all items and weeks."""
    request = small(seed, items=3, candidates=6, years=3, weeks=9)
    check_weeks(request, seed)
    check_weeks(partly_met(request, seed), seed)


def check_weeks(request: Request, seed: int) -> None:
    whole, x = Losses(request), stream(seed, "weeks").uniform(0, 2, 6)
    years = whole.by_year(x, whole.sweep(x))
    for i, part in enumerate(split(request)):
        own = x[part.members]
        assert part.losses.by_year(own, part.losses.sweep(own))[0] == pytest.approx(years[i], abs=1e-9)
