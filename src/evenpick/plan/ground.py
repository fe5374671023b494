"""Ground rows of a request, thinned to those that can bind (planner.md, 1)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

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


def more_room(request: Request, rows: GroundRows, limit: Floats) -> Floats:
    """Limits of the rows of a request where its ground is `limit`, (rows, weeks), nowhere less than it was:
    of weeks with the same candidates the tightest may be another; none where nothing can overfill it now."""
    wider = ground_rows(replace(request, grounds=replace(request.grounds, limit=limit)))
    left = dict(zip(_candidates_of(wider), wider.limit, strict=True))
    return np.array([left.get(each, np.inf) for each in _candidates_of(rows)])


def _candidates_of(rows: GroundRows) -> list[bytes]:
    """What tells rows apart: their candidates and what these take."""
    edges = np.searchsorted(rows.row, np.arange(len(rows.limit) + 1))
    return [rows.candidate[a:b].tobytes() + rows.coefficient[a:b].tobytes() for a, b in pairwise(edges)]
