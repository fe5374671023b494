"""What holds the plan back, by season, and its rows in words (docs/design/season.md, 15)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date
from evenpick.base.language import later, month_name, tell, tell_n, together
from evenpick.base.unbroken import unbroken
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.families import said
from evenpick.crops.sown import planted_as
from evenpick.crops.winter import has_winter
from evenpick.garden.garden import Garden
from evenpick.plan.counts import CROWDED, UNBOUGHT, shuts
from evenpick.plan.farms import row_and_farm
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.kept import Exact
from evenpick.plan.rows import FAMILY, HOURS, SEED
from evenpick.plan.task import Task
from evenpick.plan.worth import Worth
from evenpick.service.plan_answer import Holding
from evenpick.service.plan_limits import hour_more
from evenpick.service.week_words import told_weeks

FULL = 0.9
LEAST = 0.1
"""portions that a unit more must bring to be told"""
FEW_WEEKS, NEARLY_ALL = 3, 0.95
"""weeks that are named in place of a season, and the share of what it would bring that is theirs"""
FEW_SEASONS = 2
"""that are named; in place of more the year is"""
FEW_RUNS = 2
"""spans in which something is full that are named; more are counted"""
SEASONS = (later("winter"), later("spring"), later("summer"), later("autumn"))
GROUND = {
    "open": later("open ground"), "tunnel": later("tunnel"), "fleece": later("fleece"),
    "cloche": later("cloches"), "bench": later("the raising bench"),
}


def holding(
    work: Task, areas: Floats, horizon: Horizon, gardens: Mapping[str, Garden]
) -> tuple[Holding, ...]:
    """What a unit more of each thing would bring in the first year, the greatest first; `gardens` of the
    farms by name."""
    # portions are told, each for one: not what the first of an item count more (planner.md, 2a)
    found = Worth(replace(work.request, scarce_worth=0.0), areas)
    farms = {farm: _Farm(_seasons(horizon, garden.site.lat), hour_more(garden, horizon))
             for farm, garden in gardens.items()}
    rows = enumerate(work.request.grounds.names)
    told = [each for row, name in rows if not shuts(name)
            for each in _of_row(work, found, row, name, farms[row_and_farm(name)[1]], horizon)]
    return tuple(sorted(told, key=lambda each: -each.portions))


@dataclass(frozen=True, slots=True)
class _Farm:
    seasons: Sequence[str]
    """of each week of the first year"""
    hour: Floats | None
    """minutes that an hour a week more would bring, (weeks,); None where hours are not limited"""


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
    work: Task, found: Worth, row: int, name: str, farm: _Farm, horizon: Horizon
) -> Iterator[Holding]:
    """Hands are hired for a season, so hours are told by it; what else there is more of is there all year."""
    what, unit, scale = _called(name)
    seasons, every = np.array(farm.seasons), np.arange(YEAR_WEEKS)
    spans = [every]
    more = np.full(work.request.grounds.limit.shape[1], scale)
    if farm.hour is not None and row_and_farm(name)[0] == HOURS:
        spans, more = [np.flatnonzero(seasons == each) for each in dict.fromkeys(farm.seasons)], farm.hour
    for weeks in spans:
        portions = found.brought(row, _only(more, weeks), LEAST)
        if portions < LEAST:
            continue
        needed = weeks[_most_of(found.price[row, weeks] * more[weeks])]
        when = list(dict.fromkeys(seasons[needed].tolist()))
        short = weeks[np.isin(seasons[weeks], when)]
        few = len(needed) <= FEW_WEEKS and not name.startswith(SEED) and (
            found.brought(row, _only(more, needed)) >= NEARLY_ALL * portions)
        full = found.used[row, short] >= FULL * work.request.grounds.limit[row, short]
        yield Holding(what, _told(when, name), float(full.mean()), portions, unit,
                      tuple(day_date(horizon.start + 7 * int(week)) for week in needed) if few else ())


def _told(seasons: Sequence[str], name: str) -> str:
    """When it is short: seed at any time, what is short in more than two seasons all year."""
    if name.startswith(SEED) or len(seasons) > FEW_SEASONS:
        return tell("the first year")
    return together(seasons)


def _only(more: Floats, weeks: Ints) -> Floats:
    """Nothing more in other weeks."""
    found = np.zeros(more.size)
    found[weeks] = more[weeks]
    return found


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
