"""What a share comes to and what it brings, as frozen records of plain values. Money is bare figures."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal, TypeAlias

ShareMeasure: TypeAlias = Literal["weight", "worth"]


@dataclass(frozen=True, slots=True)
class ShortShare:
    """Weeks of the first year in which a share of an outlet is likely under what it should be."""

    outlet: str
    what: ShareMeasure
    least: float
    """kg or money"""
    weeks: tuple[date, ...]
    """their Mondays"""
    wished_less: int
    """of these weeks, those in which all that is wished for comes to less"""


@dataclass(frozen=True, slots=True)
class Takings:
    """Money for what an outlet gets of what it wants in the first year, at the prices given."""

    outlet: str | None
    """None: all outlets together, where there are several"""
    low: float
    likely: float
    high: float
    """10, 50 and 90 % of the planning years"""
    months: tuple[tuple[date, float], ...]
    """first of the month, and what it is likely to bring"""
    unpriced: tuple[str, ...]
    """items wanted there that have no price and bring nothing here"""


@dataclass(frozen=True, slots=True)
class WeekShare:
    """One share of an outlet in a week, beside what it should be."""

    outlet: str
    kg: float
    least_kg: float | None
    worth: float | None
    """None where nothing of the outlet has a price"""
    least_worth: float | None
    unpriced: bool
    """something in it has no price and is left out of its worth"""
    money: str
    """sign or code; may be empty"""
