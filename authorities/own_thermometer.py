"""Own readings against a real neighbour: one station corrected by n days of another.

    python authorities/own_thermometer.py SHARED > authorities/own_thermometer.md

SHARED holds weather/daily/*.csv.gz (SERIES.csv says whose they are); grade B series are read there and stay
there. The priors come from the packaged normals, the scatters from the daily series. The second station of a
pair plays the grower: from each of many days on, n readings of it are compared with the first station's days,
or with its normals of the time of year, and the shifts told for the twelve months are held against the
differences of the two stations' monthly means over all the years they share.
"""

from __future__ import annotations

import csv
import gzip
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_number, months
from evenpick.climate.own_readings import Reading, own_shift
from evenpick.climate.seasonal import cycle, cycle_days
from evenpick.climate.site import LAPSE_PER_METRE
from evenpick.climate.stations import all_normals, great_circle_km

NEAR_KM, NEAR_HEIGHT = 30.0, 300.0
PAIRS = (("uk_heathrow", "uk_brize_norton", 84), ("uk_brize_norton", "uk_heathrow", 84),
         ("nl_de_bilt", "be_brussels", 155))
ALONE = ("ie_dublin_airport", "uk_heathrow", "nl_de_bilt", "ch_sion", "us_maricopa_az", "us_milwaukee_wi",
         "us_philadelphia_pa")
READINGS = (10, 30, 100)
EVERY = 97
"""days between the beginnings that are tried, so that they walk through the seasons"""
EIGHTY = 1.2816
"""sd either side that hold 80 %"""


@dataclass(frozen=True, slots=True)
class Twin:
    """Days on which both stations have both temperatures: (2, days) minimum and maximum of each."""

    days: Ints
    station: Floats
    own: Floats

    @property
    def difference(self) -> Floats:
        """Own less station by month; (2, 12)."""
        return by_month(self.own - self.station, self.days)


def read(shared: Path, name: str) -> dict[int, tuple[float, float]]:
    with gzip.open(shared / "weather" / "daily" / f"{name}.csv.gz", "rt") as lines:
        rows = [row for row in csv.DictReader(lines) if row["tmin_c"] and row["tmax_c"]]
    return {day_number(date.fromisoformat(row["date"])): (float(row["tmin_c"]), float(row["tmax_c"]))
            for row in rows}


def twin(shared: Path, station: str, own: str) -> Twin:
    a, b = read(shared, station), read(shared, own)
    both = sorted(a.keys() & b.keys())
    return Twin(np.array(both), *(np.array([of[day] for day in both]).T for of in (a, b)))


def month_of(days: Ints) -> Ints:
    whole = months(int(days[0]), int(days[-1] - days[0]) + 1)
    return np.asarray(whole[days - days[0]])


def by_month(values: Floats, days: Ints) -> Floats:
    month = month_of(days)
    return np.stack([values[:, month == one].mean(axis=1) for one in range(1, 13)], axis=1)


def neighbours() -> Floats:
    """Differences of packaged normals between stations near each other at one height; (pairs, 2, 12)."""
    known = all_normals()
    lat, lon = (np.array([getattr(one, name) for one in known]) for name in ("lat", "lon"))
    found = []
    for i, here in enumerate(known[:-1]):
        near = np.flatnonzero(great_circle_km(here.lat, here.lon, lat[i + 1 :], lon[i + 1 :]) <= NEAR_KM)
        for j in near + i + 1:
            up = (known[j].height_m or 0.0) - (here.height_m or 0.0)
            if abs(up) <= NEAR_HEIGHT:
                moved = LAPSE_PER_METRE * up
                found.append((known[j].tmin - here.tmin - moved, known[j].tmax - here.tmax - moved))
    return np.array(found)


