"""MIDAS observations processed to one row a day: datetime,prcp,temp_mean,temp_min,temp_max,...

mm, °C, h and kPa, as the values of the form show (humidity and temperature give its vapour pressure).
Its wind is left out: neither unit nor height is certain.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evenpick.base.language import tell
from evenpick.climate.readers.rows import Rows
from evenpick.climate.readers.text import AGAIN, Faults, iso_day, read_lines
from evenpick.climate.series import DailySeries, Origin

SOURCE = "Met Office MIDAS Open, processed to days"
LICENCE = "Open Government Licence v3, Crown copyright; the processed file may carry its own terms"
COLUMNS = {
    "temp_min": ("tmin", 1.0), "temp_max": ("tmax", 1.0), "prcp": ("rain", 1.0),
    "sun_dur": ("sunshine", 1.0), "vap_press": ("vapour_pressure", 1.0),
}


def recognises(lines: Sequence[str]) -> bool:
    return {"datetime", "prcp", "temp_min", "temp_max"} <= set(lines[0].strip().split(","))


def read_midas(path: Path) -> tuple[DailySeries, Origin]:
    """A processed daily MIDAS file; raises BadWeatherFile for damage."""
    lines, faults = read_lines(path), Faults(path.name)
    rows, names = Rows(faults), lines[0].strip().split(",")
    if not recognises(lines):
        raise faults.stop(tell("the header datetime,prcp,temp_min,temp_max is missing."), tell(AGAIN), 1)
    for line, text in enumerate(lines[1:], 2):
        if text.strip():
            _row(names, text.split(","), line, rows)
    series = rows.service_series()
    if "wind_speed" in names:
        rows.notes.append("wind left out: its unit and height are not stated")
    return series, Origin(SOURCE, path.name, licence=LICENCE, notes=tuple(rows.notes))


def _row(names: list[str], cells: list[str], line: int, rows: Rows) -> None:
    row = rows.row(names, cells, line)
    day = rows.new_day(iso_day(row["datetime"]), row["datetime"], line) if row else None
    if day is not None:
        rows.put_all(COLUMNS, row, day, line)
