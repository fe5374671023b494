"""Ground rows of a request, thinned to those that can bind (planner.md, 1)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.request import Request


@dataclass(frozen=True, slots=True)
class GroundRows:
    """Compressed rows over candidates: Σ coefficient·x ≤ limit."""

    limit: Floats
    row: Ints
    """row of each entry"""
    candidate: Ints
    coefficient: Floats
    key: Ints
    """which row and week of the request each is: row·weeks + week"""

    def used(self, x: Floats) -> Floats:
        """Taken of each row."""
        taken = self.coefficient * x[self.candidate]
        return np.asarray(np.bincount(self.row, taken, minlength=len(self.limit)), dtype=np.float64)

    def charge(self, prices: Floats, candidates: int) -> Floats:
        """Charge for a square metre of each candidate at prices per row."""
        charges = prices[self.row] * self.coefficient
        return np.asarray(np.bincount(self.candidate, charges, minlength=candidates), dtype=np.float64)


def ground_rows(request: Request) -> GroundRows:
    """One row per ground and week that its candidates could overfill; of weeks with the same candidates
    only the tightest."""
    g, most = request.grounds, request.candidates.most
    key = g.row * request.weeks + g.week
    order = np.lexsort((g.candidate, key))
    key, candidate, coefficient = key[order], g.candidate[order], g.coefficient[order]
    rows, first = np.unique(key, return_index=True)
    spans = list(zip(first, np.append(first, len(key))[1:], strict=True))
    kept: dict[bytes, int] = {}
    limit = g.limit.reshape(-1)[rows]
    for n, (a, b) in enumerate(spans):
        if coefficient[a:b] @ most[candidate[a:b]] <= limit[n]:
            continue
        name = candidate[a:b].tobytes() + coefficient[a:b].tobytes()
        if name not in kept or limit[n] < limit[kept[name]]:
            kept[name] = n
    chosen = sorted(kept.values())
    pick = np.concatenate([np.arange(*spans[n]) for n in chosen] or [np.zeros(0)]).astype(np.int64)
    sizes = [spans[n][1] - spans[n][0] for n in chosen]
    row = np.repeat(np.arange(len(chosen)), sizes)
    return GroundRows(limit[chosen], row, candidate[pick], coefficient[pick], rows[chosen])
