"""When a crop may be sown, and what comes of it: answers as frozen records of plain values.

report/ turns it into text and JSON. Dates are `datetime.date`; a year-less date is (month, day). Amounts: m²,
m of row, kg; days are whole.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenpick.base.trade import CoverName, WayName
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site

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
    watered: bool = True
    """whether somebody can water the open ground; else the windows are what the rain leaves"""


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
    own_time: float = 1.0
    """thermal time to the first picking by the garden's own diary, over the book's"""


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
    watered: bool = True
    """as of windows"""
