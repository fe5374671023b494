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
    """What the bound of one side rose by at each branching, for each sowing that the count was moved."""

    at: list[int] = field(default_factory=list)
    gained: list[float] = field(default_factory=list)

    def learn(self, count: int, gained: float) -> None:
        self.at.append(count)
        self.gained.append(gained)

    def likely(self, counts: int) -> Floats:
        """What each count's side promises, (counts,); all alike until something was gained."""
        gained = np.array(self.gained)
        if not gained.any():
            return np.ones(counts)
        near = np.exp(-np.abs(np.arange(counts)[:, None] - np.array(self.at)) / REACH)
        return np.asarray((near @ gained + BEFORE * gained.mean()) / (near.sum(axis=1) + BEFORE))


def most_promising(down: Floats, up: Floats, open_to: Bools) -> int:
    """The count, of those open to it, with the largest product of what its two sides promise: a bound rises
    with the lower side, and the higher side is work saved."""
    return int(np.argmax(np.where(open_to, down * up, -1.0)))
