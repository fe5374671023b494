"""Which items' trees get nodes: those that close most of the whole gap for the work (planner.md, 10)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints

NODE = 1.4  # a node's work grows with this power of an item's candidates: measured, 10 to 270 of them
PRIOR, HALVED = 0.06, 2.5  # of its gap closed by a node for an item of no sowings; halved by so many more
ROUND = 20_000.0  # work of a round in each half
MOST, LEAST, FIRST = 24, 6, 16  # nodes an item gets at once; the first few close little by themselves
WORTH = 0.05  # of the best rate: below it no nodes are given
TRIED = 0.5  # of a round's work: what an item's first nodes may take
CLOSED = 2e-5  # of the whole stake: an item's gap that is left as it is


@dataclass(slots=True)
class Nodes:
    """Items' gaps (kg-equivalents), `size` their candidates, `sown` the sowings they make at their best.

    Nodes are dealt to two fixed halves of the items alike, because two processes work on them; how many there
    are changes nothing.
    """

    halves: Sequence[Sequence[int]]
    size: Ints
    gap: Floats
    sown: Ints
    stake: float
    rate: Floats = field(init=False)
    """gap closed for a unit of work"""
    tried: Bools = field(init=False)
    """whether it had nodes"""
    work: Floats = field(init=False)
    """of a node"""

    def __post_init__(self) -> None:
        self.tried = np.zeros(len(self.size), dtype=np.bool_)
        self.work = np.maximum(self.size, 1.0) ** NODE
        self.rate = PRIOR * 0.5 ** (self.sown / HALVED) * self.gap / self.work

    def deal(self) -> Ints:
        """Nodes for every item in the next round; all nought when nothing is worth it."""
        nodes = np.zeros(len(self.gap), dtype=np.int64)
        open_to = self.gap > CLOSED * self.stake
        open_to &= self.rate >= WORTH * self.rate[open_to].max(initial=0.0)
        least = np.where(self.tried, LEAST, np.clip(TRIED * ROUND / self.work, LEAST, FIRST))
        for half in self.halves:
            left = ROUND
            for i in sorted(half, key=lambda i: (-self.rate[i], i)):
                if left <= 0 or not open_to[i]:
                    continue
                nodes[i] = int(np.clip(left / self.work[i], least[i], MOST))
                left -= nodes[i] * self.work[i]
        self.tried |= nodes > 0
        return nodes

    def learn(self, item: int, nodes: int, gap: float) -> None:
        """What the item's gap is after so many nodes more."""
        if nodes > 1:
            closed = max(self.gap[item] - gap, 0.0) / (nodes * self.work[item])
            self.rate[item] = 0.5 * (self.rate[item] + closed)
        self.gap[item] = gap
