"""A crop as the catalogue knows it. Units: °C, °C d, days, hours, metres, kg; see vocabulary.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Literal

from evenpick.base.language import chosen, tell
from evenpick.base.trade import CoverName, WayName
from evenpick.crops.signals import Bulbing, Cold, ColdHeading, LongDay

Counted = Literal["sowing", "planting out"]
FRESH = "fresh"
SMALLER = ("baby leaf", "small heads")
"""purposes for which a crop is gathered before its full size"""
EARLY = "early kinds"
"""purpose of the early varieties of a crop, for where its common ones come good in too few years"""
SHOCK = 25.0
"""effective day-degrees lost at planting out where a crop has no other (growth D3)"""
WHOLE = 1.0
"""thermal share of a purpose that is grown to its full size; baby leaf is wished for by none of the names"""
Profile = Literal["single", "standing", "picking", "cut", "stored"]


@dataclass(frozen=True, slots=True)
class Emergence:
    """Rate of emergence above `base`, flat above `optimum` (growth E1); survival (E2)."""

    base: float
    thermal_time: float
    optimum: float
    ceiling: float
    loss_per_day: float
    lies: float | None
    """days that its seed may lie before it comes up; None for the usual"""


@dataclass(frozen=True, slots=True)
class Development:
    """Day-degrees between `base`, `optimum` and `ceiling` (growth D1), with the resistance of light (D2)."""

    base: float
    optimum: float
    ceiling: float
    light: float
    """b of 1/EDD = 1/DD + b/R, in MJ m⁻² d⁻¹ per °C"""


@dataclass(frozen=True, slots=True)
class Way:
    """How the crop is started: direct (seed in the ground), raised on the bench then planted out,
    or planted (sets, cloves, tubers)."""

    name: WayName
    bench: float = 0.0
    """lowest temperature of the raising bench, °C (5 frost-free, 16 heated); raised only"""
    nursery: float = 0.0
    """effective day-degrees from emergence to planting out; raised only"""
    shock: float = SHOCK
    """effective day-degrees of them lost at planting out; raised only"""


@dataclass(frozen=True, slots=True)
class Anchor:
    """'Sown here on this day, first picked after so many days' (growth D4).

    Where `counted` says so, day and days are those of planting out, as bulletins give them for plants.
    """

    lat: float
    lon: float
    place: str
    month: int
    day: int
    days: float
    cover: CoverName
    way: WayName
    source: str
    counted: Counted = "sowing"


@dataclass(frozen=True, slots=True)
class Harvest:
    """What is picked and for how long (growth H1)."""

    profile: Profile
    stand: float = 0.0
    """°C d above 4 °C that a ripe crop holds in the ground: single, standing, stored; leaf fit to cut: cut"""
    span: float = 0.0
    """EDD from first to last picking: picking"""
    cuts: int = 0
    regrowth: float = 0.0
    """EDD between cuts: cut"""
    store_weeks: float = 0.0
    keep_weeks: float = 1.0
    """weeks a picking keeps in an ordinary kitchen or cold room before it counts as wasted"""
    years: float = 0.0
    """for which a crop that is cut again stands before it is lifted and divided; nought of one season's"""


@dataclass(frozen=True, slots=True)
class Limits:
    """Temperatures that end or spoil it. Kill: daily minimum by stage; heat: growth H3."""

    kill_seedling: float
    kill_plant: float
    kill_edible: float
    heat_mean: float
    heat_start: float | None
    """mean of three weeks in which nobody should start it; None for the usual, 5 °C over `heat_mean`"""
    heat_stand: float | None
    """mean of three weeks through which it can't stand; None for the usual (outlook.md, O6)"""
    cool_mean: float | None
    """least mean of a month in which it grows and ripens well; None where none is known that ends it"""
    fill_mean: float | None
    """usual mean below which its fruits or roots do not fill, and a plant that has none yet gives none (O10);
    None for the usual of pods and fruits"""
    set_tmax: float | None
    """a day's maximum at which half its flowers fail; None where no flower must set"""
    set_days: float | None
    """from flower to picking; None for the usual"""
    set_tmin: float | None
    """a night's minimum at which half its flowers fail; None where nights are not held against it"""
    bud: float | None
    """height above the ground, m, of the bud that brings it through the winter under snow; None of what
    stands in the air"""
    soil_min: float
    """soil (direct) or 24 h air (planted out) mean below which nobody should start it"""


TENDER = -1.5  # °C: a crop that dies of less cold is ended by the first frost


@dataclass(frozen=True, slots=True)
class Season:
    """A crop for a season (growth H6): ready before growth stands still, and not so early that it
    is past its best by then: at most `early_days` before the 21-d mean falls below 14.5 °C."""

    early_days: float


@dataclass(frozen=True, slots=True)
class Spacing:
    in_row: float
    row: float
    depth: float
    seeds_per_g: float | None
    """None for sets, cloves and tubers"""
    layout: Literal["row", "station", "broadcast"]
    tall: bool = False
    """grows out of fleece and cloche"""


