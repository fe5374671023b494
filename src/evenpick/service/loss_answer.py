"""What was lost, and what can still fill its weeks: answers as frozen records of plain values.

report/ turns it into text and JSON. Dates are `datetime.date`; a year-less date is (month, day). Amounts: m²,
m of row, kg; days are whole.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenpick.base.trade import CoverName, WayName
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site


@dataclass(frozen=True, slots=True)
class Filling:
    """A sowing from now that would ripen in weeks left bare."""

    crop: str
    name: str
    way: WayName
    cover: CoverName
    sow: date
    success: float
    """share of years in which it succeeds"""
    weeks: tuple[tuple[date, float], ...]
    """bare weeks (Mondays) with the share of years in which it has something to give"""
    area_m2: float
    """what would meet what is missing in them, as far as there is ground"""
    room: bool
    """whether there is ground for the least of it in all of its weeks, as the plan kept has it"""


@dataclass(frozen=True, slots=True)
class AfterLoss:
    """What a lost sowing leaves bare, and what can still fill it."""

    site: Site
    climate: ClimateOrigin
    day: date
    sowing: str
    name: str
    sown: date
    item: str | None
    """the item it served; None where nobody wishes for it"""
    lost: float
    """share of the sowing that was lost"""
    weeks: tuple[tuple[date, float, float], ...]
    """Mondays of the weeks it leaves with less than half of what is wanted: kg wanted, kg to be had"""
    fillings: tuple[Filling, ...]
    """of the same item, the fullest first"""
    instead: tuple[Filling, ...]
    """where nothing of the item can: crops of its use at the table that can stand in for it"""
    besides: tuple[Filling, ...]
    """where nothing stands in for it: what else the ground that it leaves can give in those weeks"""
    words: str
    command: str
    """that takes the loss into the plan"""
    caution: str = ""
    """what to heed before the like is planted again"""


@dataclass(frozen=True, slots=True)
class LossRow:
    sowing: str
    """its id"""
    tag: str
    name: str
    ground: str | None
    cover: CoverName
    sown: date
    day: date
    """of the last loss"""
    cause: str
    by: str
    lost: float
    """share of the sowing that all its losses took"""
