"""Nights below 0 °C that the generator makes, against those that stations report.

    PYTHONPATH=src python authorities/frost_nights.py SHARED > authorities/frost_nights.md

CLIMAT stations that report their frost nights in every month (no coefficient rests on these), polewards of
20°: made of their own months, with their own drop to the month's lowest minimum; with the drop drawn from the
stations around, those within 2 km left out; and with none, by regression. Then the historic stations of the
Met Office (OGL v3), most of them in no CLIMAT report: their own minima and maxima, all else drawn.
"""

from __future__ import annotations

import csv
import gzip
import sys
from collections import defaultdict
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.around import normals_at
from evenpick.climate.generator import generate
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals
from evenpick.climate.seasonal import MONTH_OF_DAY
from evenpick.climate.site import Site
from evenpick.climate.stations import great_circle_km, packaged_stations, station_normals

MEMBERS = 40
COMMON_YEAR = day_number(date(2027, 1, 1))
SAME_PLACE_KM, TROPICS = 2.0, 20.0
BANDS = ((0, 1), (1, 10), (10, 60), (60, 120), (120, 366))
HARDLY, NEARLY_ALL = 0.3, 28.0  # nights a month: outside them there is little to be wrong about
ABOUT = """# Frost nights, made and reported

Written by `python authorities/frost_nights.py SHARED`; how: its docstring. Made less reported nights below
0 °C a year, by how many the station reports: mean (square mean). *Months*: square mean of months that report
0.3 to 28. *Summers*: of the stations that report none in their three warmest months, those where some of 40
years made has one."""
Rows = list[dict[str, str]]


def read(path: Path, key: str) -> dict[str, Rows]:
    """The rows of each station, in the order of the months."""
    found: dict[str, Rows] = defaultdict(list)
    packed = path.suffix == ".gz"
    with gzip.open(path, "rt", newline="") if packed else path.open(newline="") as file:
        for row in csv.DictReader(file):
            found[row[key]].append(row)
    return {name: sorted(rows, key=lambda row: int(row["month"])) for name, rows in found.items()}


def column(rows: Rows, name: str) -> Floats:
    return np.array([float(row[name]) if row[name] else np.nan for row in rows])


def frost_nights(normals: MonthlyNormals) -> Floats:
    """Made nights below 0 °C by month (12,)."""
    tmin, *_ = generate(normals, normals.lat, COMMON_YEAR, 365, MEMBERS, DEFAULT_SEED)
    return np.array([(tmin[:, month == MONTH_OF_DAY] < 0).mean() for month in range(12)]) * DAYS_IN_MONTH


def from_around(normals: MonthlyNormals) -> MonthlyNormals:
    stations = packaged_stations()
    away = great_circle_km(normals.lat, normals.lon, stations.lat, stations.lon) > SAME_PLACE_KM
    site = Site(normals.name, normals.lat, normals.lon, normals.height_m)
    return replace(normals, drop_to_lowest=normals_at(site, away).drop_to_lowest)


FORMS: dict[str, Callable[[MonthlyNormals], MonthlyNormals]] = {
    "own": lambda normals: normals,
    "from around": from_around,
    "by regression": lambda normals: replace(normals, drop_to_lowest=None),
}


def reporting(shared: Path) -> tuple[list[MonthlyNormals], Floats]:
    """Stations with all that is compared, and their frost nights (stations, 12)."""
    table = read(shared / "weather/normals/climat_normals_2003_2021.csv.gz", "wmo_id")
    found = [(station_normals(number), column(rows, "frost_days")) for number, rows in sorted(table.items())]
    kept = [
        (normals, nights) for normals, nights in found
        if np.isfinite(nights).all() and normals.drop_to_lowest is not None
        and normals.sd_daily_tmean is not None and abs(normals.lat) > TROPICS
    ]
    return [normals for normals, _ in kept], np.array([nights for _, nights in kept])


def summers(normals: list[MonthlyNormals], real: Floats, made: Floats) -> str:
    """Stations that report none in their three warmest months, and those of them where one is made."""
    warmest = np.argsort([-(one.tmin + one.tmax) for one in normals], axis=1)[:, :3]
    known, ours = (np.take_along_axis(nights, warmest, axis=1).sum(axis=1) for nights in (real, made))
    none = known == 0
    return f"{(ours[none] > 0).sum()} of {none.sum()}"


def main(shared: Path) -> None:
    print(ABOUT)
    normals, real = reporting(shared)
    year = real.sum(axis=1)
    bands = [(year >= low) & (year < high) for low, high in BANDS]
    heads = [f"{low} to {high} ({band.sum()} stations)"
             for (low, high), band in zip(BANDS, bands, strict=True)]
    print(f"\n| drop to the lowest | {' | '.join(heads)} | months | summers |")
    print("|---" * (len(heads) + 3) + "|")
    for name, form in FORMS.items():
        made = np.array([frost_nights(form(one)) for one in normals])
        error = made - real
        years = [error[band].sum(axis=1) for band in bands]
        cells = [f"{one.mean():+.1f} ({np.sqrt((one**2).mean()):.1f})" for one in years]
        months = error[(real > HARDLY) & (real < NEARLY_ALL)]
        print(f"| {name} | {' | '.join(cells)} | {np.sqrt((months**2).mean()):.2f} | "
              f"{summers(normals, real, made)} |")
    historic(shared)


def historic(shared: Path) -> None:
    print("\n| Met Office historic stations, 1991 to 2020 | reported | made |\n|---|---|---|")
    error = []
    path = shared / "weather/normals/metoffice_station_normals_1991_2020.csv"
    for name, rows in read(path, "station").items():
        place = Site(name, *(float(rows[0][key]) for key in ("lat", "lon", "elev_m")))
        drawn = replace(normals_at(place), tmin=column(rows, "tmin_c"), tmax=column(rows, "tmax_c"))
        made, real = frost_nights(drawn), column(rows, "air_frost_days")
        error.append(made - real)
        print(f"| {name} | {real.sum():.1f} | {made.sum():.1f} |")
    every = np.array(error)
    print(f"| all: mean (square mean) of the differences | | {every.sum(axis=1).mean():+.1f} "
          f"({np.sqrt((every.sum(axis=1) ** 2).mean()):.1f}); of a month {np.sqrt((every**2).mean()):.2f} |")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
