"""Items' own integer problems: at prices for the proof, on the ground the others leave for better plans
(planner.md, 9 and 10)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.model import CutModel
from evenpick.plan.parts import Row
from evenpick.plan.price import SAME, Own
from evenpick.plan.solver import INF


@dataclass(frozen=True, slots=True)
class Whole:
    """Areas of one item with their exact charged cost, and a bound on what any whole sowings cost."""

    x: Floats
    value: float
    bound: float


def own_whole(own: Own, charge: Floats, nodes: int, rounds: int, gap: float, seconds: float) -> Whole:
    """Branch and bound with cuts for one item at charges: cuts are added at each answer until they agree.

    Valid for any limit: each round's bound stands, and the value is exact.
    """
    request, part = own.request, own.part
    c = request.candidates
    own.relax(charge, 0.005, 6)
    answer = own.model.model.solve()
    rows: list[Row] = own.model.binding(answer)[0]
    best, best_x, bound = INF, np.zeros(len(c)), answer.bound
    for _ in range(rounds):
        model = CutModel(request, [part])
        model.set_charge(charge)
        model.add(0, rows)
        model.model.set_integer(model.n + np.arange(model.n))
        found = model.model.solve_integer(nodes, gap, seconds)
        bound = max(bound, found.bound)
        if found.x is None:
            break
        point = model.point(found)
        made = (point.z > 0.5).astype(np.float64)
        loss, _, more = part.cut((point.x * made)[part.members], made[part.members])
        x = point.x * made
        value = loss + float(c.trouble @ (x > 0) + (c.cost + charge) @ x)
        if value < best:
            best, best_x = value, x
        if best - bound <= gap * abs(best) or value - found.value <= SAME * own.nothing:
            break
        rows = rows + more
        own.model.add(0, more)
    return Whole(best_x, best, bound)
