"""Twelve monthly normals: what a climate is made from where there is no daily record.

`read_normals_toml` reads the file that a grower types (docs/formats/normals-toml.md).
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.errors import BadWeatherFile, Problem, did_you_mean
from evenpick.base.language import MONTH_NAMES, tell
from evenpick.climate.seasonal import half_a_year_out

DAYS_IN_MONTH: Floats = np.array([31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31], dtype=np.float64)
MM_PER_INCH = 25.4
HOTTEST_MEAN_TMAX = 50.0  # °C; above every monthly mean maximum on record (memory)
WET_DAYS_ESTIMATED = "wet days estimated from rain and temperature, within about 3.5 days a month"
DESERT = 60.0  # mm a year: 55 of the 2,547 packaged stations have less
WETTEST_YEAR = 12_000.0  # mm; the wettest packaged station has 8,343
WETTEST_MONTH = 9300.0  # mm; Cherrapunji, July 1861, the record (memory)


@dataclass(frozen=True, slots=True, eq=False)
class MonthlyNormals:
    """January to December; every array has shape (12,), has no NaN, and is None when not known whole.

    tmin, tmax: mean of the daily minima and maxima, °C. rain_mm: mean total of the month, mm.
    wet_days: mean number of days with at least 1 mm in the month. sd_daily_tmean: standard deviation of
    daily mean temperature from day to day within a month, K. sunshine_h: mean total of the month, hours.
    vapour_pressure: mean, kPa. interannual_sd_tmean: standard deviation of the month's mean temperature
    between years, K. drop_to_lowest: how far the lowest minimum of a month lies below its mean minimum, on
    average over the years, K. years: years of record behind the normals.
    """

    name: str
    lat: float
    lon: float
    height_m: float | None
    tmin: Floats
    tmax: Floats
    rain_mm: Floats
    wet_days: Floats
    sd_daily_tmean: Floats | None = None
    sunshine_h: Floats | None = None
    vapour_pressure: Floats | None = None
    interannual_sd_tmean: Floats | None = None
    drop_to_lowest: Floats | None = None
    years: int | None = None
    licence: str = ""
    notes: tuple[str, ...] = field(default_factory=tuple)


def estimated_wet_days(rain_mm: Floats, tmin: Floats, tmax: Floats) -> Floats:
    """Days with at least 1 mm in each month, shape (12,), from rain (mm a month) and temperature (°C).

    wet = n P / (P + 3.8 exp(0.033 max(T, 0)) n), n days in the month, T the mean temperature: warm rain
    falls on fewer days. Fitted here on every other station of the packaged normals; on the stations left
    out: bias -0.1, root mean square 2.1, nine in ten within 3.5 days a month (builders/station_normals.py
    prints it). Knows nothing of drizzly coasts, where it is too low.
    """
    warmth = np.maximum((tmin + tmax) / 2, 0.0)
    days: Floats = DAYS_IN_MONTH * rain_mm / (rain_mm + 3.8 * np.exp(0.033 * warmth) * DAYS_IN_MONTH)
    return days


def read_normals_toml(path: Path) -> MonthlyNormals:
    """The normals that a grower typed (docs/formats/normals-toml.md), in °C, mm and hours.

    Wet days that are not given are estimated and noted. Raises BadWeatherFile with every fault found,
    each with its file, line and field.
    """
    page = _Page(path.name, _text(path))
    _check_keys(page)
    celsius = _unit(page, "temperature", {"C": lambda t: t, "F": lambda t: (t - 32) / 1.8})
    mm = _unit(page, "rain", {"mm": lambda r: r, "in": lambda r: r * MM_PER_INCH})
    lat, lon = _number(page, "lat", -90, 90), _number(page, "lon", -180, 180)
    height = _number(page, "height_m", -450, 6000) if page.has("height_m") else None
    years = int(_number(page, "years", 1, 500)) if page.has("years") else None
    name, licence = _words(page, "name", "typed normals"), _words(page, "licence", "the grower's own")
    tmin, tmax, rain = _twelve(page, "tmin"), _twelve(page, "tmax"), _twelve(page, "rain")
    wet = _twelve(page, "wet_days") if page.has("wet_days") else None
    sun = _twelve(page, "sunshine") if page.has("sunshine") else None
    page.stop_at_problems()
    tmin, tmax, rain = celsius(tmin), celsius(tmax), mm(rain)
    _check_temperatures(page, tmin, tmax)
    _check_seasons(page, lat, tmax)
    _check_rain(page, rain, wet)
    _check_sunshine(page, sun)
    page.stop_at_problems()
    return MonthlyNormals(
        name, lat, lon, height, tmin, tmax, rain,
        wet_days=estimated_wet_days(rain, tmin, tmax) if wet is None else wet, sunshine_h=sun,
        years=years, licence=licence, notes=_notes(rain, wet),
    )


def _notes(rain: Floats, wet: Floats | None) -> tuple[str, ...]:
    dry = (f'only {rain.sum():.0f} mm of rain a year: if it was in inches, write rain = "in" below [units]',)
    return ((WET_DAYS_ESTIMATED,) if wet is None else ()) + (dry if rain.sum() < DESERT else ())


class _Page:
    """A parsed file, where each key stands in it, and the problems found so far."""

    def __init__(self, file: str, text: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        try:
            self.table: dict[str, Any] = tomllib.loads(text)
        except (ValueError, RecursionError) as error:  # beyond its own error: a number or nest too long
            place = re.search(r"line (\d+)", str(error))
            line = int(place.group(1)) if place else text.count("\n") + 1
            mend = tell("Each line is: key = value, words in quotes, twelve numbers in [ ] with commas "
                        "between.")
            raise BadWeatherFile(Problem(tell("this is not TOML ({error}).",
                                              error=error), mend, file, line)) from error
        self.lines = dict(_key_lines(text))

    def has(self, key: str) -> bool:
        return key in self.table

    def tell(self, field: str, what: str, mend: str) -> None:
        self.problems.append(Problem(what, mend, self.file, self.lines.get(field), field))

    def tell_months(self, field: str, wrong: Bools, what: str, mend: str) -> None:
        if wrong.any():
            months = ", ".join(name for name, is_wrong in zip(MONTH_NAMES, wrong, strict=True) if is_wrong)
            self.tell(field, f"{what} ({months}).", mend)

    def stop_at_problems(self) -> None:
        if self.problems:
            raise BadWeatherFile(self.problems)


def _key_lines(text: str) -> Iterator[tuple[str, int]]:
    table = ""
    for number, line in enumerate(text.splitlines(), 1):
        if heading := re.match(r"\s*\[\s*([\w.\"'-]+)\s*\]", line):
            table = heading.group(1).strip("\"'") + "."
            yield table[:-1], number
        elif key := re.match(r"\s*[\"']?([\w-]+)[\"']?\s*=", line):
            yield table + key.group(1), number


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except OSError as error:
        problem = Problem(tell("the file can't be opened ({strerror}).",
                               strerror=error.strerror), tell("Check its name."), path.name)
        raise BadWeatherFile(problem) from error
    except UnicodeDecodeError as error:
        problem = Problem(tell("the file is not plain UTF-8 text."), tell("Save it as UTF-8 text."),
                          path.name)
        raise BadWeatherFile(problem) from error


KEYS = ("name", "lat", "lon", "height_m", "years", "licence", "units", "tmin", "tmax", "rain", "wet_days",
        "sunshine")


def _check_keys(page: _Page) -> None:
    for key in page.table.keys() - set(KEYS):
        mend = did_you_mean(key, KEYS) or tell("The keys are {keys}.", keys=", ".join(KEYS))
        page.tell(key, f"'{key}' is not a key of this file.", mend)
    if not isinstance(page.table.get("units", {}), dict):
        page.tell("units", "'units' is not a table.", "Write a line [units], under it temperature and rain.")
        page.table["units"] = {}
    units = page.table.setdefault("units", {})
    for key in units.keys() - {"temperature", "rain"}:
        mend = did_you_mean(key, ("temperature", "rain")) or tell("The units are temperature and rain.")
        page.tell(f"units.{key}", f"'{key}' has no unit to choose (is it below [units] by mistake?).",
                  mend + " Twelve numbers belong above the line [units].")


def _unit(
    page: _Page, quantity: str, known: dict[str, Callable[[Floats], Floats]]
) -> Callable[[Floats], Floats]:
    unit = page.table["units"].get(quantity)
    choices = " or ".join(f'{quantity} = "{name}"' for name in known)
    if isinstance(unit, str) and unit in known:
        return known[unit]
    what = tell("{unit!r} is not a unit of {quantity} here", unit=unit, quantity=quantity) if unit else tell(
                        "the unit of {quantity} is not said", quantity=quantity)
    page.tell(f"units.{quantity}", f"{what}.", f"Write {choices} below [units].")
    return lambda values: values


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e9


def _number(page: _Page, key: str, low: float, high: float) -> float:
    """The number, or 0 with a problem told: the caller stops before it is used."""
    value = page.table.get(key)
    if _is_number(value) and low <= value <= high:  # type: ignore[operator]
        return float(value)  # type: ignore[arg-type]
    what = tell("{value!r} is not a number from {low} to {high}.", value=value, low=low,
                high=high) if page.has(key) else tell("'{key}' is missing.", key=key)
    page.tell(key, what, f"Write {key} = a plain number from {low} to {high}, without quotes.")
    return 0.0


def _words(page: _Page, key: str, otherwise: str) -> str:
    value = page.table.get(key, otherwise)
    if not isinstance(value, str):
        page.tell(key, f"{value!r} is not words.", "Put it in quotes.")
    return str(value)


def _twelve(page: _Page, key: str) -> Floats:
    """The twelve numbers, or twelve NaN with a problem told: the caller stops before they are used."""
    values = page.table.get(key)
    if what := _not_twelve(key, values):
        page.tell(key, what, "Give twelve numbers, January to December, such as [4.1, 4.3, ...].")
        return np.full(12, np.nan)
    return np.array(values, dtype=np.float64)


def _not_twelve(key: str, values: object) -> str | None:
    if values is None:
        return f"'{key}' is missing."
    if not isinstance(values, list):
        return f"{values!r} is not a list."
    if odd := [value for value in values if not _is_number(value)]:
        return f"{odd[0]!r} is not a number."
    return None if len(values) == 12 else f"there are {len(values)} numbers instead of 12."


def _check_temperatures(page: _Page, tmin: Floats, tmax: Floats) -> None:
    page.tell_months("tmin", tmin >= tmax, tell("the mean minimum is not below the mean maximum"),
                     tell("Check for months out of order, or tmin and tmax exchanged."))
    if page.table["units"]["temperature"] == "C":
        if tmax.max() > HOTTEST_MEAN_TMAX or tmax.min() > 40:
            page.tell("tmax", f"a mean maximum of {tmax.max():g} °C is hotter than anywhere on earth; "
                      "it looks like °F.", 'Write temperature = "F" below [units], or mend the number.')
    elif tmax.max() < 7:
        page.tell("tmax", f"no month is warmer than {tmax.max() * 1.8 + 32:g} °F; it looks like °C.",
                  'Write temperature = "C" below [units], or mend the numbers.')
    page.tell_months("tmin", tmin < -75, tell("a mean minimum below -75 °C does not occur"),
                     tell("Mend the number."))


def _check_seasons(page: _Page, lat: float, tmax: Floats) -> None:
    """Lists that begin with another month, or a latitude without its minus, turn windows by half a year."""
    wrong = half_a_year_out(lat, tmax[5:8].mean(), tmax[[11, 0, 1]].mean())
    if wrong:
        page.tell("lat", wrong,
                  tell("Begin the lists with January; south of the equator write lat with a minus."))


def _check_rain(page: _Page, rain: Floats, wet: Floats | None) -> None:
    page.tell_months("rain", rain < 0, tell("rain can't be below nought"), tell("Mend the number."))
    if rain.sum() > WETTEST_YEAR and rain.max() <= WETTEST_MONTH:
        page.tell("rain", tell("it adds up to {rain:.0f} mm a year; it looks like mm called inches.",
                               rain=rain.sum()), tell('Write rain = "mm" below [units].'))
    if (np.diff(rain) > 0).all():
        page.tell("rain", tell("every month has more than the one before; that looks like a running total."),
                  tell("Give each month its own rain."))
    page.tell_months("rain", rain > WETTEST_MONTH, tell("more rain than any month on record"),
                     tell('Check the unit: rain = "mm" or rain = "in" below [units].'))
    if wet is not None:
        page.tell_months("wet_days", (wet < 0) | (wet > np.ceil(DAYS_IN_MONTH)),
                         tell("not a number of days in a month"),
                         tell("Give the mean number of days with at least 1 mm in each month."))
        page.tell_months("wet_days", rain < wet - 0.5, tell("less rain than 1 mm on each wet day"),
                         tell("Wet days have at least 1 mm; if the rain is in inches, say so below [units]."))


def _check_sunshine(page: _Page, sun: Floats | None) -> None:
    if sun is None:
        return
    page.tell_months("sunshine", (sun < 0) | (sun > 24 * DAYS_IN_MONTH),
                     tell("not hours of sunshine in a month"),
                     tell("Give the total hours of bright sunshine of each month."))
    if sun.max() < 24:
        page.tell("sunshine", "these look like hours a day.",
                  "Give the total hours of each month (hours a day times the days of the month).")
