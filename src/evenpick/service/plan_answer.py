"""What a plan is and gives: answers as frozen records of plain values.

report/ turns it into text and JSON. Dates are `datetime.date`; a year-less date is (month, day). Amounts: m²,
m of row, kg; days are whole.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from evenpick.base.trade import CoverName, WayName
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site
from evenpick.service.outlook_answer import Band
from evenpick.service.pickings_answer import Brought, ItemPickings, Measured, OthersBring
from evenpick.service.shares_answer import ShortShare, Takings


@dataclass(frozen=True, slots=True)
class PlannedSowing:
    id: str
    """stays as plans are made anew: 'radish.direct.open.2027-03-14'"""
    number: int
    sow: date
    item: str
    crop: str
    name: str
    way: WayName
    cover: CoverName
    area_m2: float
    row_m: float | None
    """metres of row; None for stations and broadcast"""
    plants: int | None
    seeds: int | None
    """seeds to sow, losses reckoned in; None for sets, cloves and tubers"""
    grams: float | None
    plant_out: date | None
    """likely day; raised only"""
    first_picking: tuple[date, date, date] | None
    """10, 50 and 90 %"""
    clear: date
    """when its ground is reckoned free"""
    success: float
    fills: tuple[date, date] | None
    """Mondays of the first and last week most of it goes to"""
    latest: date
    """the last day on which it may still be sown, or sixty days on where that is farther off"""
    because: str
    """one line: which weeks it fills and what closes its window"""
    fixed: bool = False
    """the grower fixed it: plans made anew leave it as it is"""
    beds: tuple[str, ...] = ()
    """that it goes into; none where there was no room, or nobody asked"""


@dataclass(frozen=True, slots=True)
class StandingSowing:
    """A sowing that the plan found in the ground."""

    id: str
    """of its entry in the diary"""
    sow: date
    crop: str
    name: str
    way: WayName
    cover: CoverName
    ground: str | None
    area_m2: float
    left: float
    """share that no loss has taken"""
    item: str | None
    """the item it serves; None where nobody wishes for it"""
    first_picking: tuple[date, date, date] | None
    """10, 50 and 90 %; None where it gives nothing in most years"""
    to_come: Band
    """kg still to be had of it"""
    clear: date
    """when its ground is reckoned free"""
    ground_from: date | None = None
    """when it takes its ground, where that is still to come: raised, and not planted out"""


@dataclass(frozen=True, slots=True)
class Holding:
    """What one more of something would bring, the sowings being as many as they are."""

    what: str
    season: str
    """in which it is short, such as 'spring 2027', or 'March to May 2027' within the tropics; two of them, or
    the first year"""
    full: float
    """share of its weeks in which all of it is taken"""
    portions: float
    """that a unit more would bring in the first year: of hours in each week of the season, else all year"""
    unit: str
    weeks: tuple[date, ...] = ()
    """Mondays of the weeks that it is needed in, where they are few; none: all through the season"""


@dataclass(frozen=True, slots=True)
class GivenUp:
    item: str
    missing: float
    """share of what is wanted in the first year, mean of the years"""
    because: str
    with_plenty: float | None = None
    """the same share with plenty of the one limit that is named, all else as it is; None: none is"""
    smaller_sowings_mend: bool = False
    """whether it would be mended by letting a sowing bring less; plans kept before it was told say not"""


@dataclass(frozen=True, slots=True)
class Hours:
    """Hours of work by week of the horizon, in the mean of the years."""

    there: tuple[float, ...]
    used: tuple[float, ...]
    """by what stands and what is planned"""


ChangeKind = Literal["more", "less", "new", "dropped", "moved", "missed"]


@dataclass(frozen=True, slots=True)
class Change:
    """Where a plan made anew differs from the one before."""

    kind: ChangeKind
    id: str
    """of the planned sowing"""
    name: str
    way: WayName
    sow: date
    """as it now is; of one dropped or missed, as it was"""
    was: date | None
    """the day before it was moved"""
    area_m2: float
    row_m: float | None
    plants: int | None
    """the difference of more and less; else the whole sowing"""
    why: str
    cover: CoverName = "open"
    """plans kept before it was told say open"""


@dataclass(frozen=True, slots=True)
class SeedNeed:
    crop: str
    name: str
    seeds: int | None
    grams: float | None
    have_seeds: float | None
    buy_seeds: int | None


@dataclass(frozen=True, slots=True)
class GroundUse:
    cover: str
    area_m2: float
    used: tuple[float, ...]
    """m² in each week of the horizon"""


@dataclass(frozen=True, slots=True)
class MadeFrom:
    """What the plan was made from, so that it can be made again."""

    garden: str
    """digest of the garden file"""
    weather: str
    catalogue: str
    seed: int
    years: int
    unseen_years: int
    version: str
    records: int = 0
    """sowings of the diary that taught it timing and yield"""
    diary: str = ""
    """digest of the diary; empty in plans kept before it was told"""


@dataclass(frozen=True, slots=True)
class GrownHere:
    """What the diary taught of a crop under a cover, and the plan was made with."""

    crop: str
    cover: CoverName
    time: float
    """thermal time over the catalogue's"""
    time_sd: float
    """of its logarithm"""
    produce: float
    """yield over the catalogue's"""
    produce_sd: float