@dataclass(frozen=True, slots=True)
class Produce:
    """What a square metre gives and how it is counted at the table."""

    kg_per_m2: float
    sd_ln: float
    """year-to-year standard deviation of ln(kg per m²)"""
    portion_kg: float
    piece: str
    """what one counts: head, root, bunch, ear, fruit, spear ... or 'kg'"""
    piece_kg: float


@dataclass(frozen=True, slots=True)
class CropType:
    """Varieties grown for one purpose, where they differ from the crop's others (docs/design/types.md)."""

    thermal_ratio: float = 1.0
    """their thermal time, grown to the size wanted, over the crop's"""
    bulbing: Bulbing | None = None
    harvest: Harvest | None = None
    produce: Produce | None = None
    spacing: Spacing | None = None
    limits: Limits | None = None
    """None: as the crop's"""


@dataclass(frozen=True, slots=True)
class Purpose:
    """One use of a crop with its own readiness: baby leaf is 0.6 of the thermal time."""

    name: str
    """'fresh', 'baby leaf', 'small heads', 'early kinds', 'winter use', 'storing', 'overwintering'"""
    thermal_share: float = 1.0
    type: CropType | None = None
    """the varieties grown for it, where they are not the crop's"""


@dataclass(frozen=True, slots=True)
class Crop:
    key: str
    name: str
    american: str
    botanical: str
    family: str
    ways: tuple[Way, ...]
    emergence: Emergence
    development: Development
    anchors: tuple[Anchor, ...]
    thermal_time: float
    """EDD from emergence (or planting) to first picking, solved from the anchors by a builder"""
    thermal_time_sd: float
    """sd of its logarithm (growth D7)"""
    harvest: Harvest
    limits: Limits
    spacing: Spacing
    produce: Produce
    purposes: tuple[Purpose, ...]
    bolting: tuple[LongDay | Cold, ...] = ()
    cold_heading: ColdHeading | None = None
    bulbing: Bulbing | None = None
    season: Season | None = None
    aliases: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    in_poor_light: tuple[str, ...] = ()
    """cautions that hold only of what grew in the poor light of winter"""
    sources: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """catalogue path such as 'emergence.base' → bibliography key, 'memory' or 'common practice, no source'"""

    @property
    def told(self) -> str:
        """Its name within a sentence; a table is given `name` and has it told by its own words."""
        called, comma, use = self.name.partition(", ")
        return f"{self.american if chosen() == 'en_US' else called}{comma}{tell(use)}"

    @property
    def tender(self) -> bool:
        return self.limits.kill_plant > TENDER

    @property
    def underground(self) -> bool:
        """Whether what is stored of it lies safe in the ground under tops that a frost has killed: potatoes,
        sweet potatoes, peanuts."""
        return self.harvest.profile == "stored" and self.limits.kill_edible < self.limits.kill_plant

    @property
    def sets_again(self) -> bool:
        """Whether heat costs it only the flowers open at the time: pods and fruits of tender crops picked
        over weeks set again once it is cooler (cornellheat); peas and broad beans are ended by it."""
        return self.tender and self.harvest.profile == "picking"

    def way(self, name: WayName) -> Way:
        return next(way for way in self.ways if way.name == name)

    def grown_for(self, purpose: Purpose) -> Crop:
        """The crop of the varieties grown for one of its purposes; itself where they are the crop's."""
        own = purpose.type
        if own is None:
            return self
        return replace(
            self, thermal_time=self.thermal_time * own.thermal_ratio, bulbing=own.bulbing or self.bulbing,
            harvest=own.harvest or self.harvest, produce=own.produce or self.produce,
            spacing=own.spacing or self.spacing, limits=own.limits or self.limits,
            purposes=(replace(purpose, type=None),),
        )  # fmt: skip

    @property
    def own_purposes(self) -> tuple[Purpose, ...]:
        """The purposes that its own varieties serve."""
        return tuple(purpose for purpose in self.purposes if purpose.type is None)

    @property
    def whole_purposes(self) -> tuple[Purpose, ...]:
        """The purposes that take the crop full grown: not baby leaf and the like."""
        return tuple(purpose for purpose in self.purposes if purpose.thermal_share == WHOLE)

    def by_type(self) -> tuple[Crop, ...]:
        """The crop, for what its own varieties serve, then each other type, named after its purpose."""
        others = (purpose for purpose in self.purposes if purpose.type is not None)
        return (self, *(replace(self.grown_for(one), name=f"{self.name}, {one.name}") for one in others))

    def early(self) -> Crop | None:
        """The one `by_type` of its early varieties; None where none is known."""
        return next((one for one in self.by_type()[1:] if one.purposes[0].name == EARLY), None)

    def told_as(self, name: str) -> Crop:
        """The one `by_type` of that name, as plans tell their sowings; itself where none has it."""
        return next((one for one in self.by_type() if one.name == name), self)
