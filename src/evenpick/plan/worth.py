"""What a little more of each row would bring, the sowings being what they are (docs/design/season.md, 15)."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.kept import Exact
from evenpick.plan.model import CutModel, Point
from evenpick.plan.parts import narrow
from evenpick.plan.request import Request

TOLERANCE = 5e-4  # of what is at stake: how near to the best areas the prices are taken
ROUNDS = 40
MORE = 1.0  # m² by which a sowing may be larger than it is offered: a unit more is asked about


@dataclass(frozen=True, slots=True)
class Worth:
    """Shapes (rows, weeks): `price`, saved cost by a unit more of a row in a week, and `used`, what the areas
    take of it."""

    price: Floats
    used: Floats


def worth(request: Request, areas: Floats) -> Worth:
    """Prices from the linear programme in the areas of the sowings made; nought where no row can bind.

    A price by itself is worth little, for weeks stand in for each other; sums over a season or a year are
    what one more metre would bring while the sowings stay as many as they are.
    """
    limit = request.grounds.limit
    price = np.zeros(limit.size)
    kept = np.flatnonzero(areas > 0)
    if kept.size:
        keys, prices = _prices(_roomy(narrow(request, kept)), areas[kept])
        price[keys] = prices
    return Worth(price.reshape(limit.shape), request.grounds.used(areas))


def _roomy(request: Request) -> Request:
    """No sowing is offered larger than its ground, or than all that is wanted. Here rows alone are to hold
    it: one that fills its ground would hide that there is too little, and what nobody wants has no worth."""
    c = request.candidates
    return replace(request, candidates=replace(c, most=c.most + MORE))


def _prices(request: Request, near: Floats) -> tuple[np.ndarray[tuple[int], np.dtype[np.int64]], Floats]:
    """Which rows (row·weeks + week) can bind and their prices at the best areas."""
    task, c = Exact.of(request), request.candidates
    model = CutModel(request, task.parts, task.rows)
    model.hold(np.ones(len(c), dtype=bool))
    stake = sum(float(part.losses.all_lost[0]) for part in task.parts)
    model.refine(Point(near, np.ones(len(c))))
    answer, best = model.model.solve(), np.inf
    for _ in range(ROUNDS):
        if answer.x is None:  # rounded amounts may crowd a row by a hair
            return np.zeros(0, dtype=np.int64), np.zeros(0)
        point = model.point(answer)
        exact, _ = model.refine(point, 1e-3 * TOLERANCE * stake, answer)
        best = min(best, exact + float(c.trouble.sum() + c.cost @ point.x))
        if best - answer.bound <= TOLERANCE * stake:
            break
        answer = model.model.solve()
    return task.rows.key, model.prices(answer)
