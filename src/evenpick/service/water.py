"""What to water: the seedbed's routine, then the bed by its balance (docs/design/water.md)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date, day_number, days_of_year
from evenpick.base.errors import BadRequest, Problem
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.crop import Way
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.grow import grow
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.setting import Settings
from evenpick.service.outlook import Asked, asked
from evenpick.service.season_weather import season_weather
from evenpick.service.seedbeds import BAND, SOAKED, WIND_UNDER_COVER
from evenpick.service.water_answer import StepWorth, WaterAnswer
from evenpick.service.water_days import Course, Strips, due_days
from evenpick.soil.crop_coefficients import CropWater, crop_water, growing
from evenpick.soil.reference_et import WIND_UNKNOWN, reference_et
from evenpick.soil.seedbed import AFTER, Watering, bed_of, days_moist, dry_spell, routine
from evenpick.soil.texture import Soil, soil_named
from evenpick.soil.water_balance import adjusted_kcb, balance, kc_max, least_humidity

LEAD = 120
"""days before the sowing from which the balance runs, on ground that was full"""
FOLLOWED = 480
SHOWN = 14
HELD_BACK = 0.5
"""of what it can't take easily that a crop sown in place goes without in its youth: Ks falls to a half, and
roots go down after the water (common practice; the figure has no source)"""
OFTEN = 0.1
"""share of years from which a drill that dries though it is watered is worth a word"""
STEPS: tuple[tuple[Watering, str], ...] = (
    (Watering.NONE, "not watered"),
    (Watering.DRILL, "the open drill watered before sowing"),
    (Watering.MOIST, "and kept moist until it is up"),
    (Watering.ONE_MORE, "and once more when it is up"),
)
CAUTIONS = (
    "Local watering restrictions come first: ask before you use a hose.",
    "Water that wets leaves or roots eaten raw should be of drinking quality, or as your local rules allow; "
    "water the ground rather than the leaf.",
)


@dataclass(frozen=True, slots=True)
class Ground:
    """What reaches and leaves the ground under a cover; every array (years, days)."""

    rain: Floats
    et0: Floats
    rh_min: Floats
    wind: float


def water(
    site: Site,
    choice: WeatherChoice,
    crop: str,
    sow: date,
    on: date | None = None,
    soil: str = "loam",
    cover: str = "open",
    way: str | None = None,
    rain: Mapping[date, float] | None = None,
    seed: int = DEFAULT_SEED,
) -> WaterAnswer:
    """What to water on a day and in the fortnight from it, for one crop sown on one day.

    rain: mm by day from the grower's own gauge, before the record's. Raises UnknownCrop, BadRequest,
    BadWeatherFile. The crop is sown in place where it can be, unless `way` says otherwise.
    """
    want, ground_kind = asked(crop, cover, _way(crop, way), None), soil_named(soil)
    day = on or max(date.today(), sow)
    _within(sow, day)
    start, days = day_number(sow) - LEAD, LEAD + FOLLOWED
    season = season_weather(site, choice, start, days, rain or {}, seed)
    followed = _course(want, season.weather, site, ground_kind)
    first = day_number(day) - start
    told = due_days(followed, season.recorded, first, SHOWN, day, _strips(want))
    steps = _steps(want, season.years, site, ground_kind) if want.way.name == "direct" else ()
    named = want.crop.key, want.crop.name, want.way.name, want.cover, ground_kind.name
    return WaterAnswer(
        site, season.weather.origin, *named, sow, day, want.crop.spacing.row, _strips(want).band,
        _up(followed, start), told,
        next((one.when for one in told if one.advice == "water"), None),
        steps, (*_notes(want, steps), *season.notes), CAUTIONS,
    )


def _way(crop: str, way: str | None) -> str | None:
    """Sown in place where the crop can be: that is what a seedbed is asked about."""
    ways = {one.name for one in asked(crop, "open", None, None).crop.ways}
    return "direct" if way is None and "direct" in ways else way


def _within(sow: date, on: date) -> None:
    last = sow + timedelta(days=FOLLOWED - SHOWN)
    if not 1900 <= sow.year <= 2200:
        raise BadRequest(Problem(f"the sow date {sow} is out of reach.", "Give a year from 1900 to 2200."))
    if not sow <= on <= last:
        raise BadRequest(Problem(
            f"{on} is not in the season of what is sown on {sow}.",
            f"Give --on as a day from {sow} to {last}.", field="--on",
        ))


def _ground(want: Asked, weather: WeatherYears, settings: Settings, site: Site) -> Ground:
    air = settings.cover(want.cover).air
    wind = WIND_UNKNOWN if want.cover == "open" else WIND_UNDER_COVER
    et0 = reference_et(
        air.tmin, air.tmax, air.radiation, weather.lat, days_of_year(weather.start, weather.days),
        site.height_m or 0.0, wind=np.full_like(air.tmin, wind),
    )
    rain = air.rain.copy()
    if want.cover == "tunnel":
        rain[:, LEAD - 1] = SOAKED
    return Ground(rain, et0, least_humidity(air.tmin, air.tmax), wind)


def _strips(want: Asked) -> Strips:
    space = want.crop.spacing
    plant = space.row * space.in_row if space.layout == "station" else None
    return Strips(min(BAND, space.row), space.row, plant)


def _outcome(want: Asked, weather: WeatherYears, settings: Settings) -> Outcome:
    as_is = np.ones((weather.years, 1))
    return grow(want.crop, want.way, want.cover, settings, np.array([LEAD]), as_is, want.purpose)


def _course(want: Asked, weather: WeatherYears, site: Site, soil: Soil) -> Course:
    """The whole season in every year: the drill (or the ground it is planted into), then the bed."""
    settings = Settings(weather)
    ground, outcome = _ground(want, weather, settings, site), _outcome(want, weather, settings)
    begin, up = _begin(want.way, outcome)
    bed = bed_of(soil, want.crop.spacing.depth)
    step = Watering.ONE_MORE if want.way.name == "direct" else Watering.DRILL
    drill = routine(ground.rain, ground.et0, begin, up, bed, step)
    plant, end = crop_water(want.crop.key), _end(outcome, begin, crop_water(want.crop.key))
    crop = growing(plant, begin, up, end, weather.days, *_adjusted(plant, ground, begin, end))
    kcmax = kc_max(ground.wind, ground.rh_min, crop.height, crop.kcb)
    days = np.arange(weather.days)[None, :]
    young = plant.stages[0] if want.way.name == "direct" else 0.0
    rooted = np.maximum(begin + np.ceil(young * (end - begin)).astype(np.int64), up)
    stands = (days > up[:, None]) & (days <= end[:, None])
    let_go = np.where(stands, np.where(days <= rooted[:, None], HELD_BACK, 0.0), np.inf)
    made = balance(ground.rain, ground.et0, kcmax, crop, plant.p, soil, drill.watered, let_go)
    return Course(want.way.name, ground.rain, ground.et0, begin, up, rooted, end, bed, drill, made)


def _begin(way: Way, outcome: Outcome) -> tuple[Ints, Ints]:
    """The day it goes into this ground and the day it stands there; (years,)."""
    up = outcome.up[:, 0].astype(np.int64)
    if way.name == "raised":
        planted = outcome.place[:, 0].astype(np.int64)
        return planted, planted
    return np.full_like(up, LEAD), up


def _end(outcome: Outcome, begin: Ints, plant: CropWater) -> Ints:
    """The last picking; in years without one the middle of the others, or the length that table 11 has."""
    lived = (outcome.fate[:, 0] == Fate.GOOD) | (outcome.fate[:, 0] == Fate.HEAT)
    last = outcome.last[:, 0].astype(np.float64)
    usual = np.median((last - begin)[lived]) if lived.any() else plant.season
    return np.asarray(np.where(lived, last, begin + usual), dtype=np.int64)


def _adjusted(plant: CropWater, ground: Ground, begin: Ints, end: Ints) -> tuple[Floats, Floats]:
    """Kcb of middle and late season by the humidity of the season's days (equation 70); (years,) each."""
    days = np.arange(ground.rh_min.shape[1])[None, :]
    grows = (days >= begin[:, None]) & (days <= end[:, None])
    humidity = np.where(grows, ground.rh_min, 0.0).sum(axis=1) / np.maximum(grows.sum(axis=1), 1)
    def for_season(kcb: float) -> Floats:
        return adjusted_kcb(kcb, ground.wind, humidity, plant.height)

    return for_season(plant.kcb_mid), for_season(plant.kcb_end)


