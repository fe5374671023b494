"""What holds the plan back, by season, and its rows in words (docs/design/season.md, 15)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date
from evenpick.base.language import later, month_name, tell, tell_n
from evenpick.base.unbroken import unbroken
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.families import said
from evenpick.crops.sown import planted_as
from evenpick.crops.winter import has_winter
from evenpick.plan.counts import CROWDED, UNBOUGHT, shuts
from evenpick.plan.farms import row_and_farm
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.kept import Exact
from evenpick.plan.rows import FAMILY, HOURS, SEED
from evenpick.plan.task import Task
from evenpick.plan.worth import Worth, worth
from evenpick.service.plan_answer import Holding
from evenpick.service.week_words import told_weeks

FULL = 0.9
LEAST = 0.1
"""portions that a unit more must bring to be told"""
FEW_WEEKS, NEARLY_ALL = 3, 0.95
"""weeks that are named in place of a season, and the share of what it would bring that is theirs"""
FEW_RUNS = 2
"""spans in which something is full that are named; more are counted"""
SEASONS = (later("winter"), later("spring"), later("summer"), later("autumn"))
GROUND = {
    "open": later("open ground"), "tunnel": later("tunnel"), "fleece": later("fleece"),
    "cloche": later("cloches"), "bench": later("the raising bench"),
}


def holding(work: Task, areas: Floats, horizon: Horizon, lats: Mapping[str, float]) -> tuple[Holding, ...]:
    """What a unit more of each thing would bring, by season of the first year, the greatest first; `lats` of
    the farms by name."""
    # portions are told, each for one: not what the first of an item count more (planner.md, 2a)
    found = worth(replace(work.request, scarce_worth=0.0), areas)
    seasons = {farm: _seasons(horizon, lat) for farm, lat in lats.items()}
    rows = enumerate(work.request.grounds.names)
    told = [each for row, name in rows if not shuts(name)
            for each in _of_row(work, found, row, name, seasons[row_and_farm(name)[1]], horizon)]
    return tuple(sorted(told, key=lambda each: -each.portions))


def _seasons(horizon: Horizon, lat: float) -> list[str]:
    """The season of each week of the first year: 'spring 2027'; a winter bears the year it ends in. Within
    the tropics the same quarters by their months."""
    return [_season(day_date(horizon.start + 7 * week), lat) for week in range(YEAR_WEEKS)]


def _season(monday: date, lat: float) -> str:
    number = monday.month % 12 // 3
    if not has_winter(lat):
        return _months(monday.year + (monday.month == 12), number)
    name = SEASONS[number if lat >= 0 else (number + 2) % 4]
    year = monday.year + (monday.month == 12)
    return f"{tell(name)} {year}"


def _months(year: int, number: int) -> str:
    """'March to May 2027'; the first quarter begins in the December before."""
    last = month_name(3 * number + 2)
    if number == 0:
        return tell("{first} {year} to {last} {next}", first=month_name(12), year=year - 1, last=last,
                    next=year)
    return tell("{first} to {last} {year}", first=month_name(3 * number), last=last, year=year)


def _of_row(
    work: Task, found: Worth, row: int, name: str, seasons: Sequence[str], horizon: Horizon
) -> Iterator[Holding]:
    limit = work.request.grounds.limit[row]
    what, unit, scale = _called(name)
    if name.startswith(SEED):
        worth_of = scale * float(found.price[row].sum())
        if worth_of >= LEAST:
            yield Holding(what, tell("the first year"), 1.0, worth_of, unit)
        return
    for season in dict.fromkeys(seasons):
        weeks = np.flatnonzero(np.array(seasons) == season)
        full = found.used[row, weeks] >= FULL * limit[weeks]
        price = found.price[row, weeks]
        portions = scale * float(price.sum())
        if portions >= LEAST:
            needed = tuple(day_date(horizon.start + 7 * int(week)) for week in weeks[_most_of(price)])
            yield Holding(what, season, float(full.mean()), portions, unit,
                          needed if len(needed) <= FEW_WEEKS else ())


def _most_of(price: Floats) -> Ints:
    """Where nearly all of it is, in order."""
    dear = np.argsort(-price, kind="stable")
    before = np.cumsum(price[dear]) - price[dear]
    return np.sort(dear[before < NEARLY_ALL * price.sum()])


def _called(name: str) -> tuple[str, str, float]:
    """A row in words, the unit more that is told, and how many of the row's own that is."""
    row, farm = row_and_farm(name)
    on = _on(farm)
    if row == HOURS:
        return tell("hours of work{on}", on=on), tell("hour a week"), 60.0
    if row.startswith(SEED):
        return _seed_of(row.removeprefix(SEED), on)
    if row.startswith(FAMILY):
        family, cover = row.removeprefix(FAMILY).split()
        part = tell("the part of {ground} for {family}{on}", ground=tell(GROUND[cover]),
                    family=tell(said(family)), on=on)
        return part, "m²", 1.0
    if row == "bench":
        return f"{tell(GROUND[row])}{on}", tell("10 modules"), 10.0
    return f"{GROUND.get(row, row)}{on}", "m²", 1.0


def _on(farm: str) -> str:
    return tell(" on {farm}", farm=farm) if farm else ""


def _seed_of(key: str, on: str) -> tuple[str, str, float]:
    """As of `_called`: seed by the hundred, what is planted by the ten."""
    name = load_catalogue().crop(key).told
    match planted_as(key):
        case "tuber":
            return tell("tubers of {name}{on}", name=name, on=on), tell("10 tubers"), 10.0
        case "slip":
            return tell("slips of {name}{on}", name=name, on=on), tell("10 slips"), 10.0
        case "clove":
            return tell("cloves of {name}{on}", name=name, on=on), tell("10 cloves"), 10.0
        case "set":
            return tell("{name}{on}", name=name, on=on), tell("10 sets"), 10.0
    return tell("seed of {name}{on}", name=name, on=on), tell("100 seeds"), 100.0


def plainly(name: str) -> str:
    """A row's name in words."""
    row, farm = row_and_farm(name)
    if row == CROWDED:
        return tell("sowings that may be made in a week{on}", on=_on(farm))
    if row == UNBOUGHT:
        return tell("crops that seed may be bought for{on}", on=_on(farm))
    return _called(name)[0].removeprefix("the ")


def when_full(task: Exact, areas: Floats, name: str, horizon: Horizon) -> str:
    """A row in words, with the weeks of the first year in which it is all but full, if it is so in any."""
    said, full = plainly(name), _full_weeks(task, areas, name)
    if shuts(name) or name.startswith(SEED) or not full.any():
        return said
    if full.all():
        return tell("{what} (full all year)", what=said)
    if len(list(unbroken(full))) > FEW_RUNS:
        return tell_n("{what} (full in {n} week)", "{what} (full in {n} weeks)", int(full.sum()),
                      what=said)
    return tell("{what} (full in {weeks})", what=said, weeks=told_weeks(full, horizon))


def _full_weeks(task: Exact, areas: Floats, name: str) -> Bools:
    """Weeks of the first year in which nine tenths of a row are taken; (52,)."""
    ground = task.request.grounds
    row = ground.names.index(name)
    limit = ground.limit[row, :YEAR_WEEKS]
    return np.asarray((limit > 0) & (ground.used(areas)[row, :YEAR_WEEKS] >= FULL * limit))
