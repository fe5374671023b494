"""An item's own whole sowings at prices: branch and bound on how many sowings are made by each day
(planner.md, 10). Its bounds, added up, are the proof; its sowings are columns of the choice."""

from __future__ import annotations

import heapq
from dataclasses import dataclass, field

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.model import CutModel
from evenpick.plan.parts import Row
from evenpick.plan.price import SAME, Own
from evenpick.plan.solver import INF, Answer

ROUNDS = 3  # cutting rounds at a node
ENOUGH = 1e-3  # of the item's stake: rounds that gain less end a node
MOST_CUTS = 600
WHOLE = 1e-6  # a count of sowings this near to a whole number is one


@dataclass(frozen=True, slots=True)
class Whole:
    """Areas of one item (its members) with their exact charged cost, and a bound on any whole sowings'."""

    x: Floats
    value: float
    bound: float


@dataclass(order=True, slots=True)
class Node:
    """Limits on the number of sowings made up to each day, in the order of days."""

    bound: float
    number: int
    counts: Floats = field(compare=False)
    lower: Floats = field(compare=False)
    upper: Floats = field(compare=False)


class Tree:
    """Branch and bound on one item at charges; its cuts hold at every node."""

    def __init__(self, own: Own, charge: Floats, start: Floats, nodes: int, gap: float) -> None:
        self.own, self.charge, self.nodes_left = own, charge, nodes
        c = own.part.losses.request.candidates
        self.trouble, self.per_m2 = c.trouble, (own.request.candidates.cost + charge)[own.part.members]
        self.order: Ints = np.argsort(c.day, kind="stable")
        self.slack, self.made_nodes = gap * own.nothing, 0
        self.x, self.value = np.zeros(len(c)), self._exact(np.zeros(len(c)))
        self._offer(start)
        own.relax(charge, 0.002, 12)
        self.first = own.model.binding(own.model.model.solve())[0]
        self._build(self.first)

    def _build(self, rows: list[Row]) -> None:
        self.model = CutModel(self.own.request, [self.own.part])
        self.model.set_charge(self.charge)
        self.model.add(0, rows)
        self.counts = self.model.count_sowings(self.order)

    def _exact(self, x: Floats) -> float:
        return float(self.own.part.losses.items(x)[0] + self.trouble @ (x > 0) + self.per_m2 @ x)

    def _offer(self, x: Floats) -> None:
        value = self._exact(x)
        if value < self.value:
            self.x, self.value = x, value

    def run(self) -> Whole:
        n = len(self.order)
        root = self._node(-INF, np.zeros(n), np.full(n, float(n)))
        open_nodes = [] if root is None else [root]
        while open_nodes and self.nodes_left > 0 and open_nodes[0].bound < self.value - self.slack:
            for node in self._children(heapq.heappop(open_nodes)):
                heapq.heappush(open_nodes, node)
        # what was cut off is no better than `value` less the slack it was cut off with
        floor = self.value if not open_nodes else open_nodes[0].bound
        return Whole(self.x, self.value, min(floor, self.value - self.slack))

    def _children(self, node: Node) -> list[Node]:
        rest = node.counts - np.floor(node.counts + WHOLE)
        k = int(np.argmax(np.minimum(rest, 1.0 - rest)))
        if min(rest[k], 1.0 - rest[k]) <= WHOLE:  # whole, and still short of its exact cost: cut on
            again = self._node(node.bound, node.lower, node.upper)
            return [] if again is None else [again]
        below = np.floor(node.counts[k] + WHOLE)
        upper, lower = node.upper.copy(), node.lower.copy()
        upper[: k + 1] = np.minimum(upper[: k + 1], below)
        lower[k:] = np.maximum(lower[k:], below + 1.0)
        sides = ((node.lower, upper), (lower, node.upper))
        return [child for side in sides if (child := self._node(node.bound, *side)) is not None]

    def _node(self, bound: float, lower: Floats, upper: Floats) -> Node | None:
        """A node cut to the end of its rounds; None if nothing in it betters the best by the slack."""
        self.nodes_left -= 1
        self.made_nodes += 1
        if len(self.model.cuts) > MOST_CUTS:
            self._build(self.first)
        self.model.model.set_some_bounds(self.counts, lower, upper)
        counts = lower
        for _ in range(ROUNDS):
            answer = self.model.model.solve()
            if answer.x is None or answer.bound >= self.value - self.slack:
                return None
            counts, gained, bound = answer.x[self.counts], answer.bound - bound, max(bound, answer.bound)
            if not self._cut(answer) or gained < ENOUGH * self.own.nothing:
                break
        return Node(bound, self.made_nodes, counts, lower, upper)

    def _cut(self, answer: Answer) -> bool:
        """Cuts at an answer; whether it was cut off by more than the slack. Whole answers are offered."""
        point, members = self.model.point(answer), self.own.part.members
        x, z = point.x[members], point.z[members]
        _, loss = self.model.refine(point, SAME * self.own.nothing, answer)
        if np.all(np.minimum(z, 1.0 - z) <= WHOLE):
            self._offer(np.where(z > 0.5, x, 0.0))
        return loss + float(self.trouble @ z + self.per_m2 @ x) > answer.bound + 0.5 * self.slack


def own_whole(own: Own, charge: Floats, start: Floats, nodes: int, gap: float) -> Whole:
    """Branch and bound for one item at charges from areas `start`, to a gap (share of its stake) or for a
    number of nodes; the bound holds in every case, and the value is exact."""
    if not own.part.size:
        return Whole(start, own.nothing, own.nothing)
    return Tree(own, charge, start, nodes, gap).run()
