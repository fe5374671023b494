"""Sowings that are settled: their best areas, and dropping those that don't pay (planner.md, 8)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.ground import GroundRows, ground_rows
from evenpick.plan.model import CutModel, Point
from evenpick.plan.parts import Part, narrow, split
from evenpick.plan.request import Request
from evenpick.plan.solver import INF


@dataclass(frozen=True, slots=True)
class Exact:
    """A request with what is made from it once."""

    request: Request
    parts: Sequence[Part]
    rows: GroundRows

    @classmethod
    def of(cls, request: Request) -> Exact:
        return cls(request, split(request), ground_rows(request))

    def losses(self, x: Floats) -> Floats:
        """Exact loss of each item at areas x."""
        return np.array([float(part.losses.items(x[part.members])[0]) for part in self.parts])

    def cost(self, x: Floats) -> float:
        """Exact cost of areas x, every sowing's trouble in full."""
        c = self.request.candidates
        return float(self.losses(x).sum() + c.trouble @ (x > 0) + c.cost @ x)

    def fits(self, x: Floats) -> bool:
        """Whether areas keep to their bounds and to the ground (to 1e-6)."""
        c = self.request.candidates
        room = (self.rows.used(x) <= self.rows.limit + 1e-6).all()
        return bool(room and ((x == 0) | ((x >= c.least - 1e-6) & (x <= c.most + 1e-6))).all())


def best_areas(task: Exact, near: Floats, tolerance: float = 2e-3, rounds: int = 30) -> Floats:
    """The best areas for the sowings made in areas `near`; those the ground has no room for are left out.

    Cutting planes on the kept sowings alone, to a tolerance in shares of what is at stake. The first cuts
    are those at `near`.
    """
    made = near > 0
    while True:
        kept = np.flatnonzero(made)
        x = np.zeros(len(made))
        if not len(kept):
            return x
        x[kept], fitted = _areas(narrow(task.request, kept), near[kept], tolerance, rounds)
        if fitted:
            return x
        made = made.copy()
        made[kept[_least_used(task, kept, x)]] = False


def _least_used(task: Exact, kept: Ints, x: Floats) -> int:
    least = np.maximum(task.request.candidates.least[kept], 1e-12)
    return int(np.argmin(x[kept] / least))


def _areas(request: Request, near: Floats, tolerance: float, rounds: int) -> tuple[Floats, bool]:
    """Areas on every candidate of a narrowed request; False, with areas that crowd it, if they don't fit."""
    task, c = Exact.of(request), request.candidates
    model = CutModel(request, task.parts, task.rows)
    model.hold(np.ones(len(c), dtype=bool))
    if model.model.solve().x is None:
        return _crowded(model), False
    stake = sum(float(part.losses.all_lost[0]) for part in task.parts)
    best, best_x = INF, c.least
    model.refine(Point(near, np.ones(len(c))))
    for _ in range(rounds):
        answer = model.model.solve()
        point = model.point(answer)
        exact, _ = model.refine(point, 1e-3 * tolerance * stake, answer)
        value = exact + float(c.trouble.sum() + c.cost @ point.x)
        if value < best:
            best, best_x = value, point.x
        if best - answer.bound <= tolerance * stake:
            break
    return best_x, True


def _crowded(model: CutModel) -> Floats:
    """Areas that make the most of the sowings' least areas on ground too small for all of them."""
    cost = np.zeros(len(model.cost))
    cost[model.n : 2 * model.n] = -1.0
    model.hold(None)
    model.model.set_cost(cost)
    return model.point(model.model.solve()).x
