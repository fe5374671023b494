"""Everything behind one sow day: an answer as a frozen record of plain values.

report/ turns it into text and JSON. Dates are `datetime.date`; a year-less date is (month, day). Amounts: m²,
m of row, kg; days are whole.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenpick.base.trade import Judgement
from evenpick.service.outlook_answer import OutlookAnswer, WindowRow
from evenpick.service.plan_answer import PlannedSowing


@dataclass(frozen=True, slots=True)
class WhyAnswer:
    """What opens and closes the window of a crop here, and where the numbers come from."""

    outlook: OutlookAnswer
    windows: tuple[WindowRow, ...]
    score: float
    """0 to 1 against the best sow day"""
    worth_from: float
    """score from which a day is worth sowing"""
    judgement: Judgement
    """worth sowing is what lies in a window: not too near the frost, and waiting costs something"""
    against: str
    leverage: float | None
    """days that the first picking moves by a day of waiting; None where it is not asked, or not known"""
    hazards: tuple[tuple[str, float], ...]
    """share of years in which each struck"""
    values: tuple[tuple[str, str, str], ...]
    """catalogue value in words, its figure with unit, its source"""
    sources: tuple[tuple[str, str], ...]
    """bibliography key and how it reads"""
    plan: tuple[PlannedSowing, ...]

    @property
    def good_time(self) -> bool:
        """Within a window."""
        return self.judgement == "worth"
