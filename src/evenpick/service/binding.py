"""What holds the plan back, by season, and what it gives up (docs/design/season.md, 15 and 16)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date
from evenpick.base.language import later, month_name, tell, tell_n
from evenpick.base.language import together as all_of
from evenpick.base.unbroken import unbroken
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.families import said
from evenpick.crops.sown import planted_as
from evenpick.crops.winter import has_winter
from evenpick.plan.counts import CROWDED, UNBOUGHT, shuts
from evenpick.plan.farms import row_and_farm
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.kept import Exact
from evenpick.plan.measure import Measure
from evenpick.plan.rows import FAMILY, HOURS, SEED
from evenpick.plan.search import Step, descend, room_left
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem
from evenpick.plan.weekly import reachable_weeks, something_ripe
from evenpick.plan.worth import Worth, worth
from evenpick.service.out_of_reach import no_room_for
from evenpick.service.plan_answer import GivenUp, Holding
from evenpick.service.week_words import told_weeks

FULL = 0.9
LEAST = 0.1
"""portions that a unit more must bring to be told"""
NOTED = 0.05
"""share of what is wanted of an item that must be missing to be told"""
FEW_WEEKS, NEARLY_ALL = 3, 0.95
"""weeks that are named in place of a season, and the share of what it would bring that is theirs"""
FEW_RUNS = 2
"""spans in which something is full that are named; more are counted"""
HALF = 0.5
STEPS = 3  # of descent: enough to see what is in the way
ENDLESS = 1e9
NEARLY = 0.8  # of the greatest gain: nearly as good, and told if it comes first
SEASONS = (later("winter"), later("spring"), later("summer"), later("autumn"))
GROUND = {
    "open": later("open ground"), "tunnel": later("tunnel"), "fleece": later("fleece"),
    "cloche": later("cloches"), "bench": later("the raising bench"),
}


def holding(work: Task, areas: Floats, horizon: Horizon, lats: Mapping[str, float]) -> tuple[Holding, ...]:
    """What a unit more of each thing would bring, by season of the first year, the greatest first; `lats` of
    the farms by name."""
    found = worth(work.request, areas)
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


def given_up(
    work: Task, task: Exact, areas: Floats, wanted: Sequence[WantedItem], found: Measure, horizon: Horizon,
    unlaid: Measure | None = None, growers: Sequence[Sequence[str]] | None = None,
) -> tuple[GivenUp, ...]:
    """Items of which more than a twentieth is missing in the first year, with what is in the way; `task` is
    of the request of `work`, `areas` are those before any was made smaller for the beds, and give what
    `unlaid` says; None: none was; `growers` as of `out_of_reach`."""
    reach, ripe = reachable_weeks(work), something_ripe(work)
    told = []
    for number, item in enumerate(wanted):
        unmet = found.unmet[number]
        cut = 0.0 if unlaid is None else float((unmet - unlaid.unmet[number])[:YEAR_WEEKS].sum())
        each = _given_up(work, task, areas, number, item.name, unmet, reach[number], ripe[number], horizon,
                         cut)
        if each is not None and no_room_for(work, item, growers[number] if growers else None):
            each = replace(each, because=tell("no ground is large enough for the least of it"))
        told += [] if each is None else [each]
    return tuple(sorted(told, key=lambda each: -each.missing))


def _given_up(
    work: Task, task: Exact, areas: Floats, number: int, item: str, unmet: Floats, reach: Bools, ripe: Bools,
    horizon: Horizon, cut: float = 0.0,
) -> GivenUp | None:
    """`unmet` kg (weeks, years), of which `cut` for want of room in the beds; `reach` (weeks,) and `ripe`
    (years, weeks), whether something can be there, often enough and in each year."""
    wanted, unmet = work.request.wanted[number, :YEAR_WEEKS].sum(), unmet[:YEAR_WEEKS]
    lacking, years = unmet.sum(), unmet.shape[1]
    if wanted <= 0 or lacking < NOTED * wanted * years:
        return None
    if cut > lacking / 2:
        because = tell("the beds are too small or too full for what their area would bear")
    elif unmet[~reach[:YEAR_WEEKS]].sum() > lacking / 2:
        because = tell("nothing that can be sown is ripe in those weeks")
    elif unmet[~ripe[:, :YEAR_WEEKS].T].sum() > lacking / 2:
        because = tell("in most years nothing that can be sown is ripe when it is wanted"
                       if _mostly_bare(work.request.wanted[number, :YEAR_WEEKS], ripe[:, :YEAR_WEEKS])
                       else "in bad years nothing that can be sown is ripe when it is wanted")
    else:
        because = _in_the_way(work, task, areas, number, horizon)
    return GivenUp(item, float(lacking / years / wanted), because)


def _mostly_bare(wanted: Floats, ripe: Bools) -> bool:
    """Whether of most of what is `wanted` (weeks,) nothing is ripe in most years; `ripe` (years, weeks)."""
    return bool(wanted[ripe.mean(axis=0) < HALF].sum() > HALF * wanted.sum())


def _in_the_way(work: Task, task: Exact, areas: Floats, number: int, horizon: Horizon) -> str:
    """The one thing of which plenty, all else as it is, would better the item most."""
    now = areas[task.parts[number].members]
    least = NOTED * _cost(work, task, number, now)
    gains = {name: _gained(work, task, areas, number, {name}) for name in _full(work, task, areas)}
    most = max(gains.values(), default=0.0)
    # rows come in the order of the grower's means: open ground before the tunnel, ground before hours
    best = next((name for name, gain in gains.items() if gain >= NEARLY * most), None)
    if best is not None and most >= least:
        return tell("not enough {best}", best=_when_full(task, areas, best, horizon))
    together = _wanting(work, task, areas, number, least)
    if len(together) == 1:
        return tell("not enough {best}", best=_when_full(task, areas, together[0], horizon))
    if together:
        return tell("not enough {plainly}, together", plainly=all_of([_when_full(task, areas, each, horizon)
                                                                         for each in together]))
    if not now.any():
        return tell("nothing of it is sown, for one sowing brings less in the weeks in which it is good than "
                    "it must (worth_a_sowing under [plan]; or wish for more of it while it is ripe)")
    return tell("years that give less, and gaps too small to be worth another sowing")


def _full(work: Task, task: Exact, areas: Floats) -> list[str]:
    """Names of the rows that are taken up in some week."""
    rows, names = task.rows, work.request.grounds.names
    full = rows.used(areas) >= FULL * rows.limit
    return [names[row] for row in np.unique(rows.key[full] // work.request.weeks)]


def _cost(work: Task, task: Exact, number: int, areas: Floats) -> float:
    part, c = task.parts[number], work.request.candidates
    trouble, cost = c.trouble[part.members], c.cost[part.members]
    return float(part.losses.items(areas)[0] + trouble @ (areas > 0) + cost @ areas)


def _gained(work: Task, task: Exact, areas: Floats, number: int, plenty: Set[str]) -> float:
    """What the item would gain on the ground the others leave, with no limit on some rows."""
    way = _with_plenty(work, task, areas, number, plenty)
    return way[0].cost - way[-1].cost


def _with_plenty(
    work: Task, task: Exact, areas: Floats, number: int, plenty: Set[str]
) -> list[Step]:
    rows, names, part = task.rows, work.request.grounds.names, task.parts[number]
    free = np.isin(rows.key // work.request.weeks, [names.index(name) for name in plenty])
    wide = replace(rows, limit=np.where(free, ENDLESS, rows.limit))
    room = room_left(part, wide, areas, work.request.candidates.cost)
    return descend(part, room, areas[part.members], STEPS)


def _wanting(work: Task, task: Exact, areas: Floats, number: int, least: float) -> list[str]:
    """The two rows that the item would overfill most if all were plenty; none if it would gain little."""
    names = work.request.grounds.names
    way = _with_plenty(work, task, areas, number, set(names))
    if way[0].cost - way[-1].cost < least:
        return []
    x = areas.copy()
    x[task.parts[number].members] = way[-1].x
    over = task.rows.used(x) / np.maximum(task.rows.limit, 1e-9) - 1.0
    excess = np.bincount(task.rows.key // work.request.weeks, np.maximum(over, 0.0), len(names))
    return [names[row] for row in np.argsort(-excess, kind="stable")[:2] if excess[row] > 0]


def _plainly(name: str) -> str:
    """A row's name in words."""
    row, farm = row_and_farm(name)
    if row == CROWDED:
        return tell("sowings that may be made in a week{on}", on=_on(farm))
    if row == UNBOUGHT:
        return tell("crops that seed may be bought for{on}", on=_on(farm))
    return _called(name)[0].removeprefix("the ")


def _when_full(task: Exact, areas: Floats, name: str, horizon: Horizon) -> str:
    """A row in words, with the weeks of the first year in which it is all but full, if it is so in any."""
    plainly, full = _plainly(name), _full_weeks(task, areas, name)
    if shuts(name) or name.startswith(SEED) or not full.any():
        return plainly
    if full.all():
        return tell("{what} (full all year)", what=plainly)
    if len(list(unbroken(full))) > FEW_RUNS:
        return tell_n("{what} (full in {n} week)", "{what} (full in {n} weeks)", int(full.sum()),
                      what=plainly)
    return tell("{what} (full in {weeks})", what=plainly, weeks=told_weeks(full, horizon))


def _full_weeks(task: Exact, areas: Floats, name: str) -> Bools:
    """Weeks of the first year in which nine tenths of a row are taken; (52,)."""
    ground = task.request.grounds
    row = ground.names.index(name)
    limit = ground.limit[row, :YEAR_WEEKS]
    return np.asarray((limit > 0) & (ground.used(areas)[row, :YEAR_WEEKS] >= FULL * limit))
