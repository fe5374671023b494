"""The grower's own readings: the file named in the garden, and the diary, which goes before it."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from evenpick.climate.readers.record import read_record
from evenpick.garden.diary import Corrected, Reading, Undid
from evenpick.garden.effective import effective
from evenpick.garden.garden import WeatherChoice
from evenpick.garden.record import readings_over
from evenpick.store.book import Book

KINDS = (Reading.kind, Undid.kind, Corrected.kind)


def own_readings(choice: WeatherChoice) -> Mapping[int, Reading]:
    """What the grower read, by day number; what is in neither is in none. BadWeatherFile, BadBook."""
    of_file = _of_file(choice)
    if choice.diary is None:
        return of_file
    return readings_over(of_file, effective(Book(choice.diary).entries(KINDS)))


def _of_file(choice: WeatherChoice) -> Mapping[int, Reading]:
    if choice.readings is None:
        return {}
    series, _ = read_record(choice.readings)
    columns = (series.tmin, series.tmax, series.rain)
    rows = np.stack(columns, axis=1)
    there = np.flatnonzero(~np.isnan(rows).all(axis=1))
    return {series.start + int(at): Reading(*(None if np.isnan(v) else float(v) for v in rows[at]))
            for at in there}
