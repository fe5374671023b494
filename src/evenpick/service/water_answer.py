"""What `water` answers, as frozen records of plain values; litres, mm, metres, days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from evenpick.base.trade import CoverName, WayName
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site

Phase = Literal["not sown", "sow", "seedbed", "up", "rooting", "growing", "over"]
Advice = Literal["water", "perhaps", "leave"]
ON_THE_DRILL: tuple[Phase, ...] = ("not sown", "sow", "seedbed", "up")
"""phases in which the drill alone is watered"""


@dataclass(frozen=True, slots=True)
class WaterDay:
    """One day's advice. Where the day is not in the record, rain and et0 are means over the weather years."""

    when: date
    recorded: bool
    """the day's rain was measured or given, not as likely"""
    phase: Phase
    rain: float
    """mm that reach the ground"""
    et0: float
    """mm that the air asks of grass"""
    advice: Advice
    share: float
    """of the weather years in which water is due"""
    per_m2: float
    """litres where water is due, the middle year; 0 where it is due in none"""
    per_metre: float
    """the same on a metre of drill (the watered band) or of row"""
    per_plant: float | None
    """the same for a plant that stands at a station; None in a row and until it is up"""
    why: str
    gone: float | None = None
    """mm that the root zone had lost in the morning, the middle year; None until it is up"""
    easy: float | None = None
    """mm that it gives before the crop slows (RAW)"""


@dataclass(frozen=True, slots=True)
class StepWorth:
    """What a step of the seedbed's routine is worth, over the place's weather years."""

    step: str
    dries: float
    """share of years in which the seed's layer dries before it is up"""
    lost: float
    """share of years in which that costs the sowing"""
    moist_after: float
    """days from coming up to the first dry evening, the middle year (14: or more)"""
    per_metre: float
    """litres on a metre of drill up to then, the middle year"""


@dataclass(frozen=True, slots=True)
class LeftDry:
    """What ground that nobody waters costs a sowing."""

    lost: float
    """share of years in which drought takes its drill, the season so far in all of them; 0 once it is up"""
    short: tuple[float, float, float]
    """share of the water it could have drawn so far that it went without: the wet year, the middle, the dry;
    its yield falls by about as much (allen1998, equation 90; Ky of vegetables near 1: table 24, memory)"""


@dataclass(frozen=True, slots=True)
class WaterAnswer:
    site: Site
    climate: ClimateOrigin
    crop: str
    name: str
    way: WayName
    cover: CoverName
    soil: str
    sow: date
    on: date
    row: float
    """m between rows"""
    band: float
    """m: the strip along a drill that is watered until the seed is up"""
    up: tuple[date, date, date] | None
    """up, or planted out, in the early, the middle and the late year; None where that is never"""
    days: tuple[WaterDay, ...]
    """the day asked about and those after it"""
    next_due: date | None
    """the first of these days on which water is due in half of the years"""
    steps: tuple[StepWorth, ...]
    """only for what is sown in place"""
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    left: LeftDry | None = None
    """what it costs that nobody waters there; None where somebody does"""


@dataclass(frozen=True, slots=True)
class WaterRow:
    """One sowing of a garden: what it wants on a day."""

    sowing: str | None
    """its id in the diary; None where it is only to be sown"""
    planned: str | None
    """id of the planned sowing it is, or will be"""
    crop: str
    name: str
    way: WayName
    cover: CoverName
    ground: str | None
    """bed or piece of ground, as far as it was said"""
    sow: date
    area_m2: float
    """what is left of it"""
    today: WaterDay
    litres: float
    """on all of it, where water is due; 0 where it is due in no year"""
    next_due: date | None
    """the first of the fortnight's days on which water is due in half of the years"""
    watered: date | None
    """the last day on which the diary says that it, or its bed, was watered"""
    left: LeftDry | None = None
    """what it costs that nobody waters there; None where somebody does"""
    pots: int = 0
    """that it stands in; 0 in a bed"""


@dataclass(frozen=True, slots=True)
class WateringAnswer:
    """A garden on one day."""

    site: Site
    climate: ClimateOrigin
    on: date
    soil: str
    rows: tuple[WaterRow, ...]
    """what wants water first"""
    bench: tuple[tuple[str, str], ...]
    """id and name of what still stands in modules, trays or pots"""
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
