"""A season replanned every month from what has happened so far, on weather years that no plan saw.

The first plan is the one that stands beside it in regret.md. At each later month the days before are known as
they were in the year that is tried; what was sown stands as the grower sees it, and the plan is mended
(`plan/mend.py`). Where it learns, what was picked so far tells how fast each crop is and how well it yields,
with the diary's own model and priors (docs/design/learning.md, 1 to 4). The sow days offered are those of the
first plan, and nothing past its horizon is wanted, so that all rows measure the same. Assumed of the grower:
a sowing's stand is seen the day it is up; one that failed is known a month after it was up or planted out;
what is eaten and what goes over is weighed.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName, WayName
from evenpick.climate.weather import WeatherYears
from evenpick.crops.crop import Crop
from evenpick.crops.here import AsHere, as_catalogued
from evenpick.garden.garden import Garden
from evenpick.learn.learned import Learned
from evenpick.learn.shrinking import TIMING, YIELD, Evidence, shrink
from evenpick.outlook.grow import grow
from evenpick.outlook.ripening import cleared, ripening
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import behind
from evenpick.plan.amounts import rounded
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.limits import Season
from evenpick.plan.luck import best_emerged, harvest_factors, stand_factors, timing_factors
from evenpick.plan.measure import Measure, evaluate
from evenpick.plan.mend import mended
from evenpick.plan.options import Batch, Option, holds
from evenpick.plan.request import Supply
from evenpick.plan.standing import Standing, given_by, grown
from evenpick.plan.task import Task, task
from evenpick.plan.wanted import WantedItem
from evenpick.service.growing import emerged_best
from evenpick.service.plan_weather import TAIL

MONTHS = tuple(round(52 * month / 12) for month in range(1, 15))
"""weeks after the first plan's beginning at which it is made anew"""
FAILED = 30
"""days after it was up, or planted out, at which a grower has seen that a sowing came to nothing"""
YEAR = 364
Kind = tuple[int, str, WayName, CoverName, int]
"""item, crop, way, cover, axis day of the first plan"""


@dataclass(frozen=True, slots=True)
class Tried:
    """The garden, its weather years and the first plan's task."""

    garden: Garden
    horizon: Horizon
    weather: WeatherYears
    seen: Ints
    unseen: Ints
    crops: Mapping[str, Crop]
    wanted: tuple[WantedItem, ...]
    made: Mapping[str, tuple[Batch, ...]]
    work: Task


def measured(tried: Tried, first: Floats, years: Ints, learning: bool = False) -> Measure:
    """The `years` (numbers among the unseen), each replanned by itself from the `first` plan's areas."""
    request, parts = tried.work.request, []
    for year in years:
        areas, supply = replanned(tried, first, int(year), learning), of_year(tried.work.unseen, int(year))
        parts.append(evaluate(request.candidates.item, areas, supply, request.wanted, 1))
        print(f"  replanned {year}", file=sys.stderr, flush=True)
    return joined(parts)


def joined(parts: Sequence[Measure]) -> Measure:
    """Measures of single years as one."""
    return Measure(**{name: np.concatenate([getattr(part, name) for part in parts], axis=-1)
                      for name in ("bare", "spare", "bare_weeks", "used", "over", "unmet")})


def replanned(tried: Tried, first: Floats, year: int, learning: bool) -> Floats:
    """What was sown in the end, m² by the first plan's candidates."""
    numbers = {_kind(option, 0): number for number, option in enumerate(tried.work.options)}
    planned = {kind: float(first[number]) for kind, number in numbers.items() if first[number] > 0}
    made = np.zeros(len(first))
    for week, after in zip((0, *MONTHS), (*MONTHS, WEEKS), strict=True):
        if week:  # what the first plan could not offer can't be measured: it is left out
            found = _planned(tried, made, planned, year, week, learning)
            planned = {kind: area for kind, area in found.items() if kind in numbers}
        for kind, area in planned.items():
            if 7 * week <= kind[4] < 7 * after:
                made[numbers[kind]] = area
    return made


