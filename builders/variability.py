"""Coefficients for climate/variability.py and climate/generator.py, and how well they hold elsewhere.

    PYTHONPATH=src python builders/variability.py SHARED_DIR

World fits (daily and between-year standard deviation of temperature, share of sunlight that comes through)
on every second station of the CLIMAT normals, errors on the others. How minima and maxima stray, each for
itself: builders/swings.py.
"""

from __future__ import annotations

import csv
import gzip
import sys
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.climate.daylight import day_length, extraterrestrial_radiation
from evenpick.climate.ensemble import NEIGHBOUR_KM
from evenpick.climate.generator import light_terms
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals
from evenpick.climate.seasonal import DAYS_OF_CYCLE, MONTH_OF_DAY, month_means
from evenpick.climate.stations import great_circle_km
from evenpick.climate.variability import spread_terms

sys.path.append(str(Path(__file__).resolve().parents[1] / "authorities"))
from record_years import SERIES, month_sd, places, read_years, year_sd

LEAST_LIGHT = 2.0  # MJ m⁻² d⁻¹: in polar twilight a ratio says nothing


def station_normals(shared: Path) -> list[MonthlyNormals]:
    """Stations of the raw table that have wet days; sunshine where they have that."""
    folder = shared / "weather" / "normals"
    with (folder / "climat_stations.csv").open() as lines:
        where = {row["wmo_id"]: row for row in csv.DictReader(lines)}
    months: dict[str, list[dict[str, str]]] = {}
    with gzip.open(folder / "climat_normals_2003_2021.csv.gz", "rt") as lines:
        for row in csv.DictReader(lines):
            months.setdefault(row["wmo_id"], []).append(row)

    def column(rows: list[dict[str, str]], name: str) -> Floats:
        return np.array([float(row[name]) if row[name] else np.nan for row in rows])

    found = []
    for number, rows in sorted(months.items()):
        rows.sort(key=lambda row: int(row["month"]))
        place, sun = where.get(number), column(rows, "sunshine_h")
        wet, sd = column(rows, "wet_days_ge1mm"), column(rows, "sd_daily_tmean_c")
        between = column(rows, "interannual_sd_tmean_c")
        if place is None or np.isnan(np.concatenate([wet, sd, between])).any():
            continue
        found.append(MonthlyNormals(
            number, float(place["lat"]), float(place["lon"]), None, column(rows, "tmin_c"),
            column(rows, "tmax_c"), column(rows, "rain_mm"), wet, sd,
            None if np.isnan(sun).any() else sun, None, between,
        ))
    return found


def fit(name: str, terms: Floats, wanted: Floats, weight: Floats, group: Floats) -> None:
    """Least squares on even groups; error on the odd ones, beside the error of a constant."""
    even = group % 2 == 0
    found = np.linalg.lstsq(terms[even] * weight[even, None], wanted[even] * weight[even], rcond=None)[0]
    error = (terms[~even] @ found - wanted[~even]) * weight[~even]
    flat = (wanted[even].mean() - wanted[~even]) * weight[~even]
    print(f"{name}: {', '.join(f'{value:.4f}' for value in found)}")
    print(f"  left out: rms {np.sqrt((error**2).mean()):.3f}, mean {error.mean():+.3f}; "
          f"a constant's rms {np.sqrt((flat**2).mean()):.3f}; {even.sum()} and {(~even).sum()} months")


