"""What opens and closes a crop's window here, how often each hazard strikes, where the numbers come from."""

from __future__ import annotations

import csv
from collections.abc import Collection, Iterator
from datetime import date
from importlib.resources import files
from math import inf

import numpy as np

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number, short_date
from evenpick.base.language import later, tell
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.crops.here import AsHere, as_catalogued
from evenpick.garden.garden import LOAM, Seedbed, WeatherChoice
from evenpick.outlook.against import CUT_SHORT, HEAT_TAKES, OUT_OF_SEASON, TOLD, TOO_DARK, TOO_WET, UNDER_SNOW
from evenpick.outlook.outcome import CHILLED, FATE_WORDS, Fate, fate_word
from evenpick.outlook.score import WORTH, asks_leverage
from evenpick.outlook.windows import MOSTLY, Calendar, fold
from evenpick.service.best_for import best_of, for_each_purpose
from evenpick.service.outlook import asked, outlook
from evenpick.service.outlook_answer import OutlookAnswer
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.seedbeds import unwatered
from evenpick.service.why_answer import WhyAnswer
from evenpick.service.windows import said_once, window_rows, year_weather

HAZARDS = {
    Fate.FROSTED: "killed by frost before picking",
    Fate.BOLTED: "ran to seed before picking",
    Fate.HEAT: "spoilt by heat",
    Fate.TOO_LATE: "not ready within the season",
    Fate.TOO_COLD: "too cold to start",
    Fate.TOO_HOT: "too hot to start",
    Fate.PARCHED: "too little rain",
}
IN_COLD_HAZARD = "killed by cold before picking"
IN_COLD = {
    "frost kills seedlings below": later("cold kills seedlings below"),
    "frost kills plants below": later("cold kills plants below"),
    "frost spoils the part eaten below": later("cold spoils the part eaten below"),
}
"""of what dies of cold before there is frost"""
OTHERWISE = (TOO_DARK, OUT_OF_SEASON, CUT_SHORT, TOO_WET, UNDER_SNOW)
VALUES = {
    "emergence.base": (later("emerges above"), later("°C soil")),
    "emergence.thermal_time": (later("warmth to emerge"), "°C d"),
    "emergence.lies": (later("its seed may lie for"), later("days")),
    "development.base": (later("grows above"), "°C"),
    "development.optimum": (later("grows fastest at"), "°C"),
    "development.ceiling": (later("stops growing at"), "°C"),
    "limits.kill_seedling": (later("frost kills seedlings below"), "°C"),
    "limits.kill_plant": (later("frost kills plants below"), "°C"),
    "limits.kill_edible": (later("frost spoils the part eaten below"), "°C"),
    "limits.bud": (later("snow shelters its bud at a height of"), "m"),
    "limits.heat_mean": (later("grows well up to a mean of"), "°C"),
    "limits.heat_start": (later("is not started in weeks of a mean over"), "°C"),
    "limits.heat_stand": (later("does not stand through weeks of a mean over"), "°C"),
    "limits.set_tmax": (later("half its flowers fail in days of"), "°C"),
    "limits.cool_mean": (later("ripens well down to a mean of"), "°C"),
    "limits.fill_mean": (later("gives nothing in weeks of a usual mean under"), "°C"),
    "limits.set_tmin": (later("half its flowers fail in nights of"), "°C"),
    "limits.soil_min": (later("nobody should start it below"), later("°C soil")),
    "bulbing.offset": (later("bulbs within this of the longest day"), "h"),
    "bulbing.hours": (later("bulbs in days of"), "h"),
    "bulbing.low_hours": (later("at low latitudes bulbs in days of"), "h"),
    "bulbing.keeping_hours": (later("keeping kinds ask for days of"), "h"),
    "bulbing.leaf": (later("leaf behind a full bulb"), "°C d"),
    "bulbing.least_leaf": (later("bulbs with no less leaf than"), "°C d"),
    "bulbing.most_leaf": (later("runs to seed with more leaf at midwinter than"), "°C d"),
    "bulbing.cold": (later("is to have had cold below"), "°C"),
    "bulbing.cold_days": (later("such cold is to last"), later("days")),
    "produce.kg_per_m2": (later("gives"), "kg/m²"),
}
YEAR_OF_NONE = 2000  # a leap year, for a day that is of no year
REASONED = {TOO_DARK: "sonomafall"}
"""what speaks against a day by a published rule of its own"""


