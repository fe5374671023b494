"""What evenpick answers, as frozen records of plain values; report/ turns them into text and JSON.

Dates are `datetime.date`; a year-less date is (month, day). Amounts: m², m of row, kg; days are whole.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from evenpick.base.trade import CoverName, Judgement, WayName
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site
from evenpick.service.shares_answer import ShortShare, Takings

MonthDay = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Band:
    """One in ten at or below `low`, as likely above as below `likely`, one in ten above `high`."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class FirstPicking:
    """Days from a sow day to the first picking."""

    sow: MonthDay
    days: Band


@dataclass(frozen=True, slots=True)
class WindowRow:
    crop: str
    name: str
    way: WayName
    cover: CoverName
    purpose: str
    opens: MonthDay
    closes: MonthDay
    all_year: bool
    success: float
    """mean over the window's days of the share of years that succeed"""
    first_picking: tuple[FirstPicking, ...]
    closed_before: str
    """what speaks against sowing just before it opens, in words; may be empty"""
    closed_after: str
    use: str = ""
    """the purpose in words that fit the place; empty where its own do"""


@dataclass(frozen=True, slots=True)
class WindowsAnswer:
    site: Site
    climate: ClimateOrigin
    windows: tuple[WindowRow, ...]
    never: tuple[tuple[str, str], ...]
    """crop names with no window under any cover asked for, and what speaks most against them"""


@dataclass(frozen=True, slots=True)
class OutlookAnswer:
    """One crop sown on one day."""

    site: Site
    climate: ClimateOrigin
    crop: str
    name: str
    way: WayName
    cover: CoverName
    purpose: str
    sow: date
    emergence: Band | None
    """days; None where it comes up in fewer than one year in five"""
    planting_out: Band | None
    """days; raised only"""
    first_picking: Band | None
    last_picking: Band | None
    fates: tuple[tuple[str, float], ...]
    """share of years by what becomes of it; sums to 1"""
    members: int
    """weather years simulated"""
    drill: DrillDries | None = None
    """None where no drill is drawn"""
    cut_short: float = 0.0
    """share of years, among the good ones, in which too little of a full harvest is picked to count"""


@dataclass(frozen=True, slots=True)
class DrillDries:
    """How often sprouting seed dries out in a drill sown that day: share of years."""

    soil: str
    unwatered: float
    watered: float
    """by the routine of `water`"""
    can_water: bool
    """else the years in which it dries out count as lost"""


@dataclass(frozen=True, slots=True)
class MonthRow:
    """A crop that may be sown in the month."""

    crop: str
    name: str
    way: WayName
    covers: tuple[CoverName, ...]
    """all covers asked for under which it may, the simplest first"""
    from_day: int
    to_day: int
    """first and last of the days of the month, under the simplest cover"""
    bench: float | None
    """°C that the raising bench must keep at least; raised only"""
    depth: float
    in_row: float
    row: float
    layout: str
    picked_from: date
    picked_to: date
    """10 % and 90 % dates of first picking for the middle of those days, in the sheet's year"""
    success: float
    interval: int | None
    """days until the next sowing for an even picking; None for what is sown once"""
    closes: MonthDay | None
    """when this window closes; None: never"""
    cautions: tuple[str, ...]
    spans: tuple[tuple[int, int], ...] = ()
    """the days, where a break parts them: first and last of each run"""


@dataclass(frozen=True, slots=True)
class PossibleRow:
    """A crop that may be sown in the month though not in its good time."""

    crop: str
    name: str
    way: WayName
    cover: CoverName
    """the simplest under which it may"""
    spans: tuple[tuple[int, int], ...]
    """days of the month"""
    opens: MonthDay | None
    """when its good time begins; None: not within the coming four months"""
    why: str
    """what speaks most against those days"""


@dataclass(frozen=True, slots=True)
class LaterRow:
    """A crop to leave, and why."""

    crop: str
    name: str
    opens: MonthDay | None
    """None: no window within the coming four months"""
    why: str


@dataclass(frozen=True, slots=True)
class MonthAnswer:
    site: Site
    climate: ClimateOrigin
    year: int
    month: int
    now: tuple[MonthRow, ...]
    later: tuple[LaterRow, ...]
    """opens in the coming four months"""
    past: tuple[LaterRow, ...]
    """window closed in the last two months"""
    possible: tuple[PossibleRow, ...] = ()
    """neither in its window on any day of the month, nor too late or too early for all of it"""


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
    """such as 'spring 2027', or 'March to May 2027' within the tropics"""
    full: float
    """share of its weeks in which all of it is taken"""
    portions: float
    """that a unit more, all through the season, would bring"""
    unit: str
    weeks: tuple[date, ...] = ()
    """Mondays of the weeks that it is needed in, where they are few; none: all through the season"""