def fit_world(stations: list[MonthlyNormals]) -> None:
    number = np.repeat(np.arange(len(stations)), 12)
    terms, one = np.concatenate([spread_terms(one) for one in stations]), np.ones(number.size)
    for name, get in (("ln daily sd", "sd_daily_tmean"), ("ln between-year sd", "interannual_sd_tmean")):
        wanted = np.log(np.maximum(np.concatenate([getattr(one, get) for one in stations]), 0.2))
        fit(name, terms, wanted, one, number)
    sunny = [one for one in stations if one.sunshine_h is not None]
    toa = [month_means(extraterrestrial_radiation(one.lat, DAYS_OF_CYCLE)) for one in sunny]
    hours = [month_means(day_length(one.lat, DAYS_OF_CYCLE)) for one in sunny]
    clear = [
        0.25 + 0.5 * np.clip(one.sunshine_h / DAYS_IN_MONTH / np.maximum(long, 1e-9), 0, 1)
        for one, long in zip(sunny, hours, strict=True) if one.sunshine_h is not None
    ]
    bright = np.concatenate(toa) > LEAST_LIGHT
    terms, number = np.concatenate([light_terms(one) for one in sunny]), np.repeat(np.arange(len(sunny)), 12)
    fit("share of sunlight (errors in MJ m⁻² d⁻¹)", terms[bright], np.concatenate(clear)[bright],
        np.concatenate(toa)[bright], number[bright])


def compare_neighbours(stations: list[MonthlyNormals]) -> None:
    """How far the spread at a station is from that at the station nearest to it."""
    lat, lon = (np.array([getattr(one, name) for one in stations]) for name in ("lat", "lon"))
    distance = np.array([great_circle_km(*here, lat, lon) for here in zip(lat, lon, strict=True)])
    np.fill_diagonal(distance, np.inf)
    nearest = distance.argmin(axis=1)
    near = distance.min(axis=1) < NEIGHBOUR_KM
    for name in ("sd_daily_tmean", "interannual_sd_tmean"):
        spread = np.log(np.maximum([getattr(one, name) for one in stations], 0.2))
        error = (spread - spread[nearest])[near]
        print(f"ln {name} of the nearest station within {NEIGHBOUR_KM:.0f} km: "
              f"rms {np.sqrt((error**2).mean()):.3f}, {near.sum()} of {near.size} stations")


def fit_light(shared: Path) -> None:
    """Wet days' radiation, the noise of dry and wet days, and the annual share of between-year variation."""
    wet_over_dry, cloudiness, dry_noise, wet_noise, annual = [], [], [], [], []
    for name, (lat, _) in sorted(places(shared).items()):
        years, calendar = read_years(shared / "weather" / "daily" / f"{name}.csv.gz")
        if name in SERIES:
            years, calendar = years.part(calendar % 2 == 0), calendar[calendar % 2 == 0]
        if len(calendar) < 9:
            continue
        annual.append(year_sd(years, calendar) / month_sd(years, calendar))
        if name == "de_solling" or np.isfinite(years.radiation).mean() < 0.9:
            continue  # Solling: mean share of sunlight 0.27, all other records here 0.38 and more
        clear = years.radiation / extraterrestrial_radiation(lat, DAYS_OF_CYCLE)
        for month in range(12):
            here, wet = clear[:, month == MONTH_OF_DAY], years.rain[:, month == MONTH_OF_DAY] >= 1
            if wet.sum() < 20:
                continue
            wet_over_dry.append(np.nanmean(here[wet]) / np.nanmean(here[~wet]))
            cloudiness.append(np.nanmean(here))
            dry_noise.append(np.nanstd(here[~wet]) / np.nanmean(here[~wet]))
            wet_noise.append(np.nanstd(here[wet]) / np.nanmean(here[wet]))
    line = np.polyfit(cloudiness, dry_noise, 1)
    print(f"radiation of a wet over a dry day {np.mean(wet_over_dry):.2f}, sd {np.std(wet_over_dry):.2f}; "
          f"noise of a wet day {np.mean(wet_noise):.2f}, "
          f"of a dry day {line[1]:.2f} {line[0]:+.2f} × share of sunlight; {len(wet_over_dry)} months")
    print(f"sd between years of the annual mean over that of a month's, without trend: {np.mean(annual):.2f} "
          f"({min(annual):.2f} to {max(annual):.2f}, {len(annual)} records)")


if __name__ == "__main__":
    shared = Path(sys.argv[1])
    stations = station_normals(shared)
    fit_world(stations)
    compare_neighbours(stations)
    fit_light(shared)
