"""What a plan must keep to beside the garden's own ground: what is taken, what is not to be offered."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import TypeVar

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.trade import CoverName, WayName
from evenpick.plan.given import Given, nothing_given
from evenpick.plan.options import Batch
from evenpick.plan.request import Supply
from evenpick.plan.standing import Hold

REFUSED_DAYS = 10
"""sowings this near to a refused one are the same sowing under another date"""
LEFT_ALONE = 3
"""days that plants in modules can be left with nobody to water them, at most (common practice, no source)"""


ROOTED = 21
"""days from sowing or planting out to roots that find water for themselves (common practice, no source)"""


@dataclass(frozen=True, slots=True)
class Parched:
    """Days, both in the span, on which nobody is there to water; day numbers."""

    first: int
    last: int
    covers: frozenset[CoverName]
    """under which rain does not keep what has not rooted"""
    dry: float = 1.0
    """share of the years in which rain in the open does not do"""

    def parches(self, cover: CoverName, begun: int) -> bool:
        """Whether what began in its ground on a day has not rooted by then, and nothing waters it."""
        return cover in self.covers and self.first - ROOTED < begun < self.first


@dataclass(frozen=True, slots=True)
class Refused:
    """A sowing that the grower will not make, or not before the day `until`; days are day numbers.

    Nothing new of the crop is offered within ten days of it; put off, from ten days before it to the day
    before `until`.
    """

    crop: str
    way: WayName
    cover: CoverName
    sow: int
    until: int | None = None
    """put off to that day; None: refused"""
    spared: frozenset[tuple[WayName, CoverName, int]] = frozenset()
    """the plan's other sowings of the crop, which nobody refused"""

    def covers(self, batch: Batch, sow: int) -> bool:
        """Whether a sow day of a batch is the same sowing under another date."""
        last = self.sow + REFUSED_DAYS if self.until is None else self.until - 1
        if batch.crop.key != self.crop or not self.sow - REFUSED_DAYS <= sow <= last:
            return False
        kind = (batch.way.name, batch.cover)
        again = self.until is None and kind == (self.way, self.cover)
        return again or (*kind, sow) not in self.spared


Entries = TypeVar("Entries", Supply, Given)


def picked_when_there(entries: Entries, gone: Bools | None, kept: Ints, lying: Ints) -> Entries:
    """Entries in the weeks in which they can be had where in some weeks, `gone` (weeks,), nobody is there to
    pick: what stands is good once picked for `kept` weeks, and the last `lying` of its weeks are such; both
    (entries,).

    What ripens meanwhile is picked when somebody is back, if it still stands; what was ripe before may be
    picked before leaving and is had as long as it keeps, and again from the return on if it still stands: in
    so large parts as there are weeks.
    """
    if gone is None or not gone.any():
        return entries
    last = np.minimum(entries.last, gone.size - 1)
    kinds, kind = np.unique(np.stack([entries.ripe, last, entries.last - lying, kept]), axis=1,
                            return_inverse=True)
    runs = [_runs(gone, *each) for each in kinds.T.tolist()]
    part = np.array([(number, first, end) for number, each in enumerate(runs) for first, end in each],
                    dtype=np.int64).reshape(-1, 3)
    begins = np.searchsorted(part[:, 0], np.arange(len(runs) + 1))
    many = np.diff(begins)[kind.ravel()]
    of = np.repeat(np.arange(kind.size), many)
    place = begins[kind.ravel()][of] + np.arange(of.size) - np.repeat(np.cumsum(many) - many, many)
    length = part[:, 2] - part[:, 1] + 1
    whole = np.bincount(part[:, 0], length, len(runs))
    values = {each.name: getattr(entries, each.name)[of] for each in fields(entries)}
    share = length[place] / whole[part[place, 0]]
    return replace(entries, **{**values, "ripe": part[place, 1], "last": part[place, 2],
                               "kg": values["kg"] * share})


def _runs(gone: Bools, ripe: int, last: int, stands: int, kept: int) -> list[tuple[int, int]]:
    """The runs of weeks, both ends in them, in which one entry can be had."""
    there = ~gone
    had = [any(there[max(week - kept, ripe) : min(week, stands) + 1]) for week in range(ripe, last + 1)]
    edges = np.flatnonzero(np.diff(np.array([False, *had, False]).astype(np.int8)))
    return [(ripe + first, ripe + end - 1) for first, end in edges.reshape(-1, 2).tolist()]


@dataclass(frozen=True, slots=True)
class Season:
    """What is there already and what was decided."""

    given: Given = field(default_factory=nothing_given)
    """years numbered as in the ensemble"""
    holds: Sequence[Hold] = ()
    refused: Sequence[Refused] = ()
    away: Sequence[tuple[int, int]] = ()
    """day numbers, both in the span: nobody is there to sow, to plant out or to water what is raised"""
    watered: Collection[tuple[int, int]] = ()
    """of these spans those in which somebody waters all the same"""
    parched: Sequence[Parched] = ()
    """of these the longer ones in which nobody waters"""
    seeds: Mapping[str, float] = field(default_factory=dict)
    """what there is of the crops of which no more is bought, by catalogue key"""
    minutes: Floats | None = None
    """of work in each week; None: any number"""
    there: Floats | None = None
    """part of each week's days on which somebody is there; None: all"""
    gone: Bools | None = None
    """weeks in which nobody is there to pick what others still want, (weeks,); None: there are none. What is
    `given` is as it can be had in them"""

    def refuses(self, batch: Batch, index: int, start: int) -> bool:
        """Whether a sow day of a batch was refused; `start` is the day number of the axis's day 0."""
        return any(no.covers(batch, start + int(batch.days[index])) for no in self.refused)

    def leaves_alone(self, batch: Batch, index: int, start: int) -> bool:
        """Whether on days away such a sowing would have to be sown, planted out or watered by somebody."""
        sow = start + int(batch.days[index])
        out = start + int(np.median(batch.outcome.place[:, index])) if batch.way.name == "raised" else sow
        if any(span.parches(batch.cover, out) for span in self.parched):
            return True
        return any(
            first <= sow <= last or first <= out <= last
            or ((first, last) not in self.watered
                and min(last, out) - max(first, sow) + 1 > LEFT_ALONE)
            for first, last in self.away
        )
