"""The relaxation by prices: every item answers for itself what it would sow at prices on the ground, and
a small programme over the answers sets the prices anew (planner.md, 7)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.ground import GroundRows
from evenpick.plan.mixture import ground_prices, mixture
from evenpick.plan.model import CutModel, Point
from evenpick.plan.parts import Part
from evenpick.plan.request import Request
from evenpick.plan.search import Likely
from evenpick.plan.solver import INF

MOST_CUTS = 250  # an item's model is cleared of slack cuts past this
INERTIA = 0.9  # cuts are made at a running mean of the answers, which keeps them from leaping about
SPREAD = (8.0, 15.0, 29.0, 57.0)  # days round the sowings of a plan about which cuts are first made
SAME = 1e-5  # of an item's stake: cuts that add less are left out
KEEP = 0.8  # share of the best prices in the next ones tried


@dataclass(frozen=True, slots=True)
class Reply:
    """An item's answer at prices: a bound on its charged cost, and the areas it went through (its members')
    with their costs before charges, in the relaxed sense: a sowing made in part has its trouble in part."""

    bound: float
    areas: list[Floats]
    costs: list[float]


class Own:
    """One item's relaxed problem, kept warm between prices."""

    def __init__(self, request: Request, part: Part) -> None:
        self.request, self.part = request, part
        self.nothing = float(part.losses.all_lost[0])
        self.model = CutModel(request, [part])
        zero = np.zeros(len(request.candidates))
        self.centre = Point(zero, zero)
        self.model.refine(self.centre)
        self.seed: Floats | None = np.zeros(part.size)
        """the newest plan until the first relaxation begins about it"""

    def note(self, areas: Floats) -> None:
        """Cuts at a plan of whole sowings (areas of the item's members)."""
        if self.seed is not None:
            self.seed = areas
        self.model.refine(self._point(areas, (areas > 0).astype(np.float64)))

    def _begin(self, areas: Floats) -> None:
        """Cuts where each sowing of a plan is shared among all that could be made within some days of it:
        nearly every candidate has been made once then, in about the area it will be."""
        c, mine, made = self.request.candidates, self.part.members, np.flatnonzero(areas > 0)
        for days in SPREAD if made.size else ():
            share = np.maximum(1.0 - np.abs(c.day[mine, None] - c.day[mine[made]]) / days, 0.0)
            share /= share.sum(axis=0)
            z = share.sum(axis=1)
            pace = np.clip(share @ areas[made] / np.maximum(z, 1e-9), c.least[mine], c.most[mine])
            z = np.minimum(z, 1.0)
            self.centre = self._point(z * pace, z)
            self.model.refine(self.centre)

    def _point(self, x: Floats, z: Floats) -> Point:
        """Of the item's members, as one of the whole request."""
        point = Point(*np.zeros((2, len(self.request.candidates))))
        point.x[self.part.members], point.z[self.part.members] = x, z
        return point

    def likely(self) -> Likely:
        """What the relaxation makes of each of the item's candidates."""
        mine = self.part.members
        return Likely(self.centre.z[mine], self.model.pace[mine])

    def relax(self, charge: Floats, tolerance: float, rounds: int) -> Reply:
        """Cutting planes until they can gain `tolerance` (kg-equivalents) at most, or for some rounds."""
        c = self.request.candidates
        self.model.set_charge(charge)
        if self.seed is not None:
            self._begin(self.seed)
            self.seed = None
        least, reply = INF, Reply(-INF, [], [])
        for _ in range(rounds):
            answer = self.model.model.solve()
            if len(self.model.cuts) > MOST_CUTS:
                self.model.clear()
            point = self._moved(self.model.point(answer))
            _, bound = self.model.refine(point, SAME * self.nothing, answer)
            cost = bound + float(c.trouble @ point.z + c.cost @ point.x)
            least = min(least, cost + float(charge @ point.x))
            own = point.x[self.part.members]
            reply = Reply(answer.bound, [*reply.areas, own], [*reply.costs, cost])
            if least - answer.bound <= tolerance:
                break
        return reply

    def _moved(self, to: Point) -> Point:
        """The running mean after one more answer."""
        mean, rest = self.centre, 1.0 - INERTIA
        self.centre = Point(INERTIA * mean.x + rest * to.x, INERTIA * mean.z + rest * to.z)
        return self.centre


@dataclass(frozen=True, slots=True)
class Column:
    """An item's answer as the price programme sees it."""

    item: int
    cost: float
    used: Floats


class Prices:
    """Prices on ground rows and the bound they prove; refined answer by answer.

    `ask` puts (charge, tolerance, rounds) to every item and gives their replies in order.
    """

    def __init__(
        self, request: Request, parts: Sequence[Part], rows: GroundRows,
        ask: Callable[[Floats, float, int], list[Reply]],
    ) -> None:
        self.request, self.parts, self.rows, self.ask = request, parts, rows, ask
        self.best = self.trial = np.zeros(len(rows.limit))
        self.bound, self.steps = -INF, 0
        self.own = np.zeros(len(parts))
        """what bounds each item's charged cost at the best prices"""
        self.columns = [
            Column(i, float(part.losses.all_lost[0]), np.zeros(len(rows.limit)))
            for i, part in enumerate(parts)
        ]

    def charge(self, prices: Floats) -> Floats:
        return self.rows.charge(prices, len(self.request.candidates))

    def step(self, tolerance: float, rounds: int) -> None:
        """Ask every item at the trial prices, then set the next ones."""
        replies = self.ask(self.charge(self.trial), tolerance, rounds)
        bound = sum(reply.bound for reply in replies) - float(self.trial @ self.rows.limit)
        if bound > self.bound:
            self.bound, self.best = bound, self.trial
            self.own = np.array([reply.bound for reply in replies])
        self.steps += 1
        self.learn(replies)

    def learn(self, replies: Sequence[Reply | None]) -> None:
        """Take in answers (None: not asked); the next prices lie between the best and those of all answers'
        mixture."""
        self.columns += [
            Column(i, cost, self._used(i, areas))
            for i, reply in enumerate(replies) if reply is not None
            for cost, areas in zip(reply.costs, reply.areas, strict=True)
        ]
        keep = KEEP if self.steps else 0.0
        self.trial = keep * self.best + (1.0 - keep) * self._programme()

    def _used(self, item: int, areas: Floats) -> Floats:
        x = np.zeros(len(self.request.candidates))
        x[self.parts[item].members] = areas
        return self.rows.used(x)

    def _programme(self) -> Floats:
        """The ground's prices where the answers so far are mixed at their best."""
        owner, cost, used = ([getattr(c, name) for c in self.columns] for name in ("item", "cost", "used"))
        items = len(self.parts)
        model = mixture(items, owner, cost, used, self.rows.limit, INF, self.request.seed)
        return ground_prices(model, items)
