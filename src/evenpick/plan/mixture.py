"""Items' answers mixed at their best on the shared ground: the programme behind prices and choices
(planner.md, 7 and 9)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.solver import INF, Model, pack


def mixture(
    items: int, owner: Sequence[int], cost: Sequence[float], used: Sequence[Floats], limit: Floats,
    most: float, seed: int,
) -> Model:
    """Shares (0 to `most`) of answers, one in all for each item. Rows: items, then ground.

    An answer has its item, what it costs, and what it uses of each row of ground.
    """
    count = len(cost)
    model = Model(np.array(cost), np.zeros(count), np.full(count, most), seed)
    whose: Ints = np.array(owner)
    mine = [np.flatnonzero(whose == i) for i in range(items)]
    model.add_rows(np.ones(items), np.ones(items), *pack([(own, np.ones(len(own))) for own in mine]))
    if len(limit):
        taken = np.stack(used, axis=1)
        filled = [(np.flatnonzero(row), row[row != 0]) for row in taken]
        model.add_rows(np.full(len(limit), -INF), limit, *pack(filled))
    return model


def ground_prices(model: Model, items: int) -> Floats:
    """What a unit of each row of ground is worth where the mixture is best."""
    model.option("presolve", "off")  # takes three times as long as the few pivots it saves
    return np.maximum(-model.solve().duals[items:], 0.0)
