"""What a grower has in hand already, and what it costs to make it other than it was (season.md, 6)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.moves import Moves

SAME = 1e-6  # m²: no other area
GONE = 0.5  # of a planned area: with less the sowing counts as not made there


@dataclass(frozen=True, slots=True)
class Farms:
    """Whose each candidate is, and what each farm had planned, what comes late with it (m²)."""

    farm: Ints
    planned: Floats

    def of(self, members: Ints) -> Farms:
        return Farms(self.farm[members], self.planned[members])

    def gone(self, x: Floats, at: Ints) -> Ints:
        planned = self.planned[at]
        return np.asarray((planned > 0) & (x < GONE * planned), dtype=np.int64)

    def new(self, x: Floats, at: Ints) -> Ints:
        return np.asarray((self.planned[at] == 0) & (x > 0), dtype=np.int64)

    def counts(self, x: Floats) -> tuple[Ints, Ints]:
        """Sowings gone and new, by farm."""
        every, farms = np.arange(x.size), int(self.farm.max(initial=0)) + 1
        gone, new = (np.bincount(self.farm[found > 0], minlength=farms)
                     for found in (self.gone(x, every), self.new(x, every)))
        return gone.astype(np.int64), new.astype(np.int64)

    def counts_after(self, x: Floats, moves: Moves) -> tuple[Ints, Ints]:
        """The same after each of the moves; (moves, farms)."""
        rows = np.arange(len(moves))
        gone, new = (np.repeat(each[None], rows.size, axis=0) for each in self.counts(x))
        for at, by in ((moves.at, moves.more), (moves.off, -moves.less)):
            for count, of in ((gone, self.gone), (new, self.new)):
                count[rows, self.farm[at]] += of(x[at] + by, at) - of(x[at], at)
        return gone, new


def across(gone: Ints, new: Ints) -> Ints:
    """Sowings that went from one farm to another: gone from one beyond what is new there, and new on another
    beyond what is gone from it; by farm in the last axis."""
    left, come = (np.maximum(each, 0).sum(axis=-1) for each in (gone - new, new - gone))
    return np.asarray(np.minimum(left, come))


@dataclass(frozen=True, slots=True)
class Settled:
    """Sowings that the grower already has in hand: what it costs to make one other than it was."""

    areas: Floats
    """m² per candidate; nought where there was none"""
    charge: Floats
    """kg-equivalents for any other area of it, per candidate"""
    farms: Farms | None = None
    """of several; None where there is one"""

    def of(self, members: Ints) -> Settled:
        farms = None if self.farms is None else self.farms.of(members)
        return Settled(self.areas[members], self.charge[members], farms)

    def changed(self, x: Floats, at: Ints | None = None) -> Floats:
        """What areas x cost by being other ones, a value for each; `at` names their candidates."""
        was, charge = (self.areas, self.charge) if at is None else (self.areas[at], self.charge[at])
        return np.asarray(charge * ((was > 0) & (np.abs(x - was) > SAME)))

    def same(self, x: Floats) -> Bools:
        """Which of areas x are sowings as they were."""
        return np.asarray((self.areas > 0) & (np.abs(x - self.areas) <= SAME))

    def cost(self, x: Floats) -> float:
        """What one item's areas cost by being other ones: each change, and once more a sowing that another
        farm is to make, for two growers have it in hand."""
        changed = float(self.changed(x).sum())
        if self.farms is None or not x.size:
            return changed
        return changed + float(self.charge.mean() * across(*self.farms.counts(x)))

    def cost_of_moves(self, x: Floats, moves: Moves) -> Floats:
        """By how much each of the moves makes it cost more."""
        more = np.zeros(len(moves))
        for at, by in ((moves.at, moves.more), (moves.off, -moves.less)):
            more += self.changed(x[at] + by, at) - self.changed(x[at], at)
        if self.farms is None or not x.size:
            return more
        now = across(*self.farms.counts(x))
        return np.asarray(more + self.charge.mean() * (across(*self.farms.counts_after(x, moves)) - now))
