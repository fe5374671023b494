"""What there is to pick in a week and for whom; runs of bare weeks and of gluts, with what mends each."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial
from itertools import groupby

from evenpick.base.days import first_monday, monday_of, short_date
from evenpick.garden.garden import Wish
from evenpick.service.outlook_answer import Band
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing

LEAST = 0.02
"""kg: less is not worth a walk down the garden"""
LITTLE = 0.1
"""kg over that are no glut"""
BARE, OVER = 0.5, 1.25
"""of what is wanted: likely below, likely above"""
WEEK = timedelta(weeks=1)


@dataclass(frozen=True, slots=True)
class OutletShare:
    outlet: str
    wanted: float
    likely: float
    """kg; where there is less than is wanted, every outlet goes short alike"""
    worth: float | None = None
    """money for what is likely; None without a price"""


@dataclass(frozen=True, slots=True)
class ListedItem:
    """One item to pick in a week, kg."""

    item: str
    piece: str
    piece_kg: float
    wanted: float
    have: Band
    outlets: tuple[OutletShare, ...]
    spare: float
    """likely to be left when every outlet has what it wants"""
    of_all: float | None = None
    """kg likely of all farms together, where this is one farm's part of it"""


@dataclass(frozen=True, slots=True)
class Run:
    """Weeks in a row in which an item is likely bare, or over."""

    item: str
    first: date
    last: date
    """Mondays"""
    wanted: float
    likely: float
    """kg over the run"""
    filled_by: tuple[PlannedSowing, ...]
    """planned sowings of which most comes in those weeks"""
    too_soon: bool
    """nothing sown from the plan's start could be ripe"""
    reason: str
    """the plan's own word on why it can't be had; may be empty"""


def picking_list(
    items: Sequence[ItemPickings], wishes: Sequence[Wish], day: date
) -> tuple[ListedItem, ...]:
    """Everything likely to be ripe or wanted in the ISO week of a day, in the order of the wishes."""
    monday = monday_of(day)
    return tuple(
        _listed(item, week, wishes, monday)
        for item in items for week in item.weeks
        if week.week == monday and (week.wanted > 0 or week.high > LEAST)
    )


def _listed(item: ItemPickings, week: WeekOfItem, wishes: Sequence[Wish], monday: date) -> ListedItem:
    wants = [(wish, wish.kg_per_week * share_in(wish, monday))
             for wish in wishes if wish.item == item.item and not wish.keep]
    part = week.wanted / max(sum(kg for _, kg in wants), 1e-9)  # less than all where nobody is there
    there = min(1.0, week.likely / week.wanted) if week.wanted > 0 else 0.0
    outlets = tuple(_outlet(wish, kg * part, kg * part * there) for wish, kg in wants if kg > 0)
    return ListedItem(item.item, item.piece, week.piece_kg or item.piece_kg, week.wanted,
                      Band(week.low, week.likely, week.high), outlets, max(0.0, week.likely - week.wanted),
                      week.of_all)


def _outlet(wish: Wish, wanted: float, likely: float) -> OutletShare:
    return OutletShare(wish.outlet, wanted, likely, None if wish.price is None else wish.price * likely)


def share_in(wish: Wish, monday: date) -> float:
    """Of the week's days those that lie in the wish's season, as the plan counts them."""
    days = (monday + timedelta(days=at) for at in range(7))
    return sum(wish.wanted_on(day.month, day.day) for day in days) / 7


def bare_runs(
    plan: PlanAnswer, day: date, weeks: int = 52, parted: bool = False, shared: bool = False
) -> tuple[Run, ...]:
    """Runs of weeks with less than half of what is wanted, from the week of `day`; weeks in which nothing
    sown from the plan's start could be ripe are told by the plan's own words. `parted`: weeks that planned
    sowings fill apart from those that none does, for what mends the ones can't mend the others. `shared` as
    of `is_bare`."""
    return _runs(plan, day, weeks, parted, lambda week: is_bare(week, shared))


def is_bare(week: WeekOfItem, shared: bool) -> bool:
    """Less than half of what is wanted. What a farm `shared` with others is bare if it is so on all of them:
    its parts of what is wanted and of what is bare are in the same ratio as the wholes."""
    there = week.wanted - week.bare if shared else week.likely
    return week.wanted > 0 and there < BARE * week.wanted


def glut_runs(plan: PlanAnswer, day: date, weeks: int = 52, parted: bool = False) -> tuple[Run, ...]:
    """Runs of weeks with more than a quarter over what is wanted; `parted` as in `bare_runs`."""
    return _runs(plan, day, weeks, parted,
                 lambda week: week.likely > max(OVER * week.wanted, week.wanted + LITTLE))


def _runs(
    plan: PlanAnswer, day: date, weeks: int, parted: bool, is_one: Callable[[WeekOfItem], bool]
) -> tuple[Run, ...]:
    first = first_monday(day, plan.begins)
    last = first + weeks * WEEK

    def kind(item: ItemPickings, week: WeekOfItem) -> tuple[bool, bool]:
        return is_one(week), parted and bool(filling(plan, item.item, week.week, week.week))

    found = (
        _run(plan, item, list(run)) for item in plan.pickings
        for (wanted, _), run in groupby(
            (week for week in item.weeks if first <= week.week < last), partial(kind, item))
        if wanted
    )
    return tuple(sorted(found, key=lambda run: (run.first, run.item)))


def _run(plan: PlanAnswer, item: ItemPickings, weeks: Sequence[WeekOfItem]) -> Run:
    first, last = weeks[0].week, weeks[-1].week
    return Run(item.item, first, last, sum(week.wanted for week in weeks), sum(week.likely for week in weeks),
               filling(plan, item.item, first, last), last < item.weeks[0].week + item.lead * WEEK,
               _reason(plan, item.item, first, last))


def _reason(plan: PlanAnswer, item: str, first: date, last: date) -> str:
    """What the plan says of an item in just these weeks, else why most of what is missing of it in the year
    is missing; a remark on a week of November is no reason for a hole in spring."""
    def named(said: str) -> bool:
        return all(re.search(rf"(?<!\d){re.escape(short_date(week))}\b", said) for week in (first, last))

    exact = (said for said in plan.cannot if said.startswith(f"{item}: ") and named(said))
    year = (given.because for given in plan.given_up if given.item == item)
    return next(exact, next(year, ""))


def filling(plan: PlanAnswer, item: str, first: date, last: date) -> tuple[PlannedSowing, ...]:
    """Planned sowings of an item of which most is to be picked in weeks between two Mondays."""
    return tuple(
        sowing for sowing in plan.sowings
        if sowing.item == item and sowing.fills is not None
        and sowing.fills[0] <= last and sowing.fills[1] >= first
    )
