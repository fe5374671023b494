"""GHCN-Daily of NOAA (readme of the data set, section III: elements, units and flags).

Temperatures in tenths of °C, rain in tenths of mm, wind in tenths of m s⁻¹ at about 10 m, sunshine in
minutes. A value with a quality flag failed a check and is left out. Rain 'missing presumed zero'
(measurement flag P) or summed over several days (A) is left out too: it is not this day's rain.
Not read: TAVG, snow, and the time of observation, so a morning gauge's rain keeps the date it has.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from evenpick.base.language import later, tell
from evenpick.climate.gaps import counted_days
from evenpick.climate.readers.rows import Rows
from evenpick.climate.readers.text import (
    AGAIN,
    Faults,
    calendar_day,
    compact_day,
    iso_day,
    number,
    read_lines,
)
from evenpick.climate.readers.units import wind_at_2m
from evenpick.climate.series import DailySeries, Origin

SOURCE = "GHCN-Daily, NOAA National Centers for Environmental Information"
LICENCE = "NOAA open data; stations outside the USA may carry their own service's terms"
MISSING = -9999.0
ELEMENTS = {
    "TMIN": ("tmin", 0.1), "TMAX": ("tmax", 0.1), "PRCP": ("rain", 0.1),
    "AWND": ("wind", 0.1 * wind_at_2m(1.0)), "TSUN": ("sunshine", 1 / 60),
}
NOT_THIS_DAY = {"P": "missing, presumed zero by the service", "A": "a total of several days"}
LONG_ROW = re.compile(r"[A-Z0-9_\-]{11},\d{8},[A-Z0-9]{4},\s*-?\d+,", re.ASCII)
FIXED_ROW = re.compile(r"[A-Z0-9_\-]{11}\d{6}[A-Z0-9]{4}[ \-\d]{5}", re.ASCII)
ORDER_FORM = later("an order-form file may be in °F and inches or in °C and mm, and does not say which")
PLAIN = later("Rename its columns date, tmin_f, tmax_f, rain_in (or tmin_c, tmax_c, rain_mm) and keep "
              "only these.")


@dataclass
class _Station:
    """What gathers while rows of one station are read."""

    rows: Rows
    left_out: Counter[str] = field(default_factory=Counter)

    def put(self, element: str, day: int, value: str, flags: tuple[str, str], line: int) -> None:
        if element not in ELEMENTS or not value.strip():
            return
        variable, unit = ELEMENTS[element]
        readings = self.rows.values[variable]
        if day in readings:
            self.rows.faults.add(
                tell("{element} of this day is there twice.",
                     element=element), tell("Keep one row a day and element."), line, element
            )
        reason = _refused(element, *flags)
        if reason:
            self.left_out[f"{variable} {reason}"] += 1
            return
        self.rows.put(variable, day, value, line, unit, (MISSING,))

    def finish(self, where: dict[str, float | None] | None = None) -> tuple[DailySeries, Origin]:
        series = self.rows.service_series()
        left_out = sorted(self.left_out.items())
        notes = [f"{reason}: {counted_days(count)} left out" for reason, count in left_out]
        origin = Origin(
            SOURCE, self.rows.faults.file, self.rows.station, licence=LICENCE,
            notes=(*self.rows.notes, *notes), **(where or {}),
        )
        return series, origin


def _refused(element: str, measured: str, quality: str) -> str | None:
    if quality.strip():
        return "failed the service's own check"
    return NOT_THIS_DAY.get(measured.strip()) if element == "PRCP" else None


def is_long(lines: Sequence[str]) -> bool:
    """Whether these are rows of station, date, element, value."""
    head = lines[0].lower()
    return head.startswith(("date,attr,value", "id,date,element,")) or bool(LONG_ROW.match(lines[0]))


def read_ghcn_long(path: Path) -> tuple[DailySeries, Origin]:
    """The by-station or by-year CSV: ID,YYYYMMDD,ELEMENT,VALUE,M,Q,S,TIME, with or without a header.

    A file whose ID column was removed (`date,attr,value,...`) is one station's. Raises BadWeatherFile
    for rows of two stations, damaged rows, or no weather.
    """
    lines = read_lines(path)
    station = _Station(Rows(Faults(path.name)))
    nameless = lines[0].lower().startswith("date,")
    header = int(not LONG_ROW.match(lines[0]))
    for line, text in enumerate(lines[header:], header + 1):
        if text.strip():
            _long_row((["", *text.split(",")] if nameless else text.split(",")), nameless, line, station)
    return station.finish()


def _long_row(cells: list[str], nameless: bool, line: int, station: _Station) -> None:
    faults = station.rows.faults
    day = compact_day(cells[1]) if len(cells) >= 7 else None
    if day is None:
        faults.add(
            tell("this is no row of date, element, value and three flags."), tell(AGAIN), line
        )
    elif nameless or station.rows.of_station(cells[0], line):
        station.put(cells[2], day, cells[3], (cells[4], cells[5]), line)


def is_fixed(lines: Sequence[str]) -> bool:
    """Whether these are fixed-width months of the .dly form."""
    return bool(FIXED_ROW.match(lines[0]))


def read_ghcn_fixed(path: Path) -> tuple[DailySeries, Origin]:
    """The .dly file: a row is a month of one element, 31 times a value of 5 and flags M, Q, S."""
    station = _Station(Rows(Faults(path.name)))
    for line, text in enumerate(read_lines(path), 1):
        if text.strip():
            _fixed_month(text, line, station)
    return station.finish()


def _fixed_month(text: str, line: int, station: _Station) -> None:
    if not FIXED_ROW.match(text):
        station.rows.faults.add(tell("this is no month of the .dly form."), tell(AGAIN), line)
        return
    if not station.rows.of_station(text[:11], line):
        return
    year, month, element = int(text[11:15]), int(text[15:17]), text[17:21]
    for number_of_day in range(1, 32):
        cell = text[13 + 8 * number_of_day : 21 + 8 * number_of_day].ljust(8)
        day = calendar_day(year, month, number_of_day)
        if day is not None:
            station.put(element, day, cell[:5], (cell[5], cell[6]), line)
        elif cell[:5].strip() not in ("", "-9999"):
            station.rows.faults.add(
                tell("{year}-{month:02d} has no day {number_of_day}, yet it has a value.", year=year,
                     month=month, number_of_day=number_of_day),
                tell(AGAIN), line,
            )


def is_wide(lines: Sequence[str]) -> bool:
    """Whether the header is that of a CSV with a column for each element."""
    names = lines[0].upper().replace('"', "").split(",")
    return "STATION" in names and "DATE" in names and bool({"TMAX", "TMIN", "PRCP"} & set(names))


def read_ghcn_wide(path: Path) -> tuple[DailySeries, Origin]:
    """The 'access' CSV: STATION, DATE, LATITUDE, LONGITUDE, ELEVATION, NAME, then element and flags.

    The order form's CSV looks alike but has no fixed units, so it is refused with the remedy: its NAME
    comes before DATE, it may lack the flags' columns, and its values may have decimals.
    """
    lines = read_lines(path)
    faults = Faults(path.name)
    station = _Station(Rows(faults))
    where: dict[str, float | None] = {}
    try:
        table = csv.reader(lines)
        names = next(table)
        _refuse_order_form(names, faults)
        for cells in table:
            if cells:
                row = station.rows.row(names, cells, table.line_num)
                _wide_row(row, table.line_num, station)
                where = where or _where(row)
    except csv.Error as error:
        raise faults.stop(tell("the table is damaged ({error}).", error=error), tell(AGAIN)) from error
    return station.finish(where)


def _refuse_order_form(names: list[str], faults: Faults) -> None:
    elements = [name for name in ELEMENTS if name in names]
    if "DATE" not in names or "STATION" not in names:
        raise faults.stop(tell("the header lacks STATION or DATE."), tell(AGAIN), 1)
    named_first = "NAME" in names and names.index("NAME") < names.index("DATE")
    if named_first or any(f"{name}_ATTRIBUTES" not in names for name in elements):
        raise faults.stop(f"{tell(ORDER_FORM)}.", tell(PLAIN), 1)


def _wide_row(row: dict[str, str], line: int, station: _Station) -> None:
    faults = station.rows.faults
    if not row or not station.rows.of_station(row["STATION"], line):
        return
    day = station.rows.new_day(iso_day(row["DATE"]), row["DATE"], line)
    if day is None:
        return
    for element in ELEMENTS.keys() & row.keys():
        flags = (row[f"{element}_ATTRIBUTES"] + ",,").split(",")
        if "." in row[element]:
            faults.add(f"{tell(ORDER_FORM)} ({element} {row[element]}).", tell(PLAIN), line, element)
        else:
            station.put(element, day, row[element], (flags[0], flags[1]), line)


def _where(row: dict[str, str]) -> dict[str, float | None]:
    columns = {"lat": "LATITUDE", "lon": "LONGITUDE", "height_m": "ELEVATION"}
    found = {key: number(row.get(column, "")) for key, column in columns.items()}
    if found["height_m"] is not None and found["height_m"] <= -999:  # the data set's code for unknown
        found["height_m"] = None
    return found
