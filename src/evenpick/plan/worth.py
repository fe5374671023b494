"""What a little more of each row would bring, the sowings being what they are (docs/design/season.md, 15)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.ground import more_room
from evenpick.plan.kept import Exact
from evenpick.plan.model import CutModel, Point
from evenpick.plan.parts import narrow
from evenpick.plan.request import Request
from evenpick.plan.solver import Answer

TOLERANCE = 1e-4  # of what is at stake: how near to the best areas the prices are taken
NEAR, LEAST = 0.05, 1e-5  # the same with more of a row: of what that saves, and of what is at stake
ROUNDS = 40
MORE = 1.0  # m² by which a sowing may be larger than it is offered: a unit more is asked about


class Worth:
    """The sowings made, at their best areas. `price`, saved cost by a unit more of a row in a week, and
    `used`, what the areas take of it: (rows, weeks) both.

    A price holds for the first crumb: the next thing binds soon after, at once where a week has little of the
    row. What a whole unit brings is found by settling the areas again with it.
    """

    def __init__(self, request: Request, areas: Floats) -> None:
        limit = request.grounds.limit
        self.used = request.grounds.used(areas)
        self.price = np.zeros(limit.shape)
        kept = np.flatnonzero(areas > 0)
        self.settled = _Settled(_roomy(narrow(request, kept)), areas[kept]) if kept.size else None
        if self.settled is not None:
            self.price.reshape(-1)[self.settled.rows.key] = self.settled.prices

    def brought(self, row: int, more: Floats, least: float = 0.0) -> float:
        """Cost saved by so much more of a row in each week, (weeks,); never more than its prices promise, and
        nought where these promise no more than the `least`."""
        promised = float(self.price[row] @ more)
        if self.settled is None or promised <= least:
            return 0.0
        return min(promised, self.settled.saved(row, more))


def _roomy(request: Request) -> Request:
    """No sowing is offered larger than its ground, or than all that is wanted. Here rows alone are to hold
    it: one that fills its ground would hide that there is too little, and what nobody wants has no worth."""
    c = request.candidates
    return replace(request, candidates=replace(c, most=c.most + MORE))


class _Settled:
    """The programme in the areas, whose cuts hold on any ground: settled once, then with more of it."""

    def __init__(self, request: Request, near: Floats) -> None:
        task = Exact.of(request)
        self.request, self.rows = request, task.rows
        self.model = CutModel(request, task.parts, task.rows)
        self.model.hold(np.ones(len(request.candidates), dtype=bool))
        self.model.refine(Point(near, np.ones(len(request.candidates))))
        stake = sum(float(part.losses.all_lost[0]) for part in task.parts)
        self.least, self.cost = LEAST * stake, np.inf
        self.cost, answer = self._settle(TOLERANCE * stake)
        crowded = answer.x is None  # rounded amounts may crowd a row by a hair
        self.prices = np.zeros(len(task.rows.limit)) if crowded else self.model.prices(answer)

    def saved(self, row: int, more: Floats) -> float:
        """What the best areas cost less with so much more of a row in each week."""
        limit = self.request.grounds.limit.copy()
        limit[row] += more
        self.model.set_ground(more_room(self.request, self.rows, limit))
        cost, _ = self._settle(self.least, NEAR)
        self.model.set_ground(self.rows.limit)
        return max(0.0, self.cost - cost)

    def _settle(self, near: float, of_saved: float = 0.0) -> tuple[float, Answer]:
        """The cost of the best areas, to within `near` or a share of what is saved, and the last answer."""
        c, best = self.request.candidates, np.inf
        answer = self.model.model.solve()
        for _ in range(ROUNDS):
            if answer.x is None:
                break
            point = self.model.point(answer)
            exact, _ = self.model.refine(point, 0.01 * self.least, answer)
            best = min(best, exact + float(c.trouble.sum() + c.cost @ point.x))
            if best - answer.bound <= max(near, of_saved * (self.cost - best) if of_saved else 0.0):
                break
            answer = self.model.model.solve()
        return float(best), answer
