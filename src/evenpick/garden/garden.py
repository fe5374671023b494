"""The garden as the grower describes it. Units: m², kg per week, °C, grams; days are day numbers."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf
from pathlib import Path
from typing import Literal, TypeAlias

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.trade import GroundCover
from evenpick.climate.site import Site
from evenpick.crops.seed import Keeping
from evenpick.garden.limits import NO_LIMITS, Limits
from evenpick.garden.whose_words import English, Units

GROUND_COVERS: tuple[GroundCover, ...] = ("open", "tunnel")
OutletKind = Literal["kitchen", "boxes", "stall"]
OUTLET_KINDS: tuple[OutletKind, ...] = ("kitchen", "boxes", "stall")

MonthDay: TypeAlias = tuple[int, int]
"""month 1 to 12 and day of the month; (2, 29) is a day that only leap years have"""

WORTH_A_SOWING = 2.0  # portions (common practice, no source)
FROM_GROUND = 10.0  # m² from which on it is that


def worth_on(ground: float) -> float:
    """Portions that one more sowing must bring on so many m², where the grower does not say: on less than 10
    m² fewer in proportion, down to half. Who has five pots has time for each, and a pot of lettuce is two
    portions (our choice)."""
    return WORTH_A_SOWING * min(max(ground / FROM_GROUND, 0.5), 1.0)


@dataclass(frozen=True, slots=True)
class PlanSettings:
    start: int | None = None
    """day number the plan begins on; None is the day it is made"""
    sowing_days: tuple[int, ...] = (5,)
    """0 Monday to 6 Sunday, in their order"""
    years: int = 30
    """weather years the plan is held against"""
    seed: int = DEFAULT_SEED
    worth_a_sowing: float = WORTH_A_SOWING
    """portions that one more sowing must bring, or it is not made"""

    @property
    def sowing_weekday(self) -> int:
        """The day that the planner's weeks are sown on, but for a first week of which it is past
        (docs/design/days.md, 5)."""
        return self.sowing_days[0]


@dataclass(frozen=True, slots=True)
class Grew:
    """A family that grew in a bed in a year (docs/design/beds.md, 4)."""

    year: int
    family: str
    """botanical"""


@dataclass(frozen=True, slots=True)
class Bed:
    """One bed, m and m²; length and width None where only its area is known."""

    name: str
    length: float | None
    width: float | None
    area: float
    grew: tuple[Grew, ...] = ()


@dataclass(frozen=True, slots=True)
class Ground:
    """Ground that can be sown or planted, under a cover that does not move."""

    name: str
    cover: GroundCover
    area: float
    """m² that is cropped, paths left out"""
    counted: tuple[Bed, ...] = ()
    """its beds as the grower counts them"""

    @property
    def beds(self) -> tuple[Bed, ...]:
        """Its beds; ground that nobody counted is one bed of unknown shape."""
        return self.counted or (Bed(self.name, None, None, self.area),)


@dataclass(frozen=True, slots=True)
class Bench:
    """Where plants are raised."""

    places: int
    """module cells that fit on it at one time"""
    lowest: float
    """°C it is kept above at night (5 frost-free, 16 heated)"""


@dataclass(frozen=True, slots=True)
class Outlet:
    """Who eats it: a kitchen, the weekly boxes, a stall."""

    name: str
    kind: OutletKind
    shares: int = 1
    """people at the table or boxes packed; a wish is written for one share"""
    variety: int = 0
    """different items that a share should have in a week"""
    needs: tuple[str, ...] = ()
    """kinds of produce that should be among them (data/kinds.csv)"""
    weight: float | None = None
    """kg that a share should be at least in a week"""
    worth: float | None = None
    """money that a share should be worth at least in a week"""


@dataclass(frozen=True, slots=True)
class Wish:
    """How much of an item one outlet wants in every week of its season."""

    item: str
    crops: tuple[str, ...]
    """catalogue keys, any of which serves"""
    outlet: str
    kg_per_week: float
    """for all shares of the outlet together"""
    opens: MonthDay | None = None
    closes: MonthDay | None = None
    """first and last day of the season, both wanted; both None is all the year; may span the new year"""
    weight: float = 1.0
    """how much a portion of it matters beside a portion of another item, its price reckoned in"""
    line: int | None = None
    """line of the garden file it stands on"""
    keep: bool = False
    """to store, freeze or dry: `kg_per_week` is the whole amount, to be had by the season's end"""
    farms: tuple[str, ...] = ()
    """farms of a cooperative that may grow it; none named: any of them"""
    price: float | None = None
    """money that a kg of it fetches"""

    def wanted_on(self, month: int, day: int) -> bool:
        """Whether a day of the year lies in the season."""
        return in_season(self.opens, self.closes, month, day)


def in_season(opens: MonthDay | None, closes: MonthDay | None, month: int, day: int) -> bool:
    """Whether a day of the year lies in a season, both of its ends in it; without ends it is all the year."""
    if opens is None or closes is None:
        return True
    after, before = opens <= (month, day), (month, day) <= closes
    return after and before if opens <= closes else after or before


