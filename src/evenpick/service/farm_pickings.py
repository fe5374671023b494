"""Each farm's part in what a cooperative picks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.plan.horizon import COUNTED_WEEKS
from evenpick.plan.task import Task
from evenpick.service.measures import on_planned
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem


def farm_pickings(
    works: Sequence[Task], areas: Sequence[Floats], wanted: Floats, whole: Sequence[ItemPickings], may: Bools
) -> list[tuple[ItemPickings, ...]]:
    """For each farm (its task and areas) what it is likely to pick of each item, as though the others had
    nothing; `wanted` (items, weeks) and `whole` are of all farms, and `may` tells who may grow what (farms,
    items).

    What is wanted, bare and spare is parted as the farms' likely pickings of the week, for a farm is not
    short of what others are to bring; where nothing is likely, as the mean ones; where there are none, evenly
    among those that may grow it.
    """
    had = [_had(work, own, wanted) for work, own in zip(works, areas, strict=True)]
    share = np.zeros((len(had), *wanted.shape)) + (may / np.maximum(may.sum(axis=0), 1))[:, :, None]
    for of_years in (np.mean, np.median):
        each = np.stack([of_years(one, axis=2) for one in had])
        total = each.sum(axis=0)
        np.divide(each, total, out=share, where=total > 0)
    return [
        tuple(_item(item, each[number], share[farm, number]) for number, item in enumerate(whole))
        for farm, each in enumerate(had)
    ]


def _had(work: Task, areas: Floats, wanted: Floats) -> Floats:
    """kg ripe and taken; (items, weeks, years)."""
    alone = replace(work, request=replace(work.request, wanted=wanted, met=None))
    found = on_planned(alone, areas)
    return found.used + found.over


def _item(item: ItemPickings, had: Floats, share: Floats) -> ItemPickings:
    """`had` (weeks, years) and `share` (weeks,) are of one farm."""
    low, likely, high = np.quantile(had[:COUNTED_WEEKS], [0.1, 0.5, 0.9], axis=1)
    weeks = tuple(
        WeekOfItem(
            week.week, week.wanted * float(share[at]), float(low[at]), float(likely[at]), float(high[at]),
            week.bare * float(share[at]), week.spare * float(share[at]), week.piece_kg,
        )
        for at, week in enumerate(item.weeks)
    )
    return replace(item, weeks=weeks)
