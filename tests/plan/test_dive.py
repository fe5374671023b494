"""A choice of many items by diving (planner.md, 9a), held against enumeration."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from evenpick.base.arrays import Floats, Ints
from evenpick.base.chance import stream
from evenpick.plan.dive import Dive
from evenpick.plan.mixture import mixture
from evenpick.plan.solver import Model, pack

ITEMS, GROUPS, ROWS = 5, 3, 3
NEAR = 0.02
"""of the bound, by which a choice of sixty items may cost more"""


def _task(seed: int, items: int = ITEMS) -> tuple[Floats, Floats, Floats]:
    """Costs (n,), what each group takes (n, rows), limits (rows,); each item's first group takes nothing."""
    chance, several = stream(seed, "dive"), items * GROUPS
    cost, used = chance.uniform(1.0, 5.0, several), chance.uniform(0.0, 2.0, (several, ROWS))
    cost[::GROUPS], used[::GROUPS] = 8.0, 0.0
    return cost, used, np.full(ROWS, chance.uniform(0.3, 0.8) * items)


def _owner(cost: Floats) -> Ints:
    return np.arange(len(cost)) // GROUPS


def _model(cost: Floats, used: Floats, limit: Floats) -> Model:
    """A mixture with a column for each group beside its own, as a choice makes it."""
    n = len(cost)
    model = mixture(n // GROUPS, _owner(cost).tolist(), cost.tolist(), list(used), limit, 1.0, 1)
    model.add_columns(np.zeros(n), np.ones(n))
    rows = [(np.array([k, n + k]), np.array([1.0, -1.0])) for k in range(n)]
    model.add_rows(np.zeros(n), np.zeros(n), *pack(rows))
    return model


def _best(cost: Floats, used: Floats, limit: Floats) -> float:
    every = (np.array(one) + GROUPS * np.arange(ITEMS) for one in product(range(GROUPS), repeat=ITEMS))
    return min(float(cost[of].sum()) for of in every if np.all(used[of].sum(axis=0) <= limit))


def _chosen(task: tuple[Floats, Floats, Floats], seed: int) -> float:
    """What the choice found costs; it makes one group of each item, and fits."""
    cost, used, limit = task
    x = Dive(_model(*task), len(cost), _owner(cost), lambda: False).best(stream(seed, "chance"))
    assert x is not None
    made = x[: len(cost)]
    assert np.all(np.isclose(made, 0.0, atol=1e-6) | np.isclose(made, 1.0, atol=1e-6))
    of = np.flatnonzero(made > 0.5)
    assert _owner(cost)[of].tolist() == list(range(len(cost) // GROUPS))
    assert np.all(used[of].sum(axis=0) <= limit + 1e-6)
    return float(cost[of].sum())


def test_a_dive_makes_one_of_each_that_fits_and_is_never_better_than_the_best() -> None:
    over = []
    for seed in range(60):
        task = _task(seed)
        over.append(_chosen(task, seed) / _best(*task) - 1.0)
    assert min(over) >= -1e-6
    assert np.mean(over) < 0.05
    assert np.mean(np.array(over) < 1e-6) > 0.4  # five that just fit are as hard as it gets


@pytest.mark.parametrize("seed", range(3))
def test_of_many_items_it_comes_near_what_an_integer_programme_proves(seed: int) -> None:
    task = _task(seed, items=60)
    cost = task[0]
    model = _model(*task)
    model.set_integer(len(cost) + np.arange(len(cost)))
    bound = model.solve_integer(1000, 0.0, np.inf).bound
    assert bound - 1e-6 <= _chosen(task, seed) <= bound * (1 + NEAR)


def test_what_is_surest_but_does_not_fit_gives_way() -> None:
    """Two items are nine tenths sure of a group each that takes more than half the ground: one of them has
    the other, that costs more."""
    cost = np.array([10.0, 1.0, 10.0, 1.0])
    used = np.array([[0.0], [1.0], [0.0], [1.0]])
    model = mixture(2, [0, 0, 1, 1], cost.tolist(), list(used), np.array([1.85]), 1.0, 1)
    model.add_columns(np.zeros(4), np.ones(4))
    model.add_rows(np.zeros(4), np.zeros(4),
                   *pack([(np.array([k, 4 + k]), np.array([1.0, -1.0])) for k in range(4)]))
    x = Dive(model, 4, np.array([0, 0, 1, 1]), lambda: False).best(stream(1, "chance"))
    assert x is not None
    assert float(cost @ x[:4]) == pytest.approx(11.0)


def test_none_where_nothing_fits_or_it_is_late() -> None:
    cost, used, limit = _task(1)
    late = Dive(_model(cost, used, limit), len(cost), _owner(cost), lambda: True)
    assert late.best(stream(1, "chance")) is None
    full = Dive(_model(cost, used + 9.0, limit), len(cost), _owner(cost), lambda: False)
    assert full.best(stream(1, "chance")) is None
