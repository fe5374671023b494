"""KNMI's daily file etmgeg_NNN.txt: a bilingual header, then rows under '# STN,YYYYMMDD,...'.

Tenths of °C, mm, h and m s⁻¹; radiation in J cm⁻², humidity in %. Rain and sunshine of -1 mean under
0.05, taken as 0.025. Blank is missing. Wind is taken as at 10 m; older masts stood up to 20 m.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from evenpick.base.language import tell
from evenpick.climate.readers.rows import Rows
from evenpick.climate.readers.text import AGAIN, Faults, compact_day, number, read_lines
from evenpick.climate.readers.units import J_PER_CM2, vapour_pressure, wind_at_2m
from evenpick.climate.series import DailySeries, Origin

SOURCE = "KNMI daily data (etmgeg)"
LICENCE = "CC BY 4.0, Royal Netherlands Meteorological Institute (KNMI)"
HEADER = re.compile(r"#?\s*STN,\s*YYYYMMDD,")
TRACE = 0.025  # mm or h for the code -1, 'under 0.05'
COLUMNS = {
    "TN": ("tmin", 0.1), "TX": ("tmax", 0.1), "RH": ("rain", 0.1), "SQ": ("sunshine", 0.1),
    "Q": ("radiation", J_PER_CM2), "FG": ("wind", 0.1 * wind_at_2m(1.0)),
}


def _header(lines: Sequence[str]) -> int | None:
    return next((index for index, text in enumerate(lines[:200]) if HEADER.match(text)), None)


def recognises(lines: Sequence[str]) -> bool:
    return _header(lines) is not None


def read_knmi(path: Path) -> tuple[DailySeries, Origin]:
    """A daily file of one KNMI station.

    Vapour pressure is made of TG and UG (readers.units.vapour_pressure). Raises BadWeatherFile for
    damage or two stations.
    """
    lines, faults = read_lines(path), Faults(path.name)
    rows, header = Rows(faults), _header(lines)
    if header is None:
        raise faults.stop(tell("the header '# STN,YYYYMMDD,...' is missing."), tell(AGAIN))
    names = [name.strip() for name in lines[header].lstrip("#").split(",")]
    for line, text in enumerate(lines[header + 1 :], header + 2):
        if text.strip():
            _row(names, text.split(","), line, rows)
    series = rows.service_series()
    return series, Origin(SOURCE, path.name, rows.station, licence=LICENCE, notes=tuple(rows.notes))


def _row(names: list[str], cells: list[str], line: int, rows: Rows) -> None:
    row = rows.row(names, cells, line)
    if not row or not rows.of_station(row["STN"], line):
        return
    day = rows.new_day(compact_day(row["YYYYMMDD"]), row["YYYYMMDD"], line)
    if day is None:
        return
    for name in ("RH", "SQ"):
        if row.get(name) == "-1":
            rows.values[COLUMNS[name][0]][day] = TRACE
            del row[name]
    rows.put_all(COLUMNS, row, day, line)
    _moisture(row, day, rows)


def _moisture(row: dict[str, str], day: int, rows: Rows) -> None:
    temperature, humidity = number(row.get("TG", "")), number(row.get("UG", ""))
    if temperature is not None and humidity is not None and -950 <= temperature <= 600:
        rows.values["vapour_pressure"][day] = vapour_pressure(temperature / 10, humidity)