def tries(pair: Twin, n: int, same_day: bool) -> Iterator[tuple[Floats, Bools]]:
    """(errors of the twelve months (2, 12), which of them the 80 % band holds) from one beginning after
    another."""
    normals, truth = by_month(pair.station, pair.days), pair.difference
    usual = np.stack([cycle(values)[cycle_days(int(pair.days[0]), int(np.ptp(pair.days)) + 1)]
                      for values in normals])
    for first in range(0, pair.days.size - n, EVERY):
        at = slice(first, first + n)
        days, own = pair.days[at], pair.own[:, at]
        expected = pair.station[:, at] if same_day else usual[:, days - pair.days[0]]
        readings = [Reading(int(day), *map(float, own[:, i])) for i, day in enumerate(days)]
        found = own_shift(readings, expected[0], expected[1], np.full(n, same_day))
        shift = np.array([found.tmin.month_shift, found.tmax.month_shift])
        sd = np.array([found.tmin.month_sd, found.tmax.month_sd])
        off = shift - truth
        yield off, np.abs(off) <= EIGHTY * sd


def scatter(values: Floats) -> str:
    """sd, and what is kept after 1, 5, 10 and 20 days."""
    kept = " ".join(f"{np.corrcoef(values[:-lag], values[lag:])[0, 1]:.2f}" for lag in (1, 5, 10, 20))
    return f"{values.std():.1f} °C, {kept}"


def less_season(values: Floats, days: Ints) -> Floats:
    return values - by_month(values, days)[:, month_of(days) - 1]


def rms(values: Floats) -> float:
    return float((values**2).mean() ** 0.5)


def main(shared: Path) -> None:
    print("# The grower's own thermometer: one station corrected by another\n")
    print("Written by `python authorities/own_thermometer.py SHARED`; how: its docstring.\n")
    pairs = neighbours()
    year = pairs.mean(axis=2)
    print(f"## What stations within {NEAR_KM:.0f} km differ by\n")
    print(f"Packaged normals, {len(pairs)} pairs, moved to one height.\n")
    print("| | mean of the year, rms | months from that, rms |\n|---|---|---|")
    for row, word in enumerate(("minimum", "maximum")):
        print(f"| {word} | {rms(year[:, row]):.2f} °C | {rms(pairs[:, row] - year[:, row, None]):.2f} °C |")
    print("\n## How a day strays\n")
    print("sd, and the correlation after 1, 5, 10, 20 days; months' means taken out.\n")
    print("| | minimum | maximum |\n|---|---|---|")
    for station, own, km in PAIRS[1:]:
        pair = twin(shared, station, own)
        low, high = less_season(pair.own - pair.station, pair.days)
        print(f"| {own} less {station} on the day, {km} km | {scatter(low)} | {scatter(high)} |")
    for name in ALONE:
        pair = twin(shared, name, name)
        low, high = less_season(pair.own, pair.days)
        print(f"| {name} less its normals | {scatter(low)} | {scatter(high)} |")
    print("\n## Error of a month's minimum and maximum, before and after\n")
    print("Mean absolute error over the twelve months and all beginnings; in brackets the months of which "
          "the 80 % band holds the truth.\n")
    heads = " | ".join(f"{n} days" for n in READINGS)
    print(f"| station → own | km | against | uncorrected | {heads} |")
    print(f"|---|---|---|---|{'---|' * len(READINGS)}")
    for station, own, km in PAIRS:
        pair = twin(shared, station, own)
        before = np.abs(pair.difference).mean(axis=1)
        for same_day in (True, False):
            cells = []
            for n in READINGS:
                tried = list(tries(pair, n, same_day))
                after = np.mean([np.abs(off).mean(axis=1) for off, _ in tried], axis=0)
                held = np.mean([inside for _, inside in tried])
                cells.append(f"{after[0]:.2f} / {after[1]:.2f} ({held:.0%})")
            against = "its days" if same_day else "its normals"
            print(f"| {station} → {own} | {km} | {against} | {before[0]:.2f} / {before[1]:.2f} | "
                  f"{' | '.join(cells)} |")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
