"""An item's weeks as measured: what is likely to be had, what is bare and what goes over."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.measure import Measure
from evenpick.service.pickings_answer import WeekOfItem


def item_weeks(found: Measure, number: int, wanted: Floats, first: date) -> tuple[WeekOfItem, ...]:
    """So many weeks as are `wanted` (kg), from the Monday `first` on."""
    had = found.used[number] + found.over[number]
    low, likely, high = np.quantile(had, [0.1, 0.5, 0.9], axis=1)
    bare, spare = found.unmet[number].mean(axis=1), found.over[number].mean(axis=1)
    return tuple(
        WeekOfItem(
            first + timedelta(weeks=week), float(wanted[week]), float(low[week]), float(likely[week]),
            float(high[week]), float(bare[week]), float(spare[week]),
        )
        for week in range(wanted.size)
    )
