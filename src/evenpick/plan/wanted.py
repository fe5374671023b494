"""What is wanted of each item in each week, gathered over the outlets."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date
from evenpick.garden.garden import Anyway, MonthDay, Wish, in_season
from evenpick.garden.limits import Away
from evenpick.plan.given import Given, together
from evenpick.plan.horizon import COUNTED_WEEKS, WEEKS, Horizon

TO_KEEP = ", to keep"


@dataclass(frozen=True, slots=True)
class WantedItem:
    """One item over all outlets: kg by week, shape (weeks,); nought past the counted weeks."""

    name: str
    crops: tuple[str, ...]
    kg: Floats
    weight: float
    kept: Ints | None = None
    """of what is to be put by: the week to which what ripens in a week is kept, -1 for none; (weeks,)"""


def wanted_items(wishes: Sequence[Wish], horizon: Horizon, stored: Set[str]) -> tuple[WantedItem, ...]:
    """Wishes of one item in several outlets are added; their crops may stand in for each other.

    `stored`: keys of crops that go to store; an item of such crops alone is counted to the end.
    """
    kinds = dict.fromkeys((wish.item, wish.keep) for wish in wishes)
    return tuple(
        _item(name, [w for w in wishes if (w.item, w.keep) == (name, keep)], horizon, stored)
        for name, keep in kinds
    )


def _item(name: str, wishes: list[Wish], horizon: Horizon, stored: Set[str]) -> WantedItem:
    crops = tuple(dict.fromkeys(crop for wish in wishes for crop in wish.crops))
    weeks = WEEKS if stored >= set(crops) else COUNTED_WEEKS
    kg = np.sum([weekly_want(wish, horizon, weeks) for wish in wishes], axis=0)
    size = np.array([wish.kg_per_week for wish in wishes])
    weight = float(np.average([wish.weight for wish in wishes], weights=size))
    if not wishes[0].keep:
        return WantedItem(name, crops, kg, weight)
    kept = np.max([_kept_until(wish, horizon) for wish in wishes], axis=0)
    return WantedItem(f"{name}{TO_KEEP}", crops, kg, weight, kept)


def _kept_until(wish: Wish, horizon: Horizon) -> Ints:
    """For each week of the season the week in which it ends, -1 outside; a season that the horizon cuts off
    has no end in it."""
    inside = season_weeks(wish.opens, wish.closes, horizon) > 0
    until, end = np.full(WEEKS, -1), -1
    for week in range(WEEKS - 2, -1, -1):
        end = week if inside[week] and not inside[week + 1] else end
        until[week] = end if inside[week] else -1
    return until


def weekly_want(wish: Wish, horizon: Horizon, weeks: int = WEEKS) -> Floats:
    """kg by week, to the first `weeks`: the days of a week that lie in the season, of seven."""
    if wish.keep:
        kg = np.zeros(WEEKS)
        ends = np.unique(_kept_until(wish, horizon))
        kg[ends[ends >= 0]] = wish.kg_per_week
    else:
        kg = wish.kg_per_week * season_weeks(wish.opens, wish.closes, horizon)
    kg[weeks:] = 0.0
    return kg


def season_weeks(opens: MonthDay | None, closes: MonthDay | None, horizon: Horizon) -> Floats:
    """Share of each week's days that lie in a season; (weeks,)."""
    return np.asarray(season_days(opens, closes, horizon).reshape(WEEKS, 7).mean(axis=1))


def season_days(opens: MonthDay | None, closes: MonthDay | None, horizon: Horizon) -> Bools:
    """Which days of the horizon lie in a season."""
    return np.array([in_season(opens, closes, *each) for each in _month_days(horizon.start, horizon.days)])


@lru_cache(maxsize=8)  # asked once for every wish
def _month_days(start: int, days: int) -> tuple[MonthDay, ...]:
    """Month and day of so many days from a day number on."""
    dates = (day_date(start + day) for day in range(days))
    return tuple((each.month, each.day) for each in dates)


def while_there(
    items: Sequence[WantedItem], wishes: Sequence[Wish], away: Sequence[Away], horizon: Horizon
) -> tuple[WantedItem, ...]:
    """The items of some wishes less what these want on days on which nobody is there; what is put by is
    wanted whole."""
    there = days_there(away, horizon)
    return tuple(
        item if item.kept is not None else replace(item, kg=_there_alone(item, wishes, there, horizon))
        for item in items
    )


def _there_alone(item: WantedItem, wishes: Sequence[Wish], there: Bools, horizon: Horizon) -> Floats:
    """kg wanted by week on days of the season on which somebody is there."""
    kg = np.zeros(WEEKS)
    for wish in wishes:
        if wish.item == item.name and not wish.keep:
            days = season_days(wish.opens, wish.closes, horizon) & there
            kg += wish.kg_per_week * days.reshape(WEEKS, 7).mean(axis=1)
    return np.minimum(kg, item.kg)


def days_there(away: Sequence[Away], horizon: Horizon) -> Bools:
    """Days of the horizon on which somebody is there."""
    days = horizon.start + np.arange(horizon.days)
    there = np.ones(horizon.days, dtype=bool)
    for span in (span for span in away if span.nobody):
        there &= (days < span.first) | (days > span.last)
    return there


def given_anyway(
    anyway: Sequence[Anyway], wanted: Sequence[WantedItem], horizon: Horizon, years: int
) -> Given:
    """What comes without a sowing, for the items wanted, alike in every year; to be eaten in its week."""
    names = [item.name.casefold() for item in wanted]
    return together(
        _every_year(names.index(each.serves.casefold()), each, horizon, years)
        for each in anyway if each.serves.casefold() in names
    )


def _every_year(item: int, each: Anyway, horizon: Horizon, years: int) -> Given:
    kg = each.kg_per_week * season_weeks(each.opens, each.closes, horizon)
    weeks = np.flatnonzero(kg)
    week, year = np.tile(weeks, years), np.repeat(np.arange(years), weeks.size)
    return Given(np.full(week.size, item), year, week, week, kg[week])