def _kind(option: Option, past: int) -> Kind:
    batch = option.batch
    return option.item, batch.crop.key, batch.way.name, batch.cover, past + option.day


def _planned(
    tried: Tried, made: Floats, before: Mapping[Kind, float], year: int, week: int, learning: bool
) -> dict[Kind, float]:
    """The plan mended at the beginning of a week; areas by kind."""
    past, seed = 7 * week, tried.garden.plan.seed
    known = _known(tried, int(tried.unseen[year]), past)
    years = np.arange(tried.seen.size)
    ahead = known.from_day(past)
    horizon = Horizon(ahead.start, tried.horizon.weekday)
    wanted = tuple(_later(item, week) for item in tried.wanted)
    settings, since = (Settings(each, lowest=tried.garden.lowest) for each in (ahead, known))
    as_here = _learned(tried, made, since, year, past) if learning else as_catalogued
    offered = {key: tuple(_again(batch, settings, past, years, seed, as_here) for batch in several
                          if batch.days[-1] >= past) for key, several in tried.made.items()}
    stood = [grown(one, as_here(tried.crops[one.crop], one.cover), since, horizon, (years,), seed,
                   emerged_best(one, tried.made))
             for one in _standing(tried, made, year, past)]
    season = Season(given_by(stood, wanted), [hold for one in stood for hold in one.holds])
    work = task(tried.garden, wanted, offered, years, years[:0], seed, season, horizon.start)
    old = np.array([before.get(_kind(option, past), 0.0) for option in work.options])
    areas = rounded(work.request, work.options, mended(work.request, old).areas)
    return {_kind(option, past): float(area)
            for option, area in zip(work.options, areas, strict=True) if area > 0}


def _learned(tried: Tried, made: Floats, since: Settings, year: int, past: int) -> AsHere:
    """Crops as what was picked before an axis day taught; of what failed nothing is learned."""
    member, sown = int(tried.unseen[year]), [tried.work.options[i] for i in np.flatnonzero(made > 0)]
    picked = [one for one in sown if _first(one, member) < past]
    times = [record for one in picked for record in _timing(one, since, member)]
    weights = [_weighed(one, member) for one in picked if one.batch.outcome.last[member, one.index] < past]
    return Learned(shrink(times, TIMING), shrink(weights, YIELD)).crop


def _first(option: Option, member: int) -> float:
    """Its first picking; of one that failed never."""
    out, i = option.batch.outcome, option.index
    lived = out.share[member, i] * option.batch.stand[member, i] > 0
    return float(out.first[member, i]) if lived else np.inf


def _timing(option: Option, since: Settings, member: int) -> Iterator[Evidence]:
    """ln of the thermal time to its first picking over the catalogue's; bulbs and what waits for cold have
    none of their own."""
    batch, crop = option.batch, option.batch.crop
    if crop.bulbing is not None or crop.cold_heading is not None:
        return
    out, i = batch.outcome, option.index
    place, first = (np.full((since.weather.years, 1), days[member, i]) for days in (out.place, out.first))
    took = float(since.cover(batch.cover).growth_clock(crop.development).between(place, first)[0, 0])
    took += behind(batch.way) if batch.way.name == "raised" else 0.0
    yield Evidence(crop.key, "", batch.cover, float(np.log(took / crop.thermal_time)))


def _weighed(option: Option, member: int) -> Evidence:
    """ln of what it gave over the catalogue's yield of its stand: the good or bad year that it had."""
    batch = option.batch
    return Evidence(batch.crop.key, "", batch.cover, float(np.log(batch.harvest[member, 0])))


