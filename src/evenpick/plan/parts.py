"""A request taken apart by item: each part is a request of its own with the ground left out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Floats, Ints, Singles
from evenpick.plan.cuts import Losses
from evenpick.plan.request import Candidates, Grounds, Request, Supply


@dataclass(frozen=True, slots=True)
class Row:
    """A constraint lower ≤ Σ values·column over a part's own columns: x_j at j, z_j at n + j, the loss
    at 2n, the loss of year y at 2n + 1 + y."""

    lower: float
    columns: Ints
    values: Floats


@dataclass(frozen=True, slots=True)
class Part:
    """One item's candidates (`members`, positions in the whole) and its losses.

    `arrived` and `expired` are the losses' own in single precision, (weeks, members, years): moves are
    weighed in them.
    """

    members: Ints
    losses: Losses
    arrived: Singles
    expired: Singles
    first: Ints
    """each member's first week with anything ripe in any year; past the end: none"""

    @property
    def size(self) -> int:
        return len(self.members)

    def cut(self, x: Floats, z: Floats, pace: Floats) -> tuple[float, float, list[Row]]:
        """Loss of the item at areas x, the cuts' value at (x, z), and the cuts as rows."""
        by_year, cuts = self.losses.cuts(x, z, pace)
        q = self.losses.year_weights(by_year)[0]
        n, years = self.size, len(q)
        bound = cuts.constant[0] - cuts.by_sowing.T @ z - cuts.by_area.T @ x
        rows = [Row(float(constant), *row) for constant, row in zip(
            cuts.constant[0], _by_year(cuts.by_area, cuts.by_sowing, 2 * n + 1), strict=True
        )]
        rows.append(Row(0.0, 2 * n + np.arange(years + 1), np.concatenate([[1.0], -q])))
        return float(q @ by_year[0]), float(q @ bound), rows


def _by_year(by_area: Floats, by_sowing: Floats, loss: int) -> Iterator[tuple[Ints, Floats]]:
    """Columns and values of each year's row: areas, sowings, its own loss (the first year's at `loss`)."""
    n, years = by_area.shape
    of_area, area = np.nonzero(by_area.T)
    of_sowing, sown = np.nonzero(by_sowing.T)
    each = np.arange(years)
    year = np.concatenate([of_area, of_sowing, each])
    order = np.argsort(year, kind="stable")
    columns = np.concatenate([area, n + sown, loss + each])[order]
    values = np.concatenate([by_area[area, of_area], by_sowing[sown, of_sowing], np.ones(years)])[order]
    ends = np.cumsum(np.bincount(year, minlength=years)).tolist()
    for start, end in zip([0, *ends], ends, strict=False):
        yield columns[start:end], values[start:end]


def narrow(request: Request, kept: Ints) -> Request:
    """The same request with these candidates alone, in this order."""
    g, position = request.grounds, _positions(request, kept)
    on = position[g.candidate] >= 0
    grounds = replace(
        g, row=g.row[on], candidate=position[g.candidate[on]], week=g.week[on], coefficient=g.coefficient[on]
    )
    return replace(
        request, candidates=_chosen(request.candidates, kept), grounds=grounds,
        supply=_numbered(request.supply, position),
    )


def _positions(request: Request, kept: Ints) -> Ints:
    """Where each candidate stands among those kept; -1: it doesn't."""
    position = np.full(len(request.candidates), -1, dtype=np.int64)
    position[kept] = np.arange(len(kept))
    return position


def _chosen(c: Candidates, kept: Ints) -> Candidates:
    return Candidates(
        c.item[kept], tuple(c.label[j] for j in kept), c.day[kept], c.least[kept], c.most[kept],
        c.trouble[kept], c.cost[kept],
    )


def _numbered(supply: Supply, position: Ints) -> Supply:
    """What the candidates with a position give, by their positions."""
    own = supply.where(position >= 0)
    return replace(own, candidate=position[own.candidate])


def split(request: Request) -> list[Part]:
    """One part per item, in the order of items."""
    return [part_of(request, i) for i in range(len(request.items))]


def part_of(request: Request, i: int) -> Part:
    """Item i by itself, on the weeks in which it is wanted (planner.md, 1)."""
    members = np.flatnonzero(request.candidates.item == i)
    losses = Losses(_on_wanted_weeks(request, i, members))
    arrived, expired = (
        np.ascontiguousarray(sums.transpose(1, 2, 0), dtype=np.float32)
        for sums in (losses.arrived, losses.expired)
    )
    return Part(members, losses, arrived, expired, (arrived <= 0).all(axis=2).sum(axis=0))


def _on_wanted_weeks(request: Request, i: int, members: Ints) -> Request:
    """Item i alone, with the same losses on fewer weeks: those in which any of it is wanted, and a last one
    for what no wanted week can use. Ground is left out: its weeks are others."""
    candidates = replace(_chosen(request.candidates, members), item=np.zeros(len(members), dtype=np.int64))
    s, wanted = _numbered(request.supply, _positions(request, members)), request.wanted[i : i + 1]
    met = None if request.met is None else request.met[:, :, i : i + 1]
    kept = np.flatnonzero(wanted.any(axis=0))
    ripe = np.searchsorted(kept, s.ripe)
    last = np.searchsorted(kept, s.last, side="right") - 1
    idle = ripe > last
    ripe, last = np.where(idle, len(kept), ripe), np.where(idle, len(kept), last)
    weeks = len(kept) + 1
    key = ((s.candidate * request.years + s.year) * weeks + ripe) * weeks + last
    unique, first, of = np.unique(key, return_index=True, return_inverse=True)
    kg: Floats = np.asarray(np.bincount(of, s.kg, minlength=len(unique)), dtype=np.float64)
    none = np.zeros(0, dtype=np.int64)
    return replace(
        request, weeks=weeks, candidates=candidates, items=(request.items[i],),
        grounds=Grounds((), np.zeros((0, weeks)), none, none, none, np.zeros(0)),
        wanted=np.append(wanted[:, kept], np.zeros((1, 1)), axis=1),
        met=None if met is None else np.append(met[kept], 0.0 * met[:1], axis=0),
        supply=Supply(s.candidate[first], s.year[first], ripe[first], last[first], kg),
    )