def why(
    site: Site,
    choice: WeatherChoice,
    crop: str,
    sow: date,
    cover: str = "open",
    way: str | None = None,
    seed: int = DEFAULT_SEED,
    plan: PlanAnswer | None = None,
    seedbed: Seedbed = LOAM,
    lowest: float = inf,
    as_here: AsHere = as_catalogued,
) -> WhyAnswer:
    """Everything behind one sow day of one crop, sown for what the day is best for; `seedbed`, `lowest` and
    `as_here` as of `outlook`. Windows and the day's score are the catalogue's crop's."""
    want = asked(crop, cover, way, None)
    weather = year_weather(site, choice, sow.year, seed)
    every = for_each_purpose(load_catalogue().crop(want.crop.key), want.way, want.cover, weather, seed,
                              lowest, unwatered(site, seedbed))
    day = fold(day_number(sow) - weather.start)
    made = best_of(every, day)
    grown, purpose = made.outcome.crop, made.outcome.purpose.name
    steep = float(made.score.leverage[day]) if asks_leverage(made.outcome) else np.nan
    told = outlook(site, choice, crop, sow, cover, want.way.name, purpose, seed, seedbed, lowest,
                   as_here)
    others = (one for one in said_once(every, site.lat) if one.outcome.purpose != made.outcome.purpose)
    rows = tuple(row for one in (made, *others) for row in window_rows(one, weather.start, site.lat))
    closing = ((row.closed_before, row.closed_after) for row in rows if row.purpose == purpose)
    judgement, against = made.judged(day), _by_rain(_against(made, day, told), told)
    reasons = {against}.union(*closing)
    return WhyAnswer(
        told, rows, float(made.score.score[day]), WORTH,
        judgement, against, steep if np.isfinite(steep) else None,
        (*hazards(told), *_other_losses(made, day, told.cut_short), *_of_drill(told)),
        tuple(values(grown)),
        tuple(sources(grown, reasons)),
        tuple(s for s in plan.sowings if s.crop == want.crop.key) if plan else (),
    )


def _by_rain(against: str, told: OutlookAnswer) -> str:
    """Want of rain, where it takes half of the years, goes before all that speaks against a day."""
    shares = dict(told.fates)
    dried, worst = max((shares[FATE_WORDS[fate]], FATE_WORDS[fate]) for fate in (Fate.DRIED, Fate.PARCHED))
    return worst if dried >= MOSTLY else against


def hazards(told: OutlookAnswer) -> tuple[tuple[str, float], ...]:
    """Share of weather years in which each hazard strikes: the fates of the very sowing that is told."""
    words = {**{FATE_WORDS[kind]: hazard for kind, hazard in HAZARDS.items()}, CHILLED: IN_COLD_HAZARD}
    return tuple((words[fate], share) for fate, share in told.fates if fate in words)


def _against(made: Calendar, day: int, told: OutlookAnswer) -> str:
    """What speaks most against the day; no fate that strikes in none of the years of the very sowing."""
    shares = dict(told.fates)
    struck = [(float(share[day]), words) for words, share in made.score.losses.items()
              if share[day] > TOLD and shares.get(words, 1.0) > 0]
    return max(struck, key=lambda each: each[0], default=(0.0, ""))[1]


def _other_losses(made: Calendar, day: int, cut_short: float) -> Iterator[tuple[str, float]]:
    """Years lost to what is no fate of the plants: those that are left out are not told. How many are
    `cut_short` is known of the very sowing."""
    dark = float(made.score.losses[TOO_DARK][day]) > 0
    for words in (TOO_DARK,) if dark else OTHERWISE:
        share = cut_short if words == CUT_SHORT else float(made.score.losses[words][day])
        if share > 0:
            yield words, share
    if made.score.losses[HEAT_TAKES][day] > TOLD:
        good = made.outcome.fate[:, day] == Fate.GOOD
        yield HEAT_TAKES, float((good & (made.outcome.quality[:, day] < 1.0 - TOLD / 2)).mean())


def _of_drill(told: OutlookAnswer) -> Iterator[tuple[str, float]]:
    """Not a loss where it is watered, but a hazard of whoever leaves it."""
    if told.drill is not None:
        yield later("sprouting seed dries out in the drill, not watered"), told.drill.unwatered
        yield later("sprouting seed dries out in the drill, watered by the routine"), told.drill.watered


def values(crop: Crop) -> Iterator[tuple[str, str, str]]:
    """Catalogue values that decide most, with their sources."""
    chilled = fate_word(crop, Fate.FROSTED) == CHILLED
    for path, (words, unit) in VALUES.items():
        section, name = path.split(".")
        held = getattr(crop, section)
        figure = None if held is None else getattr(held, name)
        if not figure and path not in crop.sources:
            continue
        told = IN_COLD.get(words, words) if chilled else words
        yield tell(told), f"{figure:g} {tell(unit)}", crop.sources.get(path, "memory")
    for number, anchor in enumerate(crop.anchors):
        sown = tell("sown {day}", day=short_date(date(YEAR_OF_NONE, anchor.month, anchor.day)))
        place = anchor.place.replace("-", " ").title() if anchor.place.islower() else anchor.place
        grown = tell("{place}: {sown}, first picked after {days:g} d", place=place, sown=sown,
                     days=anchor.days)
        yield tell("timed by"), grown, crop.sources.get(f"anchors.{number}", anchor.source)


def sources(crop: Crop, reasons: Collection[str]) -> Iterator[tuple[str, str]]:
    """The bibliography entries that the crop's values name and that reasons rest on, with how far each was
    checked."""
    used = {*crop.sources.values(), *(key for reason, key in REASONED.items() if reason in reasons)}
    with files("evenpick").joinpath("data", "sources.csv").open(encoding="utf-8") as handle:
        for row in csv.DictReader(handle):
            if row["key"] in used:
                yield row["key"], tell("{who}, {title} (checked: {how_far})", who=row["who"],
                                       title=row["title"], how_far=tell(row["checked"]))
