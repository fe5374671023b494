"""Whole sowings of some items by branch and bound on how many are made by each day (planner.md, 10): of an
item by itself at prices, or of all items of a small task on their ground."""

from __future__ import annotations

import heapq
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.branching import Gains
from evenpick.plan.ground import GroundRows
from evenpick.plan.kept import Exact
from evenpick.plan.model import CutModel
from evenpick.plan.parts import Part, Row
from evenpick.plan.price import SAME, Own
from evenpick.plan.request import Request
from evenpick.plan.solver import INF, Answer

ROUNDS = 3  # cutting rounds at a node
ENOUGH = 1e-3  # of the item's stake: rounds that gain less end a node
MOST_CUTS, KEPT = 400, 200  # past so many cuts those of most use are kept
FADE = 0.5  # what a cut's use counts for from then on
WHOLE = 1e-6  # a count of sowings this near to a whole number is one


@dataclass(frozen=True, slots=True)
class Whole:
    """Areas with their exact charged cost, and a bound on what any whole sowings cost."""

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
    """Branch and bound on parts at charges, on ground rows if there are any; its cuts hold at every node.

    Areas are in the whole request's order, nought for other items.
    """

    def __init__(
        self, request: Request, parts: Sequence[Part], rows: GroundRows | None, charge: Floats,
        first: Sequence[tuple[int, Row]], start: Floats, gap: float,
    ) -> None:
        self.request, self.parts, self.rows, self.charge = request, parts, rows, charge
        self.pace: Floats | None = None
        self.nodes_left = self.made_nodes = 0
        self.open: list[Node] | None = None
        self.gains = Gains()
        self.stake = sum(float(part.losses.all_lost[0]) for part in parts)
        self.slack = gap * self.stake
        self.x, self.value = np.zeros(len(start)), self._exact(np.zeros(len(start)))
        self.offer(start)
        self._build(first)
        self.use = np.zeros(len(first))
        """answers at which each cut had a price; cuts added since have none yet"""

    def _build(self, cuts: Sequence[tuple[int, Row]]) -> None:
        self.model = CutModel(self.request, self.parts, self.rows, self.pace)
        self.pace = self.model.pace
        self.model.set_charge(self.charge)
        c, members = self.request.candidates, self.model.members
        self.order: Ints = np.lexsort((c.day[members], c.item[members]))
        self.counts = self.model.count_sowings(self.order)
        self.model.add(cuts)

    def _thin(self) -> None:
        """Only the cuts of most use."""
        use = np.append(self.use, np.zeros(len(self.model.cuts) - len(self.use)))
        kept = np.sort(np.argsort(-use, kind="stable")[:KEPT])
        self._build([self.model.cuts[k] for k in kept])
        self.use = FADE * use[kept]

    def _count(self, answer: Answer) -> None:
        priced = self.model.priced(answer)
        self.use = np.append(self.use, np.zeros(len(priced) - len(self.use))) + priced

    def _exact(self, x: Floats) -> float:
        c = self.request.candidates
        losses = sum(float(part.losses.items(x[part.members])[0]) for part in self.parts)
        return losses + float(c.trouble @ (x > 0) + (c.cost + self.charge) @ x)

    def offer(self, x: Floats) -> None:
        value = self._exact(x)
        if value < self.value:
            self.x, self.value = x, value

    def run(self, nodes: int) -> Whole:
        """So many nodes further."""
        self.nodes_left = nodes
        if self.open is None:
            n = len(self.order)
            root = self._node(-INF, np.zeros(n), np.full(n, float(n)))
            self.open = [] if root is None else [root]
        while self.open and self.nodes_left > 0 and self.open[0].bound < self.value - self.slack:
            for node in self._children(heapq.heappop(self.open)):
                heapq.heappush(self.open, node)
        # what was cut off is no better than `value` less the slack it was cut off with
        floor = self.open[0].bound if self.open else self.value
        return Whole(self.x, self.value, min(floor, self.value - self.slack))

    def _children(self, node: Node) -> list[Node]:
        rest = node.counts - np.floor(node.counts + WHOLE)
        part = np.minimum(rest, 1.0 - rest) > WHOLE
        if not part.any():  # whole, and still short of its exact cost: cut on
            again = self._node(node.bound, node.lower, node.upper)
            return [] if again is None else [again]
        k = self.gains.most_promising(rest, part)
        below = np.floor(node.counts[k] + WHOLE)
        upper, lower = node.upper.copy(), node.lower.copy()
        upper[: k + 1] = np.minimum(upper[: k + 1], below)
        lower[k:] = np.maximum(lower[k:], below + 1.0)
        both = self._node(node.bound, node.lower, upper), self._node(node.bound, lower, node.upper)
        closed = self.value - self.slack
        fewer, more = (max((child.bound if child else closed) - node.bound, 0.0) for child in both)
        self.gains.learn(k, fewer / float(rest[k]), more / float(1.0 - rest[k]))
        return [child for child in both if child is not None]

    def _node(self, bound: float, lower: Floats, upper: Floats) -> Node | None:
        """A node cut to the end of its rounds; None if nothing in it betters the best by the slack."""
        self.nodes_left -= 1
        self.made_nodes += 1
        if len(self.model.cuts) > MOST_CUTS:
            self._thin()
        self.model.model.set_some_bounds(self.counts, lower, upper)
        counts = lower
        for _ in range(ROUNDS):
            answer = self.model.model.solve()
            if answer.x is None or answer.bound >= self.value - self.slack:
                return None
            self._count(answer)
            counts, gained, bound = answer.x[self.counts], answer.bound - bound, max(bound, answer.bound)
            if not self._cut(answer) or gained < ENOUGH * self.stake:
                break
        return Node(bound, self.made_nodes, counts, lower, upper)

    def _cut(self, answer: Answer) -> bool:
        """Cuts at an answer; whether it was cut off by more than the slack. Whole answers are offered."""
        c, point = self.request.candidates, self.model.point(answer)
        _, loss = self.model.refine(point, SAME * self.stake, answer)
        if np.all(np.minimum(point.z, 1.0 - point.z) <= WHOLE):
            self.offer(np.where(point.z > 0.5, point.x, 0.0))
        cost = loss + float(c.trouble @ point.z + (c.cost + self.charge) @ point.x)
        return cost > answer.bound + 0.5 * self.slack


def own_tree(own: Own, charge: Floats, start: Floats, gap: float, fine: float) -> Tree:
    """Branch and bound for one item at charges from areas `start` of its members, to a gap (share of its
    stake); its relaxation is brought to `fine` (kg-equivalents) of its end first."""
    own.relax(charge, fine, 20)
    priced = own.model.priced(own.model.model.solve())
    first = [own.model.cuts[k] for k in np.flatnonzero(priced)]
    return Tree(own.request, [own.part], None, charge, first, spread(own, start), gap)


def spread(own: Own, areas: Floats) -> Floats:
    """Areas of an item's members as areas of the whole request."""
    x = np.zeros(len(own.request.candidates))
    x[own.part.members] = areas
    return x


def all_whole(task: Exact, start: Floats, nodes: int, gap: float) -> Whole:
    """Branch and bound for all items at once on their ground; for small tasks."""
    free = np.zeros(len(start))
    return Tree(task.request, task.parts, task.rows, free, [], start, gap).run(nodes)