def _again(
    batch: Batch, settings: Settings, past: int, years: Ints, seed: int, as_here: AsHere
) -> Batch:
    """The first plan's sow days that are still to come, grown anew in the years as they now look."""
    crop, kept = as_here(batch.crop, batch.cover), batch.days >= past
    outcome = grow(crop, batch.way, batch.cover, settings, batch.days[kept] - past,
                   timing_factors(crop, years.size, (years,), seed), batch.outcome.purpose)
    here = settings.cover(batch.cover)
    from_week, to_week = holds(outcome, cleared(outcome, here))
    return replace(
        batch, days=outcome.sow, outcome=outcome, ripening=ripening(outcome, here, WEEKS),
        stand=stand_factors(outcome, settings.weather.start, (years,), seed, best_emerged(batch.outcome)),
        harvest=harvest_factors(crop, years.size, (years,), seed), from_week=from_week, to_week=to_week,
    )


def _known(tried: Tried, member: int, past: int) -> WeatherYears:
    """The planning years with the first `past` days as they were in the year tried, as far on as a plan made
    then looks; days past the first plan's weather are those of a year before, and bear on nothing wanted."""
    days = past + 7 * WEEKS + TAIL
    at = np.arange(days)
    there = tried.weather.days
    at = np.where(at < there, at, at - YEAR * -(-(at - there + 1) // YEAR))
    changed: dict[str, Any] = {}
    for name, every in tried.weather.columns().items():
        changed[name] = every[tried.seen][:, at].copy()
        changed[name][:, :past] = every[member][:past]
    labels = tuple(tried.weather.labels[int(each)] for each in tried.seen)
    return replace(tried.weather, labels=labels, **changed)


def _later(item: WantedItem, week: int) -> WantedItem:
    kg = np.concatenate([item.kg[week:], np.zeros(week)])
    if item.kept is None:
        return replace(item, kg=kg)
    kept = np.concatenate([np.maximum(item.kept[week:] - week, -1), np.full(week, -1)])
    return replace(item, kg=kg, kept=kept)


def _standing(tried: Tried, made: Floats, year: int, past: int) -> Iterator[Standing]:
    """What was sown and is not known to have failed, as a grower sees it on an axis day."""
    member, taken = int(tried.unseen[year]), _taken(tried, made, year, past // 7)
    for number in np.flatnonzero(made > 0):
        option = tried.work.options[number]
        out, i = option.batch.outcome, option.index
        up, place, first = (int(days[member, i]) for days in (out.up, out.place, out.first))
        stand, whole = float(option.batch.stand[member, i]), float(out.share[member, i])
        raised, seen = option.batch.way.name == "raised", min(up, out.never) < past
        begun = place if raised else up
        if (stand == 0 and seen) or (whole == 0 and min(begun, out.never) + FAILED <= past):
            continue
        start = tried.weather.start
        yield Standing(
            str(number), option.batch.crop.key, option.batch.way.name, option.batch.cover, start + option.day,
            float(made[number]), None, start + up if seen else None,
            start + place if raised and place < past else None,
            start + first if first < past and whole > 0 else None, stand if seen else 1.0,
            float(taken[number]), tried.wanted[option.item].name,
        )


def _taken(tried: Tried, made: Floats, year: int, week: int) -> Floats:
    """kg of each sowing that were eaten or went over before a week; what goes over first is taken first."""
    request, supply = tried.work.request, of_year(tried.work.unseen, year)
    found = evaluate(request.candidates.item, made, supply, request.wanted, 1)
    gone = found.used[:, :week, 0].sum(axis=1) + found.over[:, :week, 0].sum(axis=1)
    ripe = np.flatnonzero((supply.ripe < week) & (made[supply.candidate] > 0))
    ripe = ripe[np.lexsort((supply.ripe[ripe], supply.last[ripe]))]
    taken = np.zeros(len(made))
    for entry in ripe:
        j = supply.candidate[entry]
        item = request.candidates.item[j]
        kg = min(float(supply.kg[entry] * made[j]), float(gone[item]))
        taken[j] += kg
        gone[item] -= kg
    return taken


def of_year(supply: Supply, year: int) -> Supply:
    """What one year gives, as the only one."""
    mine = supply.year == year
    return Supply(supply.candidate[mine], np.zeros(int(mine.sum()), dtype=np.int64), supply.ripe[mine],
                  supply.last[mine], supply.kg[mine])
