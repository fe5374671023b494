"""When nobody wants more of a crop that still stands: it is cleared then, and its ground is free
(days.md, 8)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Ints
from evenpick.plan.horizon import COUNTED_WEEKS, WEEKS
from evenpick.plan.options import Batch
from evenpick.plan.standing import Grown, serves
from evenpick.plan.wanted import WantedItem


def wanted_to(batch: Batch, item: WantedItem) -> Ints:
    """For each sow day of a batch the week after the last one in which its item is wanted and it could still
    serve it; (n,)."""
    stored, part = batch.crop.harvest.profile == "stored", batch.ripening
    return _last_use(part.sowing, part.ripe, part.last, batch.days.size, item, stored)


def not_past_its_use(one: Grown, wanted: Sequence[WantedItem]) -> Grown:
    """A standing sowing as it is when it is cleared once nobody wants more of it."""
    item = serves(one, wanted)
    if item is None:
        return one
    stored, only = one.crop.harvest.profile == "stored", np.zeros(one.ripe.size, dtype=np.int64)
    (end,) = _last_use(only, one.ripe, one.last, 1, wanted[item], stored).tolist()
    if all(hold.end <= end for hold in one.holds):
        return one
    kept = one.ripe < end
    return replace(
        one, year=one.year[kept], ripe=one.ripe[kept], last=one.last[kept], kg=one.kg[kept],
        holds=tuple(replace(hold, end=max(min(hold.end, end), hold.first + 1)) for hold in one.holds),
    )


def _last_use(sowing: Ints, ripe: Ints, last: Ints, sowings: int, item: WantedItem, stored: bool) -> Ints:
    """As of `wanted_to`; the horizon's end for what is lifted into store or put by, for what serves nothing
    or is wanted as long as it gives, and up to where wishes are no longer counted: no season ends there."""
    if stored or item.kept is not None:
        return np.full(sowings, WEEKS)
    first, until = np.full(sowings, WEEKS), np.full(sowings, -1)
    np.minimum.at(first, sowing, ripe)
    np.maximum.at(until, sowing, np.minimum(last, WEEKS - 1))
    week = np.arange(WEEKS)
    latest = np.maximum.accumulate(np.where(item.kg > 0, week, -1))
    end = np.where(until >= 0, latest[until], -1)
    ends = (end >= first) & (end < np.minimum(until, COUNTED_WEEKS - 1))
    return np.where(ends, end + 1, WEEKS)
