"""Changes of one item's areas worth weighing: add, drop, resize, move, split, merge (planner.md, 9)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints


@dataclass(frozen=True, slots=True)
class Moves:
    """Changes of area, m²: `more` at candidate `at`, and `less` taken from candidate `off`."""

    at: Ints
    more: Floats
    off: Ints
    less: Floats

    def __len__(self) -> int:
        return len(self.at)

    def pick(self, chosen: Bools | slice) -> Moves:
        return Moves(self.at[chosen], self.more[chosen], self.off[chosen], self.less[chosen])

    def made(self, x: Floats, k: int) -> Floats:
        """Areas after move k; what is nearly nothing is nothing."""
        after = x.copy()
        after[self.at[k]] += self.more[k]
        after[self.off[k]] -= self.less[k]
        return np.where(after > 1e-12, after, 0.0)


def joined(blocks: Sequence[tuple[Ints, Floats, Ints, Floats]]) -> Moves:
    at, more, off, less = (np.concatenate(column) for column in zip(*blocks, strict=True))
    return Moves(at, more, off, less)


def single_moves(x: Floats, least: Floats, most: Floats, fitting: Floats) -> Moves:
    """Add at four sizes, drop, resize; every area nought or within its bounds. `fitting` is the largest
    area each could have beside the others."""
    every, made = np.arange(len(x)), np.flatnonzero(x > 0)
    sizes = [np.maximum(x, np.clip(a, least, most))
             for a in (0.2 * most, 0.45 * most, 0.8 * most, np.minimum(fitting, most))]
    own = x[made]
    resized = [np.clip(f * own, least[made], most[made]) for f in (0.65, 0.85, 1.2, 1.6)]
    resized.append(np.zeros(len(made)))
    blocks = [(every, size - x, every, np.zeros(len(x))) for size in sizes]
    blocks += [(made, size - own, made, np.zeros(len(made))) for size in resized]
    return joined(blocks)


def paired_moves(x: Floats, least: Floats, most: Floats, day: Ints, reach: int) -> Moves:
    """Move a sowing, wholly or in part, by up to `reach` days: as it is, larger, split, thinned."""
    off, at = np.nonzero((x > 0)[:, None] & (np.abs(day[:, None] - day) <= reach))
    off, at = off[off != at], at[off != at]
    blocks = []
    for leave, take in ((0.0, 1.0), (0.0, 1.4), (0.5, 0.5), (0.7, 0.6)):
        left = np.maximum(leave * x[off], least[off]) if leave else np.zeros(len(off))
        blocks.append((at, np.clip(x[at] + take * x[off], least[at], most[at]) - x[at], off, x[off] - left))
    return joined(blocks)
