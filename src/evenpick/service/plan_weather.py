"""The weather a plan is made for: its years from the horizon on, and from the first sowing that stands."""

from __future__ import annotations

from collections.abc import Mapping

from evenpick.base.days import monday
from evenpick.climate.weather import WeatherYears
from evenpick.garden.diary import Reading
from evenpick.garden.garden import Garden
from evenpick.plan.horizon import Horizon
from evenpick.service.climate import weather_for
from evenpick.service.season_weather import season_weather, with_readings

TAIL = 14
"""days of weather past the horizon, so that its last week is whole"""
LEAST_MEMBERS = 24
"""weather years that a record must give: a third of them and those they touch are kept unseen"""
OLDEST = 546
"""days: a sowing older than that gives no more (the longest crop takes 420 to its first picking)"""


def plan_weather(
    garden: Garden, horizon: Horizon, since: int | None, readings: Mapping[int, Reading]
) -> tuple[WeatherYears, WeatherYears]:
    """(from the Monday of day `since`, from the horizon's Monday): the same years, with the days before the
    plan's beginning as they were where they are known.

    Where nothing stands (`since` None) and nothing was fetched both are the same and nothing of this season
    is in them.
    """
    seed = garden.plan.seed
    if since is None and garden.weather.fetched is not None:
        since = horizon.begin
    if since is None:
        years = weather_for(
            garden.site, garden.weather, horizon.start, horizon.days + TAIL, seed, LEAST_MEMBERS
        )
        return years, years
    first = monday(max(since, horizon.begin - OLDEST))
    first = min(first, horizon.start)
    days = horizon.start - first + horizon.days + TAIL
    season = season_weather(
        garden.site, garden.weather, first, days, {}, seed, horizon.begin, LEAST_MEMBERS
    )
    past = {day: seen for day, seen in readings.items() if day < horizon.begin}
    weather = with_readings(season.weather, past)
    return weather, weather.from_day(horizon.start - first)
