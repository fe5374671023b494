"""What a plan gives week by week, and how well that meets what is wanted, as frozen records of plain
values: kg, Mondays."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class WeekOfItem:
    week: date
    """the Monday"""
    wanted: float
    low: float
    likely: float
    high: float
    """kg that can be picked and used or go over, 10, 50 and 90 % of planning years"""
    bare: float
    spare: float
    """kg, mean over the years"""
    piece_kg: float | None = None
    """what one piece weighs of the crops that are there, where the item has several and theirs differ"""
    of_all: float | None = None
    """kg likely of all farms together, where this is one farm's part of it"""


@dataclass(frozen=True, slots=True)
class ItemPickings:
    item: str
    piece: str
    """what is counted of it; kg where its crops are not all counted alike"""
    piece_kg: float
    """the mean of its crops, as the wishes are read"""
    weeks: tuple[WeekOfItem, ...]
    lead: int
    """weeks at the start in which nothing sown from now can be ripe: not held against any plan"""


@dataclass(frozen=True, slots=True)
class Measured:
    """On weather years that the plan did not see."""

    bare: float
    """share of what was wanted"""
    spare: float
    """share of what was picked"""
    bare_weeks: float
    """item-weeks in a hundred with less than half of what was wanted"""
    worst_tenth_bare: float
    """bare in the worst tenth of the years"""


@dataclass(frozen=True, slots=True)
class Brought:
    """What a sowing of a plan brings to an item."""

    sowing: str
    """id of the planned sowing, or in the diary of one that stands; empty for what comes without a sowing"""
    item: str
    entries: str
    """weeks and kg in each planning year, as text (service/packed)"""


@dataclass(frozen=True, slots=True)
class OthersBring:
    """What the other farms of a cooperative bring to an item beside one of them."""

    item: str
    wanted: tuple[float, ...]
    """kg of all farms, by the week"""
    entries: str
    """weeks and kg in each planning year, as text (service/packed); empty where they bring none"""