@dataclass(frozen=True, slots=True)
class Anyway:
    """What comes without a sowing: rhubarb, fruit, perennials."""

    item: str
    serves: str
    """the wished item it counts for; may be one that nobody wishes for"""
    kg_per_week: float
    """in all, not for one share"""
    opens: MonthDay | None = None
    closes: MonthDay | None = None
    line: int | None = None
    """of the garden's file, in which it is said what it serves; None where it is not said"""


@dataclass(frozen=True, slots=True)
class Packet:
    """Seed, sets or tubers in the tin: by count or by weight."""

    crop: str
    """catalogue key"""
    variety: str
    year: int
    """the year it was packed or saved"""
    seeds: float | None = None
    grams: float | None = None
    germination: float | None = None
    """share that came up when the grower tested it, 0 to 1"""


@dataclass(frozen=True, slots=True)
class Elsewhere:
    """The daily record of another place, to be moved by the difference of the monthly normals."""

    site: Site
    record: Path | None
    packaged: str | None


@dataclass(frozen=True, slots=True)
class WeatherChoice:
    """Which weather the grower asked for; all None is the nearest station's normals."""

    record: Path | None = None
    """a daily record of the grower's own"""
    packaged: str | None = None
    """name of a daily record that comes with the program"""
    normals: Path | None = None
    """twelve monthly normals, typed"""
    readings: Path | None = None
    """days of the grower's own thermometer, a daily record"""
    diary: Path | None = None
    """the garden's book, whose readings are the grower's own too"""
    fetched: Path | None = None
    """this season's days that were fetched, where there are any"""
    warmer: float = 0.0
    """°C by which every day is made warmer than the weather that was"""
    moved: Elsewhere | None = None
    """the days of another farm of the cooperative, so that the weather of all goes together"""

    @property
    def files(self) -> tuple[Path, ...]:
        """Those beside the garden that its weather is read from; of its book only the readings are."""
        named = (self.record, self.normals, self.readings, self.fetched)
        return tuple(file for file in named if file is not None)


@dataclass(frozen=True, slots=True)
class Seedbed:
    """What a drill is drawn in, and whether it can be watered."""

    soil: str = "loam"
    """a texture of soil.texture"""
    watered: bool = True


LOAM = Seedbed()
"""where nothing is said of it"""


@dataclass(frozen=True, slots=True)
class Garden:
    site: Site
    grounds: tuple[Ground, ...]
    outlets: tuple[Outlet, ...]
    wishes: tuple[Wish, ...]
    english: English = "british"
    language: str = ""
    """code of the catalogue that everything is told in; by `english` where empty"""
    units: Units = "metric"
    money: str = ""
    """sign or code of the money that prices are in; empty: bare figures"""
    plan: PlanSettings = PlanSettings()
    fleece: float = 0.0
    cloche: float = 0.0
    """m² of open ground that the movable covers can cover at one time"""
    bench: Bench | None = None
    soil: str = "loam"
    """a texture of soil.texture"""
    watered: bool = True
    """whether drills in the open can be watered"""
    packets: tuple[Packet, ...] = ()
    kept: Keeping = "room"
    """how the seed tin is kept"""
    never: tuple[str, ...] = ()
    """catalogue keys never to be grown here"""
    weather: WeatherChoice = WeatherChoice()
    anyway: tuple[Anyway, ...] = ()
    limits: Limits = NO_LIMITS
    invented_by_demo: bool = False
    cooperative: Path | None = None
    """the file of the cooperative that it is a farm of, which holds the wishes"""
    farm: str = ""
    """its name in the cooperative: chance strikes each farm's sowings by themselves"""

    @property
    def covers_there(self) -> tuple[GroundCover, ...]:
        """What its ground is under, the open first."""
        there = {ground.cover for ground in self.grounds}
        return tuple(cover for cover in GROUND_COVERS if cover in there)

    @property
    def seedbed(self) -> Seedbed:
        return Seedbed(self.soil, self.watered)

    @property
    def lowest(self) -> float:
        """°C that its bench is kept above: what wants more is raised later, if it comes up there at
        all. Without end where no bench is told."""
        return inf if self.bench is None else self.bench.lowest

    def area(self, cover: GroundCover) -> float:
        """m² of ground under one cover."""
        return sum(ground.area for ground in self.grounds if ground.cover == cover)

    def beds(self, cover: GroundCover) -> list[Bed]:
        """The beds of ground under one cover, in their order."""
        return [bed for ground in self.grounds if ground.cover == cover for bed in ground.beds]

    @property
    def cropped(self) -> float:
        """m² of all its ground."""
        return sum(ground.area for ground in self.grounds)

    def resting(self, first: int, end: int) -> float:
        """m² of it that are at rest, in the mean of the days from number `first` to before `end`."""
        held = sum(rest.area * max(0, min(rest.last + 1, end) - max(rest.first, first))
                   for rest in self.limits.rests)
        return min(held / (end - first), self.cropped)

    def outlet(self, name: str) -> Outlet:
        return next(outlet for outlet in self.outlets if outlet.name == name)