@dataclass(frozen=True, slots=True)
class GivenUp:
    item: str
    missing: float
    """share of what is wanted in the first year, mean of the years"""
    because: str


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
class Brought:
    """What a sowing of a plan brings to an item."""

    sowing: str
    """id of the planned sowing, or in the diary of one that stands; empty for what comes without a sowing"""
    item: str
    entries: str
    """weeks and kg in each planning year, as text (service/packed)"""


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
    """what holds the plan back, the weightiest first; none where a plan was only mended"""
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
    uncounted: float | None = None
    """the gap before it was kept to the sowings of a week and the crops to buy seed for; None where these
    held nothing back"""


JobKind = Literal[
    "sow", "plant", "look", "prick out", "pot on", "harden off", "plant out", "thin", "weed", "earth up",
    "support", "net", "cover", "water", "pick", "clear",
]


@dataclass(frozen=True, slots=True)
class Drill:
    """How deep and how far apart, m; `cells` is modules to fill, None where it is not raised."""

    depth: float
    in_row: float
    between_rows: float
    cells: int | None


@dataclass(frozen=True, slots=True)
class Job:
    """Something to do for one sowing, planned or under way."""

    id: str
    """stays as the plan is made anew: such as 'sow:radish.direct.open.2027-03-14'"""
    tag: str
    """four letters and digits that stand for the id on this page"""
    when: date
    kind: JobKind
    crop: str
    name: str
    area_m2: float
    row_m: float | None
    plants: int | None
    seeds: int | None
    """to sow, losses reckoned in; None but for sowing"""
    grams: float | None
    drill: Drill | None
    """how to sow or plant it; None for other jobs"""
    where: str
    why: str
    can_wait_until: date | None
    late: bool
    """its day is past"""
    number: int | None
    """of the planned sowing in the plan"""
    planned: str | None
    """id of the planned sowing"""
    sowing: str | None
    """id of the sowing in the diary"""
    litres_per_m: float | None = None
    """to pour on a metre of drill; watering only"""
    minutes: int | None = None
    """it takes; None where nothing is known of that"""
    on: date | None = None
    """the day of its week to do it on; None where no hours are told by the day, or none has time for it"""
    ends: date | None = None
    """the last day of it, where it takes several"""


@dataclass(frozen=True, slots=True)
class AnsweredJob:
    id: str
    tag: str
    kind: str
    name: str
    answer: str
    """done, put off, refused"""
    day: date
    """on which it was answered"""


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


@dataclass(frozen=True, slots=True)
class WorkDay:
    """A day of the week with its work, in minutes."""

    day: date
    there: int
    """of all who work"""
    dealt: int = 0
    """taken by the jobs that are put on it, and by what goes on from the day before"""
    done: int = 0
    """worked already, by the diary"""


@dataclass(frozen=True, slots=True)
class Pick:
    """An item that there is likely to be of this week."""

    item: str
    piece: str
    piece_kg: float
    have: Band
    """kg"""


@dataclass(frozen=True, slots=True)
class ThirstyBed:
    """What stands, is up, and wants water on a day."""

    sowing: str
    crop: str
    name: str
    ground: str | None
    cover: CoverName
    litres: float
    """on all of it"""
    why: str


@dataclass(frozen=True, slots=True)
class TodayAnswer:
    site: Site
    day: date
    jobs: tuple[Job, ...]
    """due this week or late, what can't wait first"""
    pick: tuple[Pick, ...]
    coming: tuple[Job, ...]
    """the next fortnight's"""
    bare_ahead: tuple[tuple[str, date], ...]
    """items likely to be bare within eight weeks, with the first such Monday"""
    missed: tuple[Job, ...] = ()
    """sowings whose window has closed since; they will not come back"""
    answered: tuple[AnsweredJob, ...] = ()
    """this week's, which can be undone"""
    notes: tuple[str, ...] = ()
    take_in: str = ""
    """as of `PlanAnswer`"""
    lost: tuple[LossRow, ...] = ()
    """what was lost since the plan was made"""
    days: tuple[WorkDay, ...] = ()
    """to the end of the week, where hours are told by the day; the jobs on none of them find no time in it"""
    far: ClimateOrigin | None = None
    """where the weather comes from, if that is far off"""
    thirsty: tuple[ThirstyBed, ...] = ()
    """beds to water on the day, the most litres first; drills are jobs"""


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
