"""What was picked in a week by the diary is not told as nothing likely in that week."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from evenpick.base.days import day_date, monday_of
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Picked
from evenpick.garden.record import Record
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.want_lessons import picked_kg

WEEK = timedelta(days=7)


def with_picked(plan: PlanAnswer, record: Record, day: date) -> tuple[ItemPickings, ...]:
    """The items of a plan with no less in the week of a day than was picked in it up to then; a picking that
    was neither weighed nor counted was a portion at least (our choice)."""
    monday, picked = monday_of(day), _picked(plan, record, day)
    return tuple(
        replace(item, weeks=tuple(_at_least(week, picked[item.item]) if week.week == monday else week
                                  for week in item.weeks)) if item.item in picked else item
        for item in plan.pickings
    )


def _picked(plan: PlanAnswer, record: Record, day: date) -> Mapping[str, float]:
    """kg by item in the week of a day up to it."""
    items = {**{s.crop: s.item for s in plan.standing if s.item}, **{s.crop: s.item for s in plan.sowings}}
    found: dict[str, float] = defaultdict(float)
    for entry in record.entries:
        if isinstance(entry.fact, Picked) and monday_of(day) <= day_date(entry.day) <= day:
            item = items.get(entry.fact.crop)
            if item is not None:
                portion = load_catalogue().crop(entry.fact.crop).produce.portion_kg
                found[item] += picked_kg(entry.fact) or portion
    return dict(found)


def _at_least(week: WeekOfItem, kg: float) -> WeekOfItem:
    return replace(week, low=max(week.low, kg), likely=max(week.likely, kg), high=max(week.high, kg))
