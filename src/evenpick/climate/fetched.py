"""Days of a season that a weather service told, and the file that keeps them (docs/design/weather.md, F)."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from evenpick.base.days import day_date, parse_date
from evenpick.base.errors import BadWeatherFile, Problem
from evenpick.base.language import tell
from evenpick.climate.readers.daily_csv import read_daily_csv
from evenpick.climate.readers.rows import POSSIBLE
from evenpick.climate.readers.text import read_lines
from evenpick.climate.series import VARIABLES, DailySeries
from evenpick.climate.site import Site

COLUMNS = {"tmin": "tmin_c", "tmax": "tmax_c", "rain": "rain_mm", "radiation": "radiation_mj_m2",
           "vapour_pressure": "vapour_pressure_kpa", "wind": "wind2_m_s"}
PLACES = {"vapour_pressure": 3}  # decimals; of others two
HEAD = re.compile(r"# (service|licence|fetched|point|forecast from): (.+)")
MOMENT = "%Y-%m-%dT%H:%M"


@dataclass(frozen=True, slots=True)
class Fetched:
    """What a service told of one point's days."""

    service: str
    licence: str
    point: tuple[float, float]
    """degrees north and east that were asked"""
    moment: datetime
    """when it was asked, UTC, to the minute"""
    forecast_from: int | None
    """first day number that is a forecast; None where none is"""
    series: DailySeries
    left_out: tuple[str, ...] = ()
    """variables that the service would not tell when it was asked; not kept"""

    @property
    def known(self) -> range:
        """Day numbers that have been."""
        last = self.series.start + self.series.days
        return range(self.series.start, last if self.forecast_from is None else self.forecast_from)


def point_of(site: Site) -> tuple[float, float]:
    """What a service is told of where the garden is: to a kilometre."""
    return round(site.lat, 2), round(site.lon, 2)


def series_of(values: Mapping[str, Mapping[int, float]], service: str) -> DailySeries:
    """Days by variable and day number on a continuous axis: beyond any weather, and a minimum above its
    maximum, are blanked; days at either end without minimum, maximum and rain cut off.

    BadWeatherFile where no day is whole.
    """
    whole = sorted(set.intersection(*(set(values[name]) for name in ("tmin", "tmax", "rain"))))
    if not whole:
        raise bad_answer(service, tell("holds no day with minimum, maximum and rain"))
    first, count = whole[0], whole[-1] - whole[0] + 1
    found = {name: np.full(count, np.nan) for name in VARIABLES}
    for name, by_day in values.items():
        low, high = POSSIBLE[name]
        for day, value in by_day.items():
            if 0 <= day - first < count and low <= value <= high:
                found[name][day - first] = value
    crossed = found["tmin"] > found["tmax"]
    found["tmin"][crossed] = found["tmax"][crossed] = np.nan
    return DailySeries(first, **found)


def bad_answer(service: str, what: str) -> BadWeatherFile:
    mend = tell("Nothing was changed. Try the other service, or report it: its form may have changed.")
    return BadWeatherFile(Problem(tell("the answer of {service} {what}.", service=service, what=what), mend))


def as_file(fetched: Fetched) -> str:
    """A daily CSV that says in comments whose days they are."""
    head = {
        "service": fetched.service, "licence": fetched.licence, "fetched": fetched.moment.strftime(MOMENT),
        "point": f"{fetched.point[0]:g}, {fetched.point[1]:g}",
        "forecast from": "none" if fetched.forecast_from is None else str(day_date(fetched.forecast_from)),
    }
    lines = [f"# {name}: {value}" for name, value in head.items()]
    return "\n".join([*lines, ",".join(["date", *COLUMNS.values()]), *_rows(fetched.series)]) + "\n"


def _rows(series: DailySeries) -> Iterator[str]:
    for at in range(series.days):
        cells = (_cell(getattr(series, name)[at], PLACES.get(name, 2)) for name in COLUMNS)
        yield ",".join([str(day_date(series.start + at)), *cells])


def _cell(value: float, places: int) -> str:
    return "" if np.isnan(value) else f"{value:.{places}f}"


def read_fetched(path: Path) -> Fetched:
    """As `as_file` wrote it. BadWeatherFile with the line where it is other."""
    found = (HEAD.fullmatch(line.strip()) for line in read_lines(path))
    head = {match[1]: match[2] for match in found if match}
    series, _ = read_daily_csv(path)
    try:
        lat, lon = (float(part) for part in head["point"].split(","))
        ahead = head["forecast from"]
        return Fetched(
            head["service"], head["licence"], (lat, lon),
            datetime.strptime(head["fetched"], MOMENT).replace(tzinfo=UTC),
            None if ahead == "none" else parse_date(ahead, "forecast from"), series,
        )
    except (KeyError, ValueError) as error:
        mend = tell("Delete the file and fetch again; days of your own go into a file named by 'weather'.")
        what = tell("the lines at its top that say who told these days are not whole.")
        raise BadWeatherFile(Problem(what, mend, path.name)) from error
