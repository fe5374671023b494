"""Readings put in the order of the calendar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.days import day_date
from evenpick.base.language import tell, tell_n
from evenpick.climate.gaps import counted_days
from evenpick.climate.readers.text import AGAIN, Faults, number
from evenpick.climate.readers.units import WIND_ALONE, WIND_MOVED
from evenpick.climate.series import VARIABLES, DailySeries

POSSIBLE = {  # beyond any weather on record (WMO's extremes with room to spare; memory)
    "tmin": (-95.0, 60.0), "tmax": (-95.0, 60.0), "rain": (0.0, 2000.0), "radiation": (0.0, 45.0),
    "sunshine": (0.0, 24.0), "vapour_pressure": (0.0, 7.0), "wind": (0.0, 80.0),
}
MOST_BAD, FEW_BAD = 0.02, 10
"""share of the days with a reading, and days, up to which bad ones are slips of an instrument (own choice)"""


class Rows:
    """Readings of one station by variable and day, as a reader meets them."""

    def __init__(self, faults: Faults) -> None:
        self.faults = faults
        self.values: dict[str, dict[int, float]] = {name: {} for name in VARIABLES}
        self.seen: set[int] = set()
        self.station: str | None = None
        self.notes: list[str] = []

    def new_day(self, day: int | None, text: str, line: int) -> int | None:
        """The day of a row, or None after noting that it is no date or came before."""
        if day is None:
            self.faults.add(tell("'{text}' is not a date of this format.", text=text), tell(AGAIN), line)
        elif day in self.seen:
            self.faults.add(
                tell("{day} is there twice.",
                     day=day_date(day)), tell("Keep one row for each day, of one station."), line
            )
        else:
            self.seen.add(day)
            return day
        return None

    def row(self, names: Sequence[str], cells: Sequence[str], line: int) -> dict[str, str]:
        """Cells by column name, stripped; empty after noting that their number does not match."""
        if len(cells) == len(names):
            return {name: cell.strip() for name, cell in zip(names, cells, strict=True)}
        self.faults.add(tell_n("the row has {n} cell under {names} names.",
                               "the row has {n} cells under {names} names.", len(cells),
                               names=len(names)), tell(AGAIN), line)
        return {}

    def of_station(self, name: str, line: int) -> bool:
        """Whether a row is of the first station met; another is a fault."""
        if self.station is None:
            self.station = name
        if name == self.station:
            return True
        self.faults.add(
            tell("a second station, {name}, follows {station}.", name=name,
                 station=self.station), tell("Keep the rows of one station."), line
        )
        return False

    def put_all(
        self, columns: Mapping[str, tuple[str, float]], row: Mapping[str, str], day: int, line: int,
        missing: Sequence[float] = (),
    ) -> None:
        """Keeps the readings of a row; `columns` gives the variable and its unit in ours by name."""
        for name, (variable, unit) in columns.items():
            if name in row:
                self.put(variable, day, row[name], line, unit, missing)

    def put(
        self, variable: str, day: int, text: str, line: int, unit: float = 1.0, missing: Sequence[float] = ()
    ) -> None:
        """Keeps one reading of a service's file; blank or a `missing` code leaves the day without."""
        text = text.strip()
        if not text:
            return
        value = number(text)
        if value is None:
            self.faults.add(tell("'{text}' is not a number.", text=text), tell(AGAIN), line, variable)
        elif value not in missing:
            self.values[variable][day] = value * unit

    def series(self) -> DailySeries:
        """A continuous calendar from the first to the last day met, NaN where nothing was measured."""
        self.faults.raise_any()
        days = self.seen.union(*self.values.values())
        if not days:
            raise self.faults.stop(tell("there is no day of weather in it."),
                                   tell("Give a file with rows of readings."))
        start, count = min(days), max(days) - min(days) + 1
        return DailySeries(start=start, **{name: self._column(name, start, count) for name in VARIABLES})

    def service_series(self) -> DailySeries:
        """As `series`, with a service's impossible readings blanked and counted in `notes`."""
        series = self.series()
        for name, (low, high) in POSSIBLE.items():
            column = getattr(series, name)
            self._many(f"{name} beyond any weather on record", column > high, column)
            self._blank(f"{name} beyond any weather on record", (column < low) | (column > high), column)
        self._many("tmin above tmax", series.tmin > series.tmax, series.tmin)
        self._blank("tmin above tmax", series.tmin > series.tmax, series.tmin, series.tmax)
        self.faults.raise_any()
        if series.missing("tmin") == series.missing("tmax") == series.missing("rain") == series.days:
            raise self.faults.stop(
                tell("it has no minimum or maximum temperature and no rain."),
                tell("Choose a station that measures temperature and rain."),
            )
        if series.missing("wind") < series.days:
            damp = series.missing("vapour_pressure") < series.days
            self.notes.append(WIND_MOVED if damp else WIND_ALONE)
        return series

    def _column(self, name: str, start: int, count: int) -> Floats:
        column = np.full(count, np.nan)
        readings = self.values[name]
        column[np.array(list(readings), dtype=np.int64) - start] = list(readings.values())
        return column

    def _many(self, why: str, bad: Bools, column: Floats) -> None:
        """A fault where so many days are bad that the file is of another form than it seems. What lies below
        all weather may be a code for no reading, however often it stands."""
        known, found = int((~np.isnan(column)).sum()), int(bad.sum())
        if found > max(MOST_BAD * known, FEW_BAD):
            self.faults.add(
                tell("{why} on {share:.0%} of the days.", why=why, share=found / known),
                tell("Look for another unit, or columns changed round; else fetch the file again, "
                     "unaltered."),
            )

    def _blank(self, why: str, bad: Bools, *columns: Floats) -> None:
        for column in columns:
            column[bad] = np.nan
        if bad.any():
            self.notes.append(f"{why}: {counted_days(int(bad.sum()))} blanked")
