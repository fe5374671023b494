"""The grower's own record as plain CSV (docs/formats/daily-csv.md): a unit belongs to a column's name."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from evenpick.base.days import day_date
from evenpick.base.language import tell, tell_n
from evenpick.climate.readers.rows import POSSIBLE, Rows
from evenpick.climate.readers.text import Faults, iso_day, number, read_lines
from evenpick.climate.readers.units import WIND_ALONE, WIND_MOVED, celsius, millimetres, wind_at_2m
from evenpick.climate.series import DailySeries, Origin

HEADER = "date,tmin_c,tmax_c,rain_mm"
MISSING = ("", "na", "nan")
MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)


def _same(value: float) -> float:
    return value


COLUMNS: dict[str, tuple[str, Callable[[float], float]]] = {
    "tmin_c": ("tmin", _same), "tmax_c": ("tmax", _same), "rain_mm": ("rain", _same),
    "tmin_f": ("tmin", celsius), "tmax_f": ("tmax", celsius), "rain_in": ("rain", millimetres),
    "radiation_mj_m2": ("radiation", _same), "sunshine_h": ("sunshine", _same),
    "wind_m_s": ("wind", wind_at_2m), "wind2_m_s": ("wind", _same),
    "vapour_pressure_kpa": ("vapour_pressure", _same),
}
NEEDED = {  # by variable: the names that say a unit, and how a name without one may be known
    "tmin": ("tmin_c", "tmin_f", "min"), "tmax": ("tmax_c", "tmax_f", "max"),
    "rain": ("rain_mm", "rain_in", "rain|prec|prcp"),
}
FAHRENHEIT_MEAN = 55.0  # a month's mean maximum above this is no °C on earth; 46 is near the most (memory)
CELSIUS_MEAN = 50.0
COLD_SUMMER = 6.0  # °C; where the warmest month's mean maximum is below, nothing is grown outdoors (memory)
WETTEST_YEAR = 12_000.0  # mm; the wettest place on earth has about that in a mean year (memory)


@dataclass(frozen=True, slots=True)
class _Head:
    """Where the header stands and which column holds what."""

    line: int
    names: tuple[str, ...]


def recognises(lines: Sequence[str]) -> bool:
    """Whether the first line that is no comment begins with a column called date."""
    first = next((text for text in lines if text.strip() and not text.startswith("#")), "")
    return first.split(",")[0].split(";")[0].split("\t")[0].strip(' "').lower() == "date"


def read_daily_csv(path: Path) -> tuple[DailySeries, Origin]:
    """A plain daily CSV in the order of days, one row a day, a cell left empty where nothing was read.

    Raises BadWeatherFile with all problems of the file (the first twenty written out): other columns
    or units than documented, dates that are wrong, twice, out of order or left out, cells that are no
    numbers or no weather, tmin above tmax. Lines that begin with '#' are comments.
    """
    lines, faults = read_lines(path), Faults(path.name)
    head = _head(lines, faults)
    rows = Rows(faults)
    before: int | None = None
    for line, text in enumerate(lines[head.line :], head.line + 1):
        if text.strip() and not text.startswith("#"):
            before = _row(head.names, text, line, before, rows)
    _check_units(head, rows)
    series = rows.series()
    return series, Origin("own daily record", path.name, notes=_notes(head, series))


def _head(lines: Sequence[str], faults: Faults) -> _Head:
    for line, text in enumerate(lines, 1):
        if text.strip() and not text.startswith("#"):
            names = tuple(name.lower() for name in _cells(text))
            _check_header(_Head(line, names), text, lines[line:], faults)
            return _Head(line, names)
    raise faults.stop(tell("the file is empty."), tell("Begin with the header {header}.", header=HEADER))


def _check_header(head: _Head, text: str, rest: Sequence[str], faults: Faults) -> None:
    if len(head.names) == 1 and (";" in text or "\t" in text):
        raise faults.stop(
            tell("the columns are not separated by commas."),
            tell("Separate them by commas and write numbers with a decimal point."), head.line,
        )
    if head.names[0] != "date":
        raise faults.stop(
            tell("the header begins with '{names}', not with date.", names=head.names[0][:40]),
            tell("Begin with {header}.", header=HEADER), head.line,
        )
    _check_complete(head, rest, faults)
    faults.raise_any()


def _check_complete(head: _Head, rest: Sequence[str], faults: Faults) -> None:
    held = [COLUMNS[name][0] for name in head.names if name in COLUMNS]
    for variable in sorted({name for name in held if held.count(name) > 1}):
        faults.add(tell("two columns give {variable}.",
                        variable=variable), tell("Keep one of them."), head.line)
    for variable, (metric, imperial, pattern) in NEEDED.items():
        if variable in held:
            continue
        near = [name for name in head.names if name not in COLUMNS and re.search(pattern, name)]
        if near:
            hint = _looks_fahrenheit(head.names.index(near[0]), rest) if variable != "rain" else ""
            what = tell("the name '{near}' has no unit known here{hint}.", near=near[0][:40], hint=hint)
            faults.add(what, tell("Name the column {metric} or {imperial}.", metric=metric,
                                  imperial=imperial), head.line)
        else:
            faults.add(tell("there is no column {metric} or {imperial}.", metric=metric,
                            imperial=imperial), tell(
                        "The header is {header}.", header=HEADER), head.line)


def _looks_fahrenheit(column: int, rest: Sequence[str]) -> str:
    cells = [text.split(",")[column].strip() for text in rest if text.count(",") >= column]
    values = sorted(value for value in map(number, cells) if value is not None)
    warm = values[len(values) // 2 :]
    return "; its values look like °F" if warm and sum(warm) / len(warm) > FAHRENHEIT_MEAN else ""


def _cells(text: str) -> list[str]:
    """Cells of one row; a quoted cell may hold commas."""
    try:
        cells = next(csv.reader([text])) if '"' in text else text.split(",")
    except csv.Error:  # a cell of more than 128 kB: told as a wrong number of cells
        cells = [text]
    return [cell.strip().strip('"') for cell in cells]


def _row(names: Sequence[str], text: str, line: int, before: int | None, rows: Rows) -> int | None:
    """Keeps the readings of a row; returns its day, or that of the row before if it has none."""
    faults, cells = rows.faults, _cells(text)
    day = iso_day(cells[0])
    if day is None:
        what = tell("'{cells}' is not a date.", cells=cells[0][:40])
        faults.add(what, tell("Write year-month-day, such as 2027-03-14."), line, "date")
        return before
    if not _in_order(day, before, line, faults):
        return before
    rows.seen.add(day)
    if len(cells) != len(names):
        faults.add(
            tell_n("the row has {n} cell under {names} names.",
                   "the row has {n} cells under {names} names.", len(cells), names=len(names)),
            tell("Give every column a cell, empty where nothing was read; decimal point, no comma."), line,
        )
        return day
    for name, cell in zip(names, cells, strict=True):
        if name in COLUMNS:
            _cell(name, cell, day, line, rows)
    low, high = (rows.values[variable].get(day) for variable in ("tmin", "tmax"))
    if low is not None and high is not None and low > high:
        faults.add(
            tell("the minimum {low:.1f} °C is above the maximum {high:.1f} °C.", low=low, high=high),
            tell("Change them round, or leave both empty."), line,
        )
    return day


def _in_order(day: int, before: int | None, line: int, faults: Faults) -> bool:
    if before is None or day == before + 1:
        return True
    if day > before + 1:
        last = f" to {day_date(day - 1)}" if day > before + 2 else ""
        faults.add(
            tell("{before}{last} is left out before this row.", before=day_date(before + 1), last=last),
            tell("Add a row for each day, its cells empty (2027-03-14,,,)."), line, "date",
        )
        return True
    twice = "stands there twice" if day == before else f"comes after {day_date(before)}"
    faults.add(f"{day_date(day)} {twice}.", tell("Keep one row for each day, in the order of days."), line,
               "date")
    return False


def _cell(name: str, cell: str, day: int, line: int, rows: Rows) -> None:
    if cell.lower() in MISSING:
        return
    variable, convert = COLUMNS[name]
    value = number(cell)
    if value is None:
        what = tell("'{cell}' is not a number.", cell=cell[:40])
        rows.faults.add(what, tell("Write it with a decimal point, or leave it empty."), line, name)
        return
    rows.values[variable][day] = convert(value)
    low, high = POSSIBLE[variable]
    if not low <= convert(value) <= high:
        what = tell("{cell} is beyond any weather on record.", cell=cell[:40])
        rows.faults.add(what, tell("Mend it, or leave the cell empty if nothing was read."), line, name)


def _check_units(head: _Head, rows: Rows) -> None:
    """Raises BadWeatherFile where another unit explains the values; other problems follow from it."""
    warm = _monthly_means(rows.values["tmax"])
    month = max(warm, key=warm.__getitem__, default=1)
    faults = Faults(rows.faults.file)
    if warm and "tmax_c" in head.names and warm[month] > CELSIUS_MEAN:
        what = tell("the mean maximum of {month_names} is {warm:.0f} °C; that looks like °F.",
                    month_names=MONTH_NAMES[month - 1], warm=warm[month])
        raise faults.stop(what, tell("Name the columns tmin_f, tmax_f."), head.line)
    if len(warm) == 12 and "tmax_f" in head.names and warm[month] < COLD_SUMMER:
        mean = warm[month] * 1.8 + 32
        what = tell("the mean maximum of {month_names} is {mean:.0f} °F; that looks like °C.",
                    month_names=MONTH_NAMES[month - 1], mean=mean)
        raise faults.stop(what, tell("Name the columns tmin_c, tmax_c."), head.line)
    rain = rows.values["rain"]
    if len(rain) >= 300 and "rain_in" in head.names and _yearly(rain) > WETTEST_YEAR:
        raise faults.stop(tell("the rain looks like mm, not inches."), tell("Name the column rain_mm."),
                          head.line)


def _monthly_means(readings: dict[int, float]) -> dict[int, float]:
    """Mean by calendar month of at least ten readings; codes for 'missing' such as -999 do not count."""
    usual = {day: value for day, value in readings.items() if -95 <= value <= 150}
    by_month: dict[int, list[float]] = {}
    for day, value in usual.items():
        by_month.setdefault(day_date(day).month, []).append(value)
    return {month: sum(values) / len(values) for month, values in by_month.items() if len(values) >= 10}


def _yearly(rain: dict[int, float]) -> float:
    return sum(rain.values()) / len(rain) * 365.25


def _notes(head: _Head, series: DailySeries) -> tuple[str, ...]:
    ignored = [name for name in head.names[1:] if name not in COLUMNS]
    notes = [f"columns not used: {', '.join(ignored)}"] if ignored else []
    if series.missing("wind") < series.days:
        if series.missing("vapour_pressure") == series.days:
            notes.append(WIND_ALONE)
        elif "wind_m_s" in head.names:
            notes.append(WIND_MOVED)
    dry = series.rain[~np.isnan(series.rain)]
    if dry.size >= 300 and not dry.any():
        notes.append(f"no rain on any of {dry.size} days: if there was no gauge, leave its cells empty")
    elif "rain_mm" in head.names and dry.size >= 300 and dry.mean() * 365.25 < 60:
        notes.append(
            f"only {dry.mean() * 365.25:.0f} mm of rain a year: if it was in inches, name the column rain_in"
        )
    return tuple(notes)
