"""What to water: the seedbed's routine, then the bed by its balance (docs/design/water.md)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

import numpy as np

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import later, tell
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.outlook.setting import Settings
from evenpick.service.outlook import Asked, asked
from evenpick.service.season_weather import season_weather
from evenpick.service.seedbeds import nobody_waters, unwatered
from evenpick.service.water_answer import StepWorth, WaterAnswer
from evenpick.service.water_course import Sown, course, steps_worth, strips
from evenpick.service.water_days import Course, due_days, left_dry
from evenpick.soil.crop_coefficients import crop_water
from evenpick.soil.texture import soil_named

LEAD = 120
"""days before the sowing from which the balance runs, on ground that was full"""
FOLLOWED = 480
SHOWN = 14
OFTEN = 0.1
"""share of years from which a drill that dries though it is watered is worth a word"""
MEASURED_AIR = later("What the air draws is reckoned with wind and damp as the record has them, wind at 2 m "
                     "above short grass (FAO-56 equation 47 brings it there); on days without them with "
                     "2 m/s and dew at the night's lowest, and under any cover with 0.5 m/s and the same "
                     "dew.")
FULL = later("The ground is taken to have been full {lead} days before the sowing and watered as told here.")
LEFT = later("What the ground held at first is reckoned from a year of rain on it before, with crops or "
             "weeds on it half of the time. No water is taken to rise from below, which makes this the "
             "worst case.")
SOAKED_SOWN = later("A tunnel keeps rain out: the bed is taken to have been soaked on the day before it was "
                    "sown and watered as told here.")
SOAKED_PLANTED = later("A tunnel keeps rain out: the bed is taken to have been soaked on the day before it "
                       "was planted and watered as told here.")
USUAL_AIR = later("What the air draws is reckoned from warmth and sun, with a wind of 2 m/s, under any cover "
                  "0.5 m/s, and dew at the night's lowest. Dry windy days draw more, by a quarter and over.")
"""by wind and vapour pressure as measured at Brize Norton and De Bilt nine days in ten of April to September
draw 0.76 to 1.26 times that"""
CAUTIONS = (
    later("Local watering restrictions come first: ask before you use a hose."),
    later("Water that wets leaves or roots eaten raw should be of drinking quality, or as your local "
          "rules allow; water the ground rather than the leaf."),
)


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
    watered: bool = True,
) -> WaterAnswer:
    """What to water on a day and in the fortnight from it, for one crop sown on one day.

    rain: mm by day from the grower's own gauge, before the record's. Raises UnknownCrop, BadRequest,
    BadWeatherFile. The crop is sown in place where it can be, unless `way` says otherwise. Ground that can't
    be `watered` is left to the rain, and told what that costs.
    """
    want, ground_kind = asked(crop, cover, _way(crop, way), None), soil_named(soil)
    day = on or max(date.today(), sow)
    _within(sow, day)
    start, days = day_number(sow) - LEAD, LEAD + FOLLOWED
    season = season_weather(site, choice, start, days, rain or {}, seed)
    seedbed = Seedbed(soil, watered)
    left = nobody_waters(seedbed, want.cover)
    sown = Sown(want, LEAD, np.ones((season.weather.years, 1)), watered=not left)
    followed = course(sown, Settings(season.weather, unwatered(site, seedbed)), site, ground_kind)
    told = due_days(followed, season.rained, day_number(day) - start, SHOWN, day, strips(want))
    steps = steps_worth(sown, Settings(season.years), site, ground_kind) if want.way.name == "direct" else ()
    named = want.crop.key, want.crop.name, want.way.name, want.cover, ground_kind.name
    return WaterAnswer(
        site, season.weather.origin, *named, sow, day, want.crop.spacing.row, strips(want).band,
        up_days(followed, start), told,
        next((one.when for one in told if one.advice == "water"), None),
        steps, (*notes_on(want, season.weather, steps, not left), *season.notes), CAUTIONS,
        left_dry(followed, day_number(day) - start),
    )


def _way(crop: str, way: str | None) -> str | None:
    """Sown in place where the crop can be: that is what a seedbed is asked about."""
    ways = {one.name for one in asked(crop, "open", None, None).crop.ways}
    return "direct" if way is None and "direct" in ways else way


def _within(sow: date, on: date) -> None:
    last = sow + timedelta(days=FOLLOWED - SHOWN)
    if not 1900 <= sow.year <= 2200:
        raise BadRequest(Problem(tell("the sow date {sow} is out of reach.",
                                      sow=sow), tell("Give a year from 1900 to 2200.")))
    if not sow <= on <= last:
        raise BadRequest(Problem(
            tell("{on} is not in the season of what is sown on {sow}.", on=on, sow=sow),
            tell("Ask about a day from {sow} to {last}.", sow=sow, last=last), field="on",
        ))


def up_days(followed: Course, start: int) -> tuple[date, date, date] | None:
    """Up, or planted out, in the early, the middle and the late year; None where that is never in some."""
    if (followed.up >= followed.never).any():
        return None
    up = followed.up
    early, middle, late = (day_date(start + round(float(np.quantile(up, q)))) for q in (0.1, 0.5, 0.9))
    return early, middle, late


def told_air(weather: WeatherYears) -> str:
    """What the draw of the air rests on, in words."""
    return tell(USUAL_AIR if weather.vapour_pressure is None else MEASURED_AIR)


def notes_on(
    want: Asked, weather: WeatherYears, steps: Sequence[StepWorth], watered: bool = True
) -> Sequence[str]:
    plant = crop_water(want.crop.key)
    notes = [tell(FULL if watered else LEFT, lead=LEAD)]
    if want.cover == "tunnel":
        notes = [tell(SOAKED_SOWN if want.way.name == "direct" else SOAKED_PLANTED)]
    notes.append(told_air(weather))
    if watered and steps and steps[-1].dries >= OFTEN:
        notes.append(tell("Watered every morning the drill still dries in {dries:.0%} of years: in hot "
                          "weather water twice a day or shade it.", dries=steps[-1].dries))
    if plant.stand_in:
        notes.append(tell("The crop is not in FAO-56's tables: {row} stands in for it.", row=plant.row))
    if want.way.name == "raised":
        notes.append(tell("Until it is planted out keep the modules moist; nothing is reckoned for them."))
    return notes
