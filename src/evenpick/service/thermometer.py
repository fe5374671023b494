"""The grower's own readings: the file named in the garden, and the diary, which goes before it."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from evenpick.climate.readers.record import read_record
from evenpick.garden.diary import Corrected, Reading, Undid
from evenpick.garden.effective import effective
from evenpick.garden.garden import WeatherChoice
from evenpick.store.book import Book

KINDS = (Reading.kind, Undid.kind, Corrected.kind)


def own_readings(choice: WeatherChoice) -> Mapping[int, Reading]:
    """What the grower read, by day number; what is in neither is in none. BadWeatherFile, BadBook."""
    found = dict(_of_file(choice))
    if choice.diary is not None:
        for entry in effective(Book(choice.diary).entries(KINDS)):
            if isinstance(entry.fact, Reading):
                found[entry.day] = _over(found.get(entry.day), entry.fact)
    return found


def _of_file(choice: WeatherChoice) -> Mapping[int, Reading]:
    if choice.readings is None:
        return {}
    series, _ = read_record(choice.readings)
    columns = (series.tmin, series.tmax, series.rain)
    rows = np.stack(columns, axis=1)
    there = np.flatnonzero(~np.isnan(rows).all(axis=1))
    return {series.start + int(at): Reading(*(None if np.isnan(v) else float(v) for v in rows[at]))
            for at in there}


def _over(before: Reading | None, fact: Reading) -> Reading:
    """What the diary says, and of the file what the diary doesn't."""
    if before is None:
        return fact
    return Reading(
        before.tmin if fact.tmin is None else fact.tmin, before.tmax if fact.tmax is None else fact.tmax,
        before.rain if fact.rain is None else fact.rain,
    )
