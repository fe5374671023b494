"""What this garden's diary teaches: its own timing and yields, for the outlook and the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import groupby
from math import inf

import numpy as np

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date
from evenpick.base.trade import COVERS, CoverName
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.here import AsHere, as_catalogued
from evenpick.crops.ways import way_of
from evenpick.garden.diary import Relearned
from evenpick.garden.garden import LOAM, Seedbed, WeatherChoice, Wish
from evenpick.garden.limits import Away
from evenpick.garden.record import Record, Sowing
from evenpick.learn.learned import Figures, Learned
from evenpick.learn.observed import seen_days, sow_days, timing, yields
from evenpick.learn.shrinking import TIMING, YIELD, Evidence, shrink
from evenpick.outlook.grow import grow
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.setting import Settings
from evenpick.service.expected import alike, of_each_type
from evenpick.service.plan_answer import GrownHere
from evenpick.service.season_weather import season_weather, with_readings
from evenpick.service.seedbeds import unwatered

FORTNIGHT, WEEK = 14, 7
"""days from the opening of a wish, or the return from more than a week away, in which a first picking may
have waited for it (our choice)"""
LEAD, FOLLOWED = 60, 500
"""days of weather before the first sowing of a year and after its last day"""


@dataclass(frozen=True, slots=True)
class Lessons:
    """The records that learning used, beside what it made of them."""

    learned: Learned
    timing: tuple[Evidence, ...]
    yields: tuple[Evidence, ...]


def grown_here(learned: Learned, crops: Iterable[str]) -> tuple[GrownHere, ...]:
    """What was learned of some crops under every cover, as plain figures that a plan keeps."""
    if not learned.timing.counts and not learned.yields.counts:
        return ()
    book = load_catalogue()
    kinds = ((book.crop(key), cover) for key in crops for cover in COVERS)
    return tuple(_grown_here(crop, learned.crop(crop, cover), cover) for crop, cover in kinds)


def _grown_here(crop: Crop, here: Crop, cover: CoverName) -> GrownHere:
    return GrownHere(
        crop.key, cover, here.thermal_time / crop.thermal_time, here.thermal_time_sd,
        here.produce.kg_per_m2 / crop.produce.kg_per_m2, here.produce.sd_ln,
    )


def as_kept(kept: Iterable[GrownHere]) -> AsHere:
    """Crops as a kept plan was made with them; the catalogue's where it says nothing."""
    known = {
        (one.crop, one.cover): (one.time, one.time_sd, one.produce, one.produce_sd) for one in kept
    }
    return Figures(known) if known else as_catalogued


def learn_from(
    site: Site, choice: WeatherChoice, record: Record, seed: int = DEFAULT_SEED, lowest: float = inf,
    wishes: Sequence[Wish] = (), seedbed: Seedbed = LOAM, away: Sequence[Away] = (),
) -> Lessons:
    """Everything that the sowings in the diary teach, less what was left out or reset; `lowest` as of
    `Settings`, `seedbed` as of `outlook`. What stood until it was wished for, or until somebody was there
    to pick it, is not late by that."""
    readings = record.readings
    times: list[Evidence] = []
    weights: list[Evidence] = []
    counted = sorted(_counted(record), key=lambda sowing: sowing.day)
    for _year, of_year in groupby(counted, key=lambda sowing: day_date(sowing.day).year):
        sowings = list(of_year)
        start = min(sowing.day - sowing.before for sowing in sowings) - LEAD
        days = sowings[-1].day - start + FOLLOWED
        season = season_weather(site, choice, start, days, {}, seed).weather
        settings = Settings(with_readings(season, readings), unwatered(site, seedbed), lowest)
        for kind in alike(sowings):
            there = settings.raising(kind[0].fact.bought)
            crop = load_catalogue().crop(kind[0].fact.crop)
            waited = {sowing.id for sowing in kind
                      if _may_have_waited(crop, sowing, wishes) or _nobody_came(sowing, away)}
            times += [seen for seen in timing(crop, kind, there) if seen.y <= 0 or seen.sowing not in waited]
            weights += _weights(kind, there)
    learned = Learned(shrink(times, TIMING), shrink(weights, YIELD))
    return Lessons(learned, tuple(times), tuple(weights))


def _may_have_waited(crop: Crop, sowing: Sowing, wishes: Sequence[Wish]) -> bool:
    """Whether a crop that can stand was first picked as the season of its wish opened: later than the book
    then says nothing, for the plan itself has it ripe before the first day on which it is wanted."""
    if crop.harvest.profile not in ("standing", "stored"):
        return False
    first = day_date(sowing.pickings[0].day)
    before = first - timedelta(days=FORTNIGHT)
    mine = [wish for wish in wishes if crop.key in wish.crops]
    now, then = ([wish.wanted_on(day.month, day.day) for wish in mine] for day in (first, before))
    return any(now) and not any(then)


def _nobody_came(sowing: Sowing, away: Sequence[Away]) -> bool:
    """Whether it was first picked within a fortnight of the return from more than a week away."""
    first = sowing.pickings[0].day
    return any(span.nobody and span.last - span.first >= WEEK and 0 <= first - span.last <= FORTNIGHT
               for span in away)


def _counted(record: Record) -> Iterator[Sowing]:
    """Sowings with a picking that learning may use; one dated more than their season after them is a slip of
    the pen."""
    resets = [(entry.day, entry.fact.crop) for entry in record.entries if isinstance(entry.fact, Relearned)]
    for sowing in record.sowings.values():
        reset = any(crop in (None, sowing.fact.crop) and sowing.day < day for day, crop in resets)
        within = sowing.pickings and sowing.pickings[0].day - sowing.day < FOLLOWED
        if within and not sowing.left_out and not reset:
            yield sowing


def _weights(kind: Sequence[Sowing], settings: Settings) -> list[Evidence]:
    done = [s for s in kind if s.cleared is not None and s.pickings and not s.unweighed]
    if not done:
        return []
    types = of_each_type(load_catalogue().crop(done[0].fact.crop), done, settings)
    return [record for crop, same in types for record in _weights_of_type(crop, same, settings)]


def _weights_of_type(crop: Crop, done: Sequence[Sowing], settings: Settings) -> list[Evidence]:
    outcome: Outcome = grow(
        crop, way_of(crop, done[0].fact.way), done[0].cover, settings, sow_days(crop, done, settings),
        np.ones((settings.weather.years, 1)), crop.purposes[0], seen_days(done, settings.weather.start),
    )
    full = (outcome.share * outcome.quality).mean(axis=0)
    shares = {sowing.id: float(full[i]) for i, sowing in enumerate(done)}
    return yields(crop, done, shares)
