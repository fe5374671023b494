"""DWD's daily file produkt_klima_tag_*.txt: semicolons, mm, h, hPa, °C, m s⁻¹ at 10 m, -999 missing."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from evenpick.base.language import tell
from evenpick.climate.readers.rows import Rows
from evenpick.climate.readers.text import AGAIN, Faults, compact_day, read_lines
from evenpick.climate.readers.units import wind_at_2m
from evenpick.climate.series import DailySeries, Origin

SOURCE = "Deutscher Wetterdienst, daily climate observations"
LICENCE = "CC BY 4.0, Deutscher Wetterdienst"
MISSING = -999.0
COLUMNS = {
    "TNK": ("tmin", 1.0), "TXK": ("tmax", 1.0), "RSK": ("rain", 1.0), "SDK": ("sunshine", 1.0),
    "VPM": ("vapour_pressure", 0.1), "FM": ("wind", wind_at_2m(1.0)),
}


def recognises(lines: Sequence[str]) -> bool:
    return {"STATIONS_ID", "MESS_DATUM", "TXK"} <= set(_cells(lines[0]))


def _cells(text: str) -> list[str]:
    return [cell.strip() for cell in text.split(";")]


def read_dwd(path: Path) -> tuple[DailySeries, Origin]:
    """A daily climate file of one DWD station; raises BadWeatherFile for damage or two stations."""
    lines, faults = read_lines(path), Faults(path.name)
    rows, names = Rows(faults), _cells(lines[0])
    if not recognises(lines):
        raise faults.stop(tell("the header STATIONS_ID;MESS_DATUM;... is missing."), tell(AGAIN), 1)
    for line, text in enumerate(lines[1:], 2):
        if text.strip():
            _row(names, _cells(text), line, rows)
    series = rows.service_series()
    return series, Origin(SOURCE, path.name, rows.station, licence=LICENCE, notes=tuple(rows.notes))


def _row(names: list[str], cells: list[str], line: int, rows: Rows) -> None:
    row = rows.row(names, cells, line)
    if not row or not rows.of_station(row["STATIONS_ID"], line):
        return
    day = rows.new_day(compact_day(row["MESS_DATUM"]), row["MESS_DATUM"], line)
    if day is not None:
        rows.put_all(COLUMNS, row, day, line, (MISSING,))
