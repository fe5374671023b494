"""Where a tree branches: at the count of sowings whose two sides promise most, by what branching thereabouts
gained before (planner.md, 10)."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from evenpick.base.arrays import Bools, Floats

REACH = 4.0  # counts over which the weight of what branching gained falls by a factor of e
BEFORE = 1.0  # weight, in branchings, of the mean of all of them at every count


@dataclass(slots=True)
class Gains:
    """What the bound rose by at each branching, on the sides of fewer and of more sowings, for each sowing
    that the count was moved."""

    at: list[int] = field(default_factory=list)
    fewer: list[float] = field(default_factory=list)
    more: list[float] = field(default_factory=list)

    def learn(self, count: int, fewer: float, more: float) -> None:
        self.at.append(count)
        self.fewer.append(fewer)
        self.more.append(more)

    def likely(self, counts: int) -> list[Floats]:
        """What each count's two sides promise, (counts,) each; all alike until something was gained."""
        near = np.exp(-np.abs(np.arange(counts)[:, None] - np.array(self.at)) / REACH)
        weight = near.sum(axis=1) + BEFORE
        return [
            np.asarray((near @ gained + BEFORE * gained.mean()) / weight) if gained.any() else np.ones(counts)
            for gained in (np.array(self.fewer), np.array(self.more))
        ]

    def most_promising(self, rest: Floats, open_to: Bools) -> int:
        """The count, of those open to it, with the largest product of what its two sides promise, each moved
        by its part of a sowing (`rest`, and what it lacks of one): a bound rises with the lower side, and the
        higher side is work saved."""
        fewer, more = self.likely(len(rest))
        return int(np.argmax(np.where(open_to, fewer * rest * (more * (1.0 - rest)), -1.0)))
