"""The weather of several farms in the same years, so that a bad year is bad for all of them together
(docs/design/cooperative.md, 3)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.language import tell, tell_n
from evenpick.climate.stations import great_circle_km
from evenpick.climate.weather import WeatherYears
from evenpick.garden.diary import Reading
from evenpick.garden.garden import Elsewhere, Garden
from evenpick.plan.horizon import Horizon
from evenpick.service.climate import named_record
from evenpick.service.plan_weather import LEAST_MEMBERS, plan_weather

FAR_KM = 300.0
"""days of one place say little of another's farther off than this (memory)"""
Pair = tuple[WeatherYears, WeatherYears]
"""as of `plan_weather`"""


@dataclass(frozen=True, slots=True)
class SharedWeather:
    pairs: tuple[Pair, ...]
    """of each farm; all have the same years, in the same order"""
    notes: tuple[str, ...]


def shared_weather(
    gardens: Sequence[Garden], horizon: Horizon, since: int | None,
    readings: Sequence[Mapping[int, Reading]],
) -> SharedWeather:
    """Each farm's own weather in the calendar years that all of their records have.

    A farm without a record of enough such years takes the days of the farm with the longest record, moved by
    the difference of their months. Without any record made years are shared. `since` as in `plan_weather`.
    """
    def made(garden: Garden, number: int) -> Pair:
        return plan_weather(garden, horizon, since, readings[number])

    pairs = [made(garden, number) for number, garden in enumerate(gardens)]
    if len(gardens) == 1:
        return SharedWeather(tuple(pairs), ())
    labels = [pair[1].labels for pair in pairs]
    recorded = [number for number, own in enumerate(labels) if own[0].isdecimal()]
    if not recorded:
        return SharedWeather(tuple(pairs), (
            tell("No farm has a daily record that is long enough: weather years were made for each from "
                 "its months, with the same chances, so that a warm or a dry spell comes to all on the "
                 "same days."),
        ))
    recorded.sort(key=lambda number: -len(labels[number]))
    lead, common = recorded[0], set(labels[recorded[0]])
    kept = {lead}
    for number in recorded[1:]:
        if len(common & set(labels[number])) >= LEAST_MEMBERS:
            common &= set(labels[number])
            kept.add(number)
    notes = []
    for number, garden in enumerate(gardens):
        if number not in kept:
            pairs[number] = made(_moved(garden, gardens[lead]), number)
            notes.append(_borrowed(garden, gardens[lead], number in recorded))
    years = sorted(common)
    told = tell_n("The farms' weather goes together: {n} year that all of them have, {first} to {last}.",
                  "The farms' weather goes together: {n} years that all of them have, {first} to {last}.",
                  len(years), first=years[0], last=years[-1])
    return SharedWeather(tuple(_both(pair, years) for pair in pairs), (told, *notes))


def _moved(garden: Garden, lead: Garden) -> Garden:
    elsewhere = named_record(lead.site, lead.weather)
    assert isinstance(elsewhere, Elsewhere)  # its weather years are those of a record
    return replace(garden, weather=replace(garden.weather, moved=elsewhere))


def _borrowed(garden: Garden, lead: Garden, short: bool) -> str:
    here, there = garden.site, lead.site
    km = float(great_circle_km(here.lat, here.lon, np.array([there.lat]), np.array([there.lon]))[0])
    lacks = (tell("has too few years in common with the others") if short
             else tell("has no daily record of enough years"))
    far = tell("; so far off that it may differ much on single days") if km > FAR_KM else ""
    return tell("{farm} {lacks}: the days of {lead_farm}, {km:.0f} km away, were moved by the difference "
                "of their months{far}.", farm=garden.farm, lacks=lacks, lead_farm=lead.farm, km=km, far=far)


def _both(pair: Pair, years: Sequence[str]) -> Pair:
    since, weather = (_of_years(each, years) for each in pair)
    return since, weather


def _of_years(weather: WeatherYears, years: Sequence[str]) -> WeatherYears:
    place = {label: number for number, label in enumerate(weather.labels)}
    return weather.of_years(np.array([place[year] for year in years]))