@dataclass(frozen=True, slots=True)
class Lying:
    """A stretch of a bed that a sowing takes; m² along a bed whose width nobody told."""

    sowing: str
    """id of the planned sowing, or of the diary's entry; 'rest.1' and so on of ground at rest"""
    bed: str
    from_m: float
    to_m: float


@dataclass(frozen=True, slots=True)
class Moved:
    """A sowing that goes elsewhere than was told before."""

    sowing: str
    number: int | None
    """in the plan; None for what stood before it"""
    name: str
    starts: date
    """sown in place, or planted out"""
    was: tuple[Lying, ...]
    now: tuple[Lying, ...]
    """none: there is no room for it"""
    why: str


@dataclass(frozen=True, slots=True)
class PlanAnswer:
    site: Site
    climate: ClimateOrigin
    begins: date
    invented: bool
    """the demo's garden"""
    sowings: tuple[PlannedSowing, ...]
    pickings: tuple[ItemPickings, ...]
    ground: tuple[GroundUse, ...]
    seed: tuple[SeedNeed, ...]
    plan: Measured
    interval_rule: Measured
    interval_rule_setting: str
    gap: float | None
    """proven distance from the best possible plan, as a share of what is at stake; None where a plan was only
    mended, which proves nothing"""
    seconds: float
    stages: tuple[tuple[str, float], ...]
    cannot: tuple[str, ...]
    """wishes that nothing sown from now can meet, each with the reason and a remedy"""
    made_from: MadeFrom
    notes: tuple[str, ...]
    standing: tuple[StandingSowing, ...] = ()
    """what was in the ground when it was made"""
    refused: tuple[PlannedSowing, ...] = ()
    """planned once and refused: never offered again"""
    changes: tuple[Change, ...] = ()
    """what is other than in the plan before, within a quarter of a year"""
    short_of: tuple[str, ...] = ()
    """variety that boxes want and are likely not to have, in words; looked at afterwards"""
    hours: Hours | None = None
    holding: tuple[Holding, ...] = ()
    """what holds the plan back, the weightiest first; none where a cooperative's plan was only mended"""
    given_up: tuple[GivenUp, ...] = ()
    """what the plan leaves bare on purpose or by need; none where a plan was only mended"""
    learned: tuple[GrownHere, ...] = ()
    money: str = ""
    """sign or code of the money that worth and takings are in; may be empty"""
    short_shares: tuple[ShortShare, ...] = ()
    """where a share is likely under the weight or the worth that it should have; looked at afterwards"""
    takings: tuple[Takings, ...] = ()
    """what outlets bring in the first year, where something has a price"""
    brought: tuple[Brought, ...] = ()
    """none in plans kept before it was told, and with a farm's part of a cooperative's plan"""
    beaten: str = ""
    """that the interval rule leaves less bare though ground is free, and what would mend it"""
    loss_note: str = ""
    """what is told otherwise than it was kept, by the diary (service/less_lost); never kept"""
    take_in: str = ""
    """the command that takes what is told so into the plan, where there is anything; never kept"""
    lying: tuple[Lying, ...] = ()
    """where all of it lies, so that it stays there; none in plans kept before it was told"""
    moved: tuple[Moved, ...] = ()
    """what goes elsewhere than the plan before had it, within a quarter of a year"""
    uncounted: float | None = None
    """the gap before it was kept to the sowings of a week and the crops to buy seed for; None where these
    held nothing back"""
    away: tuple[tuple[date, date], ...] = ()
    """first and last day of each span on which nobody is there"""
    granted: tuple[str, ...] = ()
    """of the notes those of what was taken for granted, and what the grower is to see to"""
    others: tuple[OthersBring, ...] = ()
    """what the other farms of its cooperative bring; only as it is kept in a farm's own book"""
    together: str = ""
    """of which joint plan it is a part, after the digest of its files; empty where it is none, and in plans
    kept before it was told"""
