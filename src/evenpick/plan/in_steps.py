"""A plan in whole steps bettered by a step more here and a step less there (planner.md, 12).

Areas are best before they are brought to half metres and whole plants (`amounts`); where a garden is small a
step is much, and the nearest one of each sowing is not the best of all together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.kept import Exact
from evenpick.plan.least import at_least_whole
from evenpick.plan.moves import Moves
from evenpick.plan.request import Request
from evenpick.plan.search import Room, part_cost, room_at_prices, weighed
from evenpick.plan.settled import Settled

GAIN = 1e-5  # of what is at stake: smaller betterments end it
WANTED = 40  # of the steps there is no room for, by what they would gain: as many look for room
TRIES = 3  # changes found not to pay in vain before it ends: two of one item may not gain their sum
ROOM = 1e-9  # m²
FEW = 1200  # candidates: among so many one more sowing is looked for too
REFILLS = 150  # sowings left out, in vain or not, before it ends


def each_a_step(request: Request, steps: Floats) -> bool:
    """Whether a single step of each sowing, m², may be made: where all goes by whole pots."""
    return bool((request.candidates.least <= steps + ROOM).all())


@dataclass(frozen=True, slots=True)
class Change:
    """Areas of one or two sowings made another, and what that costs, the two taken each for itself."""

    cost: float
    by: tuple[tuple[int, float], ...]
    """candidate and m²"""


def bettered(
    task: Exact, areas: Floats, steps: Floats, most: Floats | None = None, refill: bool = False,
    settled: Settled | None = None,
) -> Floats:
    """Areas at least as good as `areas`, whose sowings keep to the ground, their bounds and whole `steps`;
    where candidates are few a sowing may be added. None grows past `most`. m² per candidate, (n,) each. With
    `refill`, where all goes by whole pots, what stands in one may give way to others: some seconds. What is
    `settled` is made another where that is worth its charge too."""
    if not (areas > 0).any():
        return areas
    limit = task.request.candidates.most if most is None else most
    return _Steps(task, areas.copy(), steps, limit, settled).run(refill)


@dataclass(slots=True)
class _Steps:
    """`cost` of each item as it stands; `alone` is what each sowing's step less and step more cost and by how
    many m² they go, (2, n) each, infinite where there is no such step; whether one may be added is `adds`."""

    task: Exact
    x: Floats
    steps: Floats
    most: Floats
    settled: Settled | None
    adds: bool = field(init=False)
    first: Floats = field(init=False)
    """the least of each sowing in whole steps, m²"""
    rooms: list[Room] = field(init=False)
    of: Ints = field(init=False)
    cost: Floats = field(init=False)
    alone: Floats = field(init=False)
    by: Floats = field(init=False)
    taken: Floats = field(init=False)
    """of each row by a square metre of each candidate made, (rows, n)"""

    def __post_init__(self) -> None:
        n, rows = len(self.x), self.task.rows
        self.adds = n <= FEW
        least = self.task.request.candidates.least
        self.first = np.array([at_least_whole(*each) for each in zip(least, self.steps, strict=True)])
        self.rooms = [replace(room_at_prices(part, self.task.request.candidates.cost),
                              settled=self.settled and self.settled.of(part.members))
                      for part in self.task.parts]
        self.of = np.zeros(n, dtype=np.int64)
        for item, part in enumerate(self.task.parts):
            self.of[part.members] = item
        self.cost = np.array([self._item(item, self.x) for item in range(len(self.task.parts))])
        self.alone, self.by = np.full((2, n), np.inf), np.zeros((2, n))
        self.taken = np.zeros((len(rows.limit), n))
        made = (self.x[rows.candidate] > 0) | self.adds
        np.add.at(self.taken, (rows.row[made], rows.candidate[made]), rows.coefficient[made])
        for item in range(len(self.cost)):
            self._weigh(item)

    def run(self, refill: bool) -> Floats:
        least = GAIN * self.task.cost(np.zeros(len(self.x)))
        self._climb(least)
        if refill and self.adds and each_a_step(self.task.request, self.steps):
            self._refill(least)
        return self.x

    def _climb(self, least: float) -> None:
        while (better := self._better(least)) is not None:
            self._make(better)

    def _refill(self, least: float) -> None:
        """Where all goes by whole pots: sowings left out in turn and their ground filled with others, where
        that pays; until none does."""
        tried, tries = 0, REFILLS
        while tried < (made := np.flatnonzero(self.x > 0)).size and tries:
            k, tries = int(made[tries % made.size]), tries - 1
            tried = 0 if self._without(k, least) else tried + 1

    def _without(self, k: int, least: float) -> bool:
        """Whether others in a sowing's place are better; all is as it was where they are not."""
        before = self.x, self.most, self.cost.copy(), self.alone.copy(), self.by.copy()
        self.most = self.most.copy()
        self.most[k] = 0.0
        self._make(Change(0.0, ((k, -float(self.x[k])),)))
        self._climb(least)
        if better := float(self.cost.sum()) < float(before[2].sum()) - least:
            self.most = before[1]
            self._weigh(int(self.of[k]))
        else:
            self.x, self.most, self.cost, self.alone, self.by = before
        return better

    def _item(self, item: int, x: Floats) -> float:
        part = self.task.parts[item]
        return part_cost(part, self.rooms[item], x[part.members])

    def _weigh(self, item: int) -> None:
        """What a step of each of an item's sowings costs now: of those made exactly, of the many that may be
        added by the queue that descents go by."""
        members = self.task.parts[item].members
        self.alone[:, members], self.by[:, members] = np.inf, 0.0
        for j in members[self.x[members] > 0]:
            for more, to in self._stepped(j):
                if to <= max(self.most[j], self.x[j]) + ROOM:
                    self.by[more, j] = to - self.x[j]
                    after = self._after(((j, self.by[more, j]),))
                    self.alone[more, j] = self._item(item, after) - self.cost[item]
        if self.adds:
            self._weigh_added(item)

    def _weigh_added(self, item: int) -> None:
        """What each of an item's sowings costs that is not made, if the first of it were, m²."""
        part = self.task.parts[item]
        x, first = self.x[part.members], self.first[part.members]
        new = np.flatnonzero((x == 0) & (first <= self.most[part.members] + ROOM))
        if new.size:
            at = np.append(new, new[0])  # the last changes nothing: the queue's own cost of what is made
            more = np.append(first[new], 0.0)
            costs, _ = weighed(part, self.rooms[item], x, Moves(at, more, at, np.zeros(at.size)))
            self.by[1, part.members[new]] = first[new]
            self.alone[1, part.members[new]] = costs[:-1] - costs[-1]

    def _stepped(self, j: int) -> Iterator[tuple[int, float]]:
        """What a sowing that is made comes to with a step less (0) and a step more (1)."""
        least, step = float(self.task.request.candidates.least[j]), float(self.steps[j])
        for more, sign in enumerate((-1.0, 1.0)):
            to = float(self.x[j]) + sign * step
            yield more, to if to >= least - ROOM else 0.0

    def _after(self, by: tuple[tuple[int, float], ...]) -> Floats:
        x = self.x.copy()
        for j, area in by:
            x[j] += area
            x[j] = x[j] if x[j] > ROOM else 0.0
        return x

    def _better(self, least: float) -> Change | None:
        """The change that gains the most, by its exact cost."""
        for change in sorted(self._changes(least), key=lambda each: each.cost)[:TRIES]:
            if self._exactly(change) < -least:
                return change
        return None

    def _exactly(self, change: Change) -> float:
        after = self._after(change.by)
        return sum(self._item(item, after) - float(self.cost[item]) for item in self._items(change))

    def _items(self, change: Change) -> set[int]:
        return {int(self.of[j]) for j, _ in change.by}

    def _changes(self, least: float) -> Iterator[Change]:
        """Steps that pay and for which there is room, and those that pay with one less elsewhere."""
        free = self.task.rows.limit - self.task.rows.used(self.x) + ROOM
        crowded: list[tuple[float, int]] = []
        for more, j in zip(*np.nonzero(self.alone < -least), strict=True):
            cost, by = float(self.alone[more, j]), float(self.by[more, j])
            if (self.taken[:, j] * by <= free).all():
                yield Change(cost, ((int(j), by),))
            else:
                crowded.append((cost, int(j)))
        for cost, j in sorted(crowded)[:WANTED]:
            yield from self._with_one_less(cost, j, free, least)

    def _with_one_less(self, cost: float, j: int, free: Floats, least: float) -> Iterator[Change]:
        """A step more of a sowing in the room of one less of another."""
        by, less = float(self.by[1, j]), self.by[0]
        paying = np.flatnonzero((cost + self.alone[0] < -least) & (np.arange(len(less)) != j))
        wanting = self.taken[:, j] * by
        room = (self.taken[:, paying] * less[paying] + wanting[:, None] <= free[:, None]).all(axis=0)
        for k in paying[room]:
            yield Change(cost + float(self.alone[0, k]), ((j, by), (int(k), float(less[k]))))

    def _make(self, change: Change) -> None:
        self.x = self._after(change.by)
        for item in self._items(change):
            self.cost[item] = self._item(item, self.x)
            self._weigh(item)
