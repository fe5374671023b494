"""Met Éireann's daily file dlyNNN.csv: free text, then a header that begins with 'date'.

°C, mm, h, knots at 10 m, and J cm⁻². Columns called 'ind' (igmin for gmin) say how the next value was
come by; the values are used as printed, blanks are missing. The climatological day is 00 to 00 UTC
at synoptic stations and 09 to 09 at others, as the file's own text says.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from evenpick.base.language import MONTHS, tell
from evenpick.climate.readers.rows import Rows
from evenpick.climate.readers.text import AGAIN, Faults, calendar_day, read_lines
from evenpick.climate.readers.units import J_PER_CM2, KNOT, wind_at_2m
from evenpick.climate.series import DailySeries, Origin

SOURCE = "Met Éireann daily data"
LICENCE = "CC BY 4.0, © Met Éireann"
COLUMNS = {
    "mintp": ("tmin", 1.0), "maxtp": ("tmax", 1.0), "rain": ("rain", 1.0), "sun": ("sunshine", 1.0),
    "wdsp": ("wind", KNOT * wind_at_2m(1.0)), "g_rad": ("radiation", J_PER_CM2),
    "glorad": ("radiation", J_PER_CM2),
}
DATE = re.compile(r"(\d{1,2})-([A-Za-z]{3})-(\d{4}|\d\d)", re.ASCII)
CENTURY_TURNS = 42  # two-digit years run from 1942, the first of these records, to 2041


def _header(lines: Sequence[str]) -> int | None:
    for index, text in enumerate(lines[:200]):
        names = _names(text)
        if names[0] == "date" and ({"maxtp", "mintp"} & set(names) or {"ind", "rain"} <= set(names)):
            return index
    return None


def _names(text: str) -> list[str]:
    return [name.strip().lower() for name in text.split(",")]


def recognises(lines: Sequence[str]) -> bool:
    return _header(lines) is not None


def read_met_eireann(path: Path) -> tuple[DailySeries, Origin]:
    """A daily file of Met Éireann, with or without its text and 'ind' columns.

    Raises BadWeatherFile where it is damaged.
    """
    lines, faults = read_lines(path), Faults(path.name)
    rows, header = Rows(faults), _header(lines)
    if header is None:
        raise faults.stop(tell("the header with date, maxtp, mintp and rain is missing."), tell(AGAIN))
    names = _names(lines[header])
    for line, text in enumerate(lines[header + 1 :], header + 2):
        if text.strip():
            _row(names, text.split(","), line, rows)
    series = rows.service_series()
    return series, _origin(lines[:header], path.name, rows)


def _row(names: list[str], cells: list[str], line: int, rows: Rows) -> None:
    row = rows.row(names, cells, line)
    day = rows.new_day(_day(row["date"]), row["date"], line) if row else None
    if day is not None:
        rows.put_all(COLUMNS, row, day, line)


def _day(text: str) -> int | None:
    parts = DATE.fullmatch(text)
    if not parts or parts[2].capitalize() not in MONTHS:
        return None
    year = int(parts[3])
    if len(parts[3]) == 2:
        year += 1900 if year >= CENTURY_TURNS else 2000
    return calendar_day(year, MONTHS.index(parts[2].capitalize()) + 1, int(parts[1]))


def _origin(text: Sequence[str], file: str, rows: Rows) -> Origin:
    said = "\n".join(text)

    def value(pattern: str) -> float | None:
        found = re.search(pattern + r"\s*:\s*(-?\d+(\.\d+)?)", said, re.ASCII | re.IGNORECASE)
        return float(found[1]) if found else None

    name = re.search(r"station name\s*:\s*(.+)", said, re.IGNORECASE)
    return Origin(
        SOURCE, file, name[1].strip() if name else None, value("latitude"), value("longitude"),
        value("station height"), LICENCE, tuple(rows.notes),
    )