def _steps(want: Asked, weather: WeatherYears, site: Site, soil: Soil) -> tuple[StepWorth, ...]:
    """Each step of the routine over the place's weather years, none of them this season."""
    settings = Settings(weather)
    ground, outcome = _ground(want, weather, settings, site), _outcome(want, weather, settings)
    sow, up = _begin(want.way, outcome)
    bed = bed_of(soil, want.crop.spacing.depth)
    band = _strips(want).band
    worth = []
    for watering, words in STEPS:
        drill = routine(ground.rain, ground.et0, sow, up, bed, watering)
        holds = float(np.median(days_moist(drill.dry, up, AFTER)))
        poured = float(np.median(drill.watered.sum(axis=1)))
        worth.append(StepWorth(words, float(dry_spell(drill.dry, sow, up).mean()), holds, poured * band))
    return tuple(worth)


def _up(course: Course, start: int) -> tuple[date, date, date] | None:
    if (course.up >= course.rain.shape[1]).any():
        return None
    early, middle, late = (day_date(start + round(float(np.quantile(course.up, q)))) for q in (0.1, 0.5, 0.9))
    return early, middle, late


def _notes(want: Asked, steps: Sequence[StepWorth]) -> Sequence[str]:
    plant = crop_water(want.crop.key)
    notes = [f"The ground is taken to have been full {LEAD} days before the sowing and watered as told here."]
    if want.cover == "tunnel":
        notes = ["A tunnel keeps rain out: the bed is taken to have been soaked on the day before it was "
                 "sown and watered as told here."]
    if steps and steps[-1].dries >= OFTEN:
        notes.append(f"Watered every morning the drill still dries in {steps[-1].dries:.0%} of years: in hot "
                     "weather water twice a day or shade it.")
    if plant.stand_in:
        notes.append(f"The crop is not in FAO-56's tables: {plant.row} stands in for it.")
    if want.way.name == "raised":
        notes.append("Until it is planted out keep the modules moist; nothing is reckoned for them.")
    return notes
