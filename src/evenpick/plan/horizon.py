"""The plan's weeks (docs/design/days.md, rules 4 to 7)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Ints
from evenpick.base.days import monday

WEEKS = 104
SOWING_WEEKS = 64
COUNTED_WEEKS = 70
"""wishes are counted to here: later weeks want sowings that this plan may not make yet; what is stored
is counted to the horizon's end, or an autumn planting for next year's store would seem worthless"""
YEAR_WEEKS = 52


@dataclass(frozen=True, slots=True)
class Horizon:
    """Day numbers: `begin` is the day the plan is made for, `start` the Monday of its ISO week."""

    begin: int
    weekday: int
    """0 Monday to 6 Sunday: the day of the week on which this grower sows"""
    others: tuple[int, ...] = ()
    """days of the week on which he sows as well: for a first week of which that day is past"""

    @property
    def start(self) -> int:
        return monday(self.begin)

    @property
    def days(self) -> int:
        return WEEKS * 7

    def sow_days(self) -> Ints:
        """Axis days on which sowings may be made, one a week, none before `begin`."""
        days = np.arange(SOWING_WEEKS) * 7 + self.weekday
        begin = self.begin - self.start
        days[0] = min((day for day in self.others if day >= begin > days[0]), default=days[0])
        return days[days >= begin]
