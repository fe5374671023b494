"""What stands while nobody is there to water it (docs/design/season.md, 13)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evenpick.base.days import dated, day_date, day_number, days_of_year, short_date
from evenpick.base.language import later, tell, tell_n
from evenpick.base.trade import CoverName
from evenpick.climate.weather import WeatherYears
from evenpick.garden.limits import Away
from evenpick.outlook.drying import LETS_RAIN_IN
from evenpick.plan.limits import Parched
from evenpick.service.plan_answer import PlannedSowing, StandingSowing
from evenpick.soil.reference_et import hargreaves

LONG = 7
"""days: what has rooted stands so many without water (common practice, no source)"""
RAINED = 0.5
"""of what a cropped ground may give off (reference ET): with less rain it wants water (our choice)"""
OFTEN = 0.2
"""of the years: so often dry, it can't be left to the rain (our choice)"""
ASK = later("Some may be lost, which the plan does not reckon with. Ask somebody to water them, and say so "
            "in the garden file, under those days away: watered = true.")
KEPT_DRY: tuple[CoverName, ...] = ("tunnel",)


def dry_spans(away: Sequence[Away], weather: WeatherYears) -> tuple[Parched, ...]:
    """The longer spans in which nobody is there to water, with the covers under which no rain does it."""
    found = []
    for span in away:
        if span.nobody and not span.watered and span.last - span.first >= LONG:
            dry = _dry_years(span, weather)
            covers = (*KEPT_DRY, *(LETS_RAIN_IN if dry > OFTEN else ()))
            found.append(Parched(span.first, span.last, frozenset(covers), dry))
    return tuple(found)


def _dry_years(span: Away, weather: WeatherYears) -> float:
    """Share of the years in which rain does not do; nought of days that no weather is known of."""
    begins, ends = span.first - weather.start, span.last + 1 - weather.start
    days = slice(max(begins, 0), max(min(ends, weather.days), 0))
    rain = weather.rain[:, days]
    if not rain.shape[1]:
        return 0.0
    of_year = days_of_year(weather.start + days.start, rain.shape[1])
    lost = hargreaves(weather.tmin[:, days], weather.tmax[:, days], weather.lat, of_year)
    return float((rain.sum(axis=1) < RAINED * lost.sum(axis=1)).mean())


def left_dry(
    spans: Sequence[Parched], sowings: Sequence[PlannedSowing], standing: Sequence[StandingSowing]
) -> Iterator[str]:
    """For each span what stands in it where no rain keeps it, and what would mend that."""
    every: tuple[PlannedSowing | StandingSowing, ...] = (*standing, *sowings)
    for span in spans:
        names = dict.fromkeys(
            each.name for each in every
            if each.cover in span.covers and _begins(each) <= span.last
            and day_number(each.clear) > span.first
        )
        if not names:
            continue
        begins, ends = short_date(day_date(span.first)), dated(day_date(span.last))
        what = tell("Nobody is there to water from {begins} to {ends}, when these stand: {names}.",
                    begins=begins, ends=ends, names=", ".join(names))
        yield f"{what} {_how_dry(span)} {tell(ASK)}"


def _how_dry(span: Parched) -> str:
    if span.covers.issuperset(LETS_RAIN_IN):
        return tell_n("In about {n} year of 10 rain brings less than half of what the ground gives off.",
                      "In about {n} years of 10 rain brings less than half of what the ground gives off.",
                      max(1, round(10 * span.dry)))
    return tell("In the open rain mostly does it; in a tunnel none falls.")


def _begins(each: PlannedSowing | StandingSowing) -> int:
    """The day from which it stands in its ground."""
    if isinstance(each, StandingSowing):
        return day_number(each.ground_from or each.sow)
    return day_number(each.plant_out or each.sow)
