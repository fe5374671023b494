"""What is to be done and picked: answers as frozen records of plain values.

report/ turns it into text and JSON. Dates are `datetime.date`; a year-less date is (month, day). Amounts: m²,
m of row, kg; days are whole.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from evenpick.base.trade import CoverName
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.site import Site
from evenpick.service.loss_answer import LossRow
from evenpick.service.outlook_answer import Band

JobKind = Literal[
    "sow", "plant", "look", "prick out", "pot on", "harden off", "plant out", "thin", "weed", "earth up",
    "support", "net", "cover", "water", "pick", "clear",
]


@dataclass(frozen=True, slots=True)
class Drill:
    """How deep and how far apart, m; `cells` is modules to fill, None where it is not raised. In pots
    nothing is between rows, and nothing in the row where each plant has a pot."""

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
    of_all: float | None = None
    """kg likely of all farms together, where this is one farm's part of it"""


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
