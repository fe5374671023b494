"""Each farm's part in what a cooperative picks (docs/design/cooperative.md, 5)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.horizon import COUNTED_WEEKS
from evenpick.plan.parted import parted
from evenpick.plan.request import Supply
from evenpick.plan.task import Task
from evenpick.service.measures import with_given
from evenpick.service.picking_list import is_bare
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem

SOME = 1e-9
"""of a week's pickings; less is none"""


def farm_pickings(
    works: Sequence[Task], areas: Sequence[Floats], wanted: Floats, whole: Sequence[ItemPickings], may: Bools
) -> list[tuple[ItemPickings, ...]]:
    """For each farm (its task and areas) its part of what all farms pick of each item; `wanted` (items,
    weeks) and `whole` are of all farms, and `may` tells who may grow what (farms, items)."""
    had = _had(works, areas, wanted)
    evenly = may / np.maximum(may.sum(axis=0), 1)
    weeks = [parts_of(had[:, each], item.weeks, evenly[:, each, None] + np.zeros(len(item.weeks)))
             for each, item in enumerate(whole)]
    return [
        tuple(replace(item, weeks=own[farm]) for item, own in zip(whole, weeks, strict=True))
        for farm in range(len(works))
    ]


def parts_of(
    had: Floats, whole: Sequence[WeekOfItem], otherwise: Floats, lost: bool = False
) -> list[tuple[WeekOfItem, ...]]:
    """Each farm's weeks of an item: of what is wanted, likely, bare and spare on all as much as it brings in
    the mean of the years, so that the farms' parts are the whole and nothing is picked twice; low and high
    are of its own years. `had` (farms, weeks, years) in kg; where nobody brings anything the parts are
    those of `otherwise` (farms, weeks). Where something is `lost`, so are they of what is wanted in weeks
    that are bare on all: who was to bring it is told."""
    means = had.mean(axis=2)
    total = means.sum(axis=0)
    share = np.divide(means, total, out=otherwise.copy(), where=total > SOME)
    bare = np.array([lost and is_bare(week, shared=True) for week in whole], dtype=bool)
    asked = np.where(bare, otherwise, share)
    low, high = np.quantile(had, [0.1, 0.9], axis=2)
    return [
        tuple(
            _part(week, float(share[farm, at]), float(asked[farm, at]),
                  (float(low[farm, at]), float(high[farm, at])))
            for at, week in enumerate(whole)
        )
        for farm in range(len(had))
    ]


def _part(week: WeekOfItem, share: float, asked: float, ends: tuple[float, float]) -> WeekOfItem:
    """`share` of what is brought, and of what is `asked`; low and high are its `ends`."""
    likely = week.likely * share
    several = SOME < share < 1.0 - SOME and likely > 0
    return WeekOfItem(
        week.week, week.wanted * asked, min(ends[0], likely), likely, max(ends[1], likely), week.bare * asked,
        week.spare * share, week.piece_kg, week.likely if several else None,
    )


def _had(works: Sequence[Task], areas: Sequence[Floats], wanted: Floats) -> Floats:
    """kg; (farms, items, weeks, years) of the weeks that are told."""
    items, years = len(works[0].request.items), works[0].request.years
    made = [
        with_given(work.request.supply.where(own > 0), work.request.candidates.item, own, work.given, items)
        for work, own in zip(works, areas, strict=True)
    ]
    starts = np.cumsum([0, *(own.size for _, _, own in made)])
    farm: Ints = np.repeat(np.arange(len(made)), np.diff(starts))
    supply = Supply(
        np.concatenate([each.candidate + start for (each, _, _), start in zip(made, starts, strict=False)]),
        *(np.concatenate([getattr(each, name) for each, _, _ in made])
          for name in ("year", "ripe", "last", "kg")),
    )
    item, area = (np.concatenate([each[at] for each in made]) for at in (1, 2))
    return parted(item, farm, area, supply, wanted, years, len(made))[:, :, :COUNTED_WEEKS]
