"""The sweep against a linear programme, and its good weeks against differences (planner.md, 2 and 3)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from sowing_cases import small

from evenpick.base.chance import stream
from evenpick.plan.cuts import Losses
from evenpick.plan.measure import evaluate
from evenpick.plan.pickings import good_weeks, next_good, serve
from evenpick.plan.request import Request


def areas_of(request: Request, seed: int) -> np.ndarray:
    rng = stream(seed, "areas")
    return rng.uniform(0, 2, len(request.candidates)) * (rng.random(len(request.candidates)) < 0.8)


def programme_worth(losses: Losses, x: np.ndarray, item: int, year: int) -> float:
    """Lost worth and spare of one item and year by an explicit linear programme: unit flows to layers."""
    r, cells = losses.request, losses.cells
    own = np.flatnonzero(cells.column == item * r.years + year)
    amounts = losses.amounts(x)[own]
    widths = np.diff(r.levels, prepend=0.0)
    flows = [
        (n, w, k)
        for n, c in enumerate(own)
        for w in range(cells.ripe[c], cells.last[c] + 1)
        for k in range(len(widths))
    ]
    spare_weight = losses.weight[item] * r.spare_weight
    whole = losses.weight[item] * r.wanted[item].sum() * float(widths @ np.array(r.values))
    total = whole + spare_weight * amounts.sum()

    of_item = losses.item[r.supply.candidate] == item
    to_be_had = {w for a, b in zip(r.supply.ripe[of_item], r.supply.last[of_item], strict=True)
                 for w in range(a, b + 1)}
    first = r.scarce_share * whole * r.wanted[item, sorted(to_be_had)].sum() / max(r.wanted[item].sum(), 1e-9)

    def as_it_counts(loss: float) -> float:
        return loss + r.scarce_worth * max(loss - (whole - first), 0.0)

    if not flows:
        return as_it_counts(float(total))
    worth = [-(losses.weight[item] * r.values[k] + spare_weight) for _, _, k in flows]
    rows = np.zeros((len(own) + r.weeks * len(widths), len(flows)))
    for f, (n, w, k) in enumerate(flows):
        rows[n, f] = rows[len(own) + w * len(widths) + k, f] = 1.0
    limits = np.concatenate([amounts, np.outer(r.wanted[item], widths).ravel()])
    return as_it_counts(float(total + linprog(worth, A_ub=rows, b_ub=limits, method="highs").fun))


@pytest.mark.parametrize("seed", range(12))
def test_sweeps_are_the_linear_programme(seed: int) -> None:
    """Rule 2: layered sweeps give the optimum of the concave problem (scipy's HiGHS as the judge)."""
    request = small(seed, items=2, candidates=5, years=2, weeks=7)
    losses, x = Losses(request), areas_of(request, seed)
    found = losses.by_year(x, losses.sweep(x))
    for item in range(2):
        for year in range(2):
            assert found[item, year] == pytest.approx(programme_worth(losses, x, item, year), abs=1e-7)


@pytest.mark.parametrize("seed", range(12))
def test_good_weeks_give_the_slope(seed: int) -> None:
    """Rule 3: away from kinks one more kilogram in a cell is used iff it reaches a good week."""
    request = small(seed, items=2, candidates=5, years=2, weeks=7)
    losses, x = Losses(request), areas_of(request, seed)
    sweep = losses.sweep(x)
    following = next_good(good_weeks(sweep))
    cells, amounts, step = losses.cells, losses.amounts(x), 1e-6
    for n in range(len(cells.ripe)):
        more = amounts.copy()
        more[n] += step
        gained = serve(cells, more, losses.demand, losses.columns).used.sum(axis=0) - sweep.used.sum(axis=0)
        for k in range(losses.layers):
            column = k * losses.columns + cells.column[n]
            expected = following[cells.ripe[n], column] <= cells.last[n]
            assert gained[column] / step == pytest.approx(float(expected), abs=1e-3)


@settings(max_examples=60)
@given(st.integers(0, 10_000))
def test_what_is_used_was_ripe(seed: int) -> None:
    request = small(seed, items=2, candidates=5, years=3, weeks=7)
    x = areas_of(request, seed)
    s = request.supply
    measure = evaluate(request.candidates.item, x, s, request.wanted, request.years)
    ripe = np.zeros((2, 7, 3))
    np.add.at(ripe, (request.candidates.item[s.candidate], s.ripe, s.year), s.kg * x[s.candidate])
    gone = np.cumsum(measure.used + measure.over, axis=1)
    assert (gone <= np.cumsum(ripe, axis=1) + 1e-9).all()
    assert (measure.used <= request.wanted[:, :, None] + 1e-9).all()
    assert gone[:, -1] == pytest.approx(ripe.sum(axis=1))
    assert measure.used + measure.unmet == pytest.approx(np.repeat(request.wanted[:, :, None], 3, axis=2))
    assert measure.bare.sum() == pytest.approx(measure.unmet.sum())


def test_bare_week_by_hand() -> None:
    """One item, one year, wants 1 kg in weeks 0 and 1; 1.4 kg ripen in week 0 and keep one week on."""
    request = small(1)
    supply = type(request.supply)(*(np.array([v]) for v in (0, 0, 0, 1)), np.array([1.4]))
    measure = evaluate(np.array([0]), np.array([1.0]), supply, np.array([[1.0, 1.0, 1.0]]), 1)
    assert measure.used[0, :, 0] == pytest.approx([1.0, 0.4, 0.0])
    assert measure.bare == pytest.approx([1.6])
    assert measure.bare_weeks.tolist() == [2]
    assert measure.spare == pytest.approx([0.0])
