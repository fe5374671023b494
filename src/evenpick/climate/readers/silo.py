"""SILO's (Queensland Government) .met file as APSIM reads it: year, day of year, then named columns.

The line under the names gives the units, and they are checked: MJ m⁻², °C, mm and hPa. Every value is
there because SILO interpolates; the code of six digits that says which is not read. Rain is of the 24
hours to 9 am. No wind in this form.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from evenpick.base.language import tell
from evenpick.climate.readers.rows import Rows
from evenpick.climate.readers.text import Faults, calendar_day, number, read_lines
from evenpick.climate.series import DailySeries, Origin

SOURCE = "SILO, Queensland Government"
LICENCE = "CC BY 4.0, SILO (State of Queensland)"
COLUMNS = {
    "mint": ("tmin", 1.0), "maxt": ("tmax", 1.0), "rain": ("rain", 1.0), "radn": ("radiation", 1.0),
    "vp": ("vapour_pressure", 0.1),
}
UNITS = {
    "mint": ("oc", "c", "degc"), "maxt": ("oc", "c", "degc"), "rain": ("mm",), "radn": ("mj/m^2", "mj/m2"),
    "vp": ("hpa", "mb", "mbar"),
}
NEEDED = ("year", "day", "mint", "maxt", "rain")


def _bare(text: str) -> str:
    return text.split("!", 1)[0].strip()


def _header(lines: Sequence[str]) -> int | None:
    for index, text in enumerate(lines[:200]):
        names = _bare(text).lower().split()
        if names[:2] == ["year", "day"] and "maxt" in names:
            return index
    return None


def recognises(lines: Sequence[str]) -> bool:
    return any(text.lower().startswith("[weather") for text in lines[:30]) or _header(lines) is not None


def read_silo(path: Path) -> tuple[DailySeries, Origin]:
    """A .met file; raises BadWeatherFile for damage, missing columns or other units."""
    lines, faults = read_lines(path), Faults(path.name)
    rows, header = Rows(faults), _header(lines)
    if header is None or header + 1 >= len(lines):
        raise faults.stop(tell("the line of column names (year day radn maxt mint rain) is missing."),
                          tell("Add it."))
    names = _bare(lines[header]).lower().split()
    units = [unit.strip("() ").lower() for unit in re.findall(r"\([^)]*\)", lines[header + 1])]
    _check_columns(names, units, header + 1, faults)
    for line, text in enumerate(lines[header + 2 :], header + 3):
        if _bare(text):
            _row(names, _bare(text).split(), line, rows)
    series = rows.service_series()
    return series, _origin(lines[:header], path.name, rows)


def _check_columns(names: list[str], units: list[str], line: int, faults: Faults) -> None:
    for name in NEEDED:
        if name not in names:
            faults.add(tell("there is no column '{name}'.",
                            name=name), tell("Give year, day, maxt, mint and rain."), line)
    if len(units) != len(names):
        faults.add(tell("the line of units does not match the names."), tell("Give each a unit in brackets."),
                   line + 1)
    for name, unit in zip(names, units, strict=False):
        if unit not in UNITS.get(name, (unit,)):
            faults.add(
                tell("the unit ({unit}) of {name} is not known here.", unit=unit, name=name),
                tell("Give {name} in ({units}).", name=name, units=UNITS[name][0]), line + 1, name,
            )
    faults.raise_any()


def _row(names: list[str], cells: list[str], line: int, rows: Rows) -> None:
    row = rows.row(names, cells, line)
    if not row:
        return
    day = rows.new_day(_day(row["year"], row["day"]), f"{row['year']} {row['day']}", line)
    if day is not None:
        rows.put_all(COLUMNS, row, day, line)


def _day(year: str, day_of_year: str) -> int | None:
    if not re.fullmatch(r"\d{4} \d{1,3}", f"{year} {day_of_year}", re.ASCII):
        return None
    january, december = (calendar_day(int(year), month, day) for month, day in ((1, 1), (12, 31)))
    if january is None or december is None:
        return None
    day = january + int(day_of_year) - 1
    return day if january <= day <= december else None


def _origin(text: Sequence[str], file: str, rows: Rows) -> Origin:
    said = "\n".join(text)
    name = re.search(r"station name\s*=\s*(.+)", said, re.IGNORECASE)

    def value(key: str) -> float | None:
        found = re.search(rf"^\s*{key}\s*=\s*(\S+)", said, re.IGNORECASE | re.MULTILINE)
        return number(found[1]) if found else None

    return Origin(
        SOURCE, file, name[1].strip() if name else None, value("latitude"), value("longitude"),
        licence=LICENCE if "silo" in said.lower() else None, notes=tuple(rows.notes),
    )
