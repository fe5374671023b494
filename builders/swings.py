"""How far minima and maxima stray, each for itself: coefficients of climate/variability.py, and their errors.

    PYTHONPATH=src python builders/swings.py SHARED_DIR

Two fits. How far a month's lowest minimum lies below its mean one, over the standard deviation of daily
means, on all packaged stations that report both. How minimum and maximum of a day go together, on the daily
records, but for the years that authorities/generator.py measures against. Errors are of regions left out of
both fits, beside those of the form that stood here before: ln(sd of maxima / sd of minima) by annual range
and season, and the range's standard deviation by these and wet days.
"""

from __future__ import annotations

import csv
import sys
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.generator import generate
from evenpick.climate.normals import MonthlyNormals
from evenpick.climate.seasonal import MONTH_OF_DAY
from evenpick.climate.stations import all_normals
from evenpick.climate.variability import (
    daily_sd,
    day_spreads,
    drop_terms,
    min_drop,
    spread_terms,
    tie_terms,
)

sys.path.append(str(Path(__file__).resolve().parents[1] / "authorities"))
from record_years import SERIES, Years, read_years, report_of, within

FEWEST_YEARS = 3
EVERY, MEMBERS = 8, 60  # stations and made years to see what comes back
COMMON_YEAR = day_number(date(2027, 1, 1))
WHOLE_WEIGHT = 15  # years of record, from which on they count alike


@dataclass(frozen=True)
class Place:
    """A daily record: its normals, and the spread of its minima, maxima and ranges within months."""

    name: str
    region: str
    years: int
    normals: MonthlyNormals
    real: tuple[Floats, Floats, Floats]
    fitted: MonthlyNormals
    """of the years that are fitted on"""
    tie: Floats
    """correlation of minimum and maximum in those years (12,)"""


def region(lat: float, lon: float) -> str:
    """Parts of the world that share no weather."""
    if lon < -30:
        north = "western North America" if lon < -105 else "eastern North America"
        return "South America" if lat < 13 else north
    if lon >= 110 and lat <= -10:
        return "Australia and Pacific"
    if lon < 45:
        south = "Mediterranean" if lat >= 30 else "Africa and Arabia"
        return "Europe" if lat > 44.5 else south
    return "northern Asia" if lat > 30 else "southern Asia"


def read_place(name: str, shared: Path, row: dict[str, str]) -> Place | None:
    """A record of three years and more; None for a shorter one."""
    years, calendar = read_years(shared / "weather" / "daily" / f"{name}.csv.gz")
    if len(calendar) < FEWEST_YEARS:
        return None
    lat, lon, height = (float(row[column]) for column in ("lat", "lon", "elev_m"))
    part = years.part(calendar % 2 == 0) if name in SERIES else years
    return Place(
        name, region(lat, lon), len(calendar), report_of(years, lat, height), spreads(years),
        report_of(part, lat, height), tie_of(*spreads(part)),
    )


def spreads(years: Years) -> tuple[Floats, Floats, Floats]:
    return within(years.tmin), within(years.tmax), within(years.tmax - years.tmin)


def tie_of(low: Floats, high: Floats, apart: Floats) -> Floats:
    """Correlation out of the spreads of minimum, maximum and range."""
    return np.asarray((low**2 + high**2 - apart**2) / (2 * low * high))


def read_places(shared: Path) -> list[Place]:
    lines = (shared / "weather" / "SERIES.csv").read_text().splitlines()
    rows = {Path(row["file"]).name.removesuffix(".csv.gz"): row for row in csv.DictReader(lines)}
    found = (read_place(name, shared, row) for name, row in sorted(rows.items()))
    return [one for one in found if one is not None]


def solve(terms: list[Floats], wanted: list[Floats], years: list[int]) -> Floats:
    """Least squares over places, each (12, n) and (12,); records of few years count less."""
    root = np.repeat(np.sqrt(np.minimum(years, WHOLE_WEIGHT)), 12)
    flat = np.concatenate(terms) * root[:, None]
    return np.asarray(np.linalg.lstsq(flat, np.concatenate(wanted) * root, rcond=None)[0])


def fit_drop(stations: list[MonthlyNormals]) -> Floats:
    return solve([drop_terms(one) for one in stations], [wanted_drop(one) for one in stations],
                 [WHOLE_WEIGHT] * len(stations))


def wanted_drop(one: MonthlyNormals) -> Floats:
    return np.asarray(np.log(min_drop(one) / daily_sd(one)))


def fit_tie(places: list[Place]) -> Floats:
    return solve([tie_terms(one.fitted, min_drop(one.fitted)) for one in places], [one.tie for one in places],
                 [one.years for one in places])


def form_before(here: Place, others: list[Place]) -> tuple[Floats, Floats, Floats]:
    """Spreads of minima, maxima and ranges as they were made before, with coefficients of other regions."""
    years = [one.years for one in others]

    def terms(one: MonthlyNormals) -> Floats:
        return spread_terms(one)[:, [0, 1, 2, 5]]  # annual range, season, wet days

    ratio = solve([terms(one.normals)[:, :3] for one in others],
                  [np.log(one.real[1] / one.real[0]) for one in others], years)
    share = solve([terms(one.normals) for one in others],
                  [one.real[2] / (one.normals.tmax - one.normals.tmin) for one in others], years)
    normals = here.normals
    square = np.exp(2 * (terms(normals)[:, :3] @ ratio))
    apart = (terms(normals) @ share) * (normals.tmax - normals.tmin)
    both = 2 * daily_sd(normals) ** 2 + apart**2 / 2
    return np.sqrt(both / (1 + square)), np.sqrt(both * square / (1 + square)), apart


def form_now(normals: MonthlyNormals, tie: Floats, drop: Floats) -> tuple[Floats, Floats, Floats]:
    low, high, tied = day_spreads(normals, tie, drop)
    return low, high, np.sqrt(low**2 + high**2 - 2 * tied * low * high)


def square_mean(error: Floats, weight: Floats | None = None) -> float:
    return float(np.sqrt(np.average(error**2, weights=weight)))


def table(head: str, rows: list[list[str]]) -> None:
    print(f"\n| {head} |\n|" + "---|" * (head.count("|") + 1))
    for row in rows:
        print(f"| {' | '.join(row)} |")


def tell_lowest(places: list[Place], stations: list[MonthlyNormals]) -> None:
    """The drop to a month's lowest minimum in standard deviations of minima, real and made."""
    real = np.array([min_drop(one.normals) / one.real[0] for one in places])
    made = []
    for one in stations[::EVERY]:
        tmin, *_ = generate(one, one.lat, COMMON_YEAR, 365, MEMBERS, DEFAULT_SEED)
        months = [tmin[:, month == MONTH_OF_DAY] for month in range(12)]
        lowest = np.array([(part.mean(axis=1) - part.min(axis=1)).mean() for part in months])
        made.append((lowest / within(tmin), lowest / min_drop(one)))
    ours, again = (np.array(part) for part in zip(*made, strict=True))
    each = real.mean(axis=1)
    print(f"drop to the lowest in sd of minima: {real.mean():.2f} in the records ({each.min():.2f} to "
          f"{each.max():.2f}), {ours.mean():.2f} made; made over wanted {again.mean():.3f} "
          f"(sd {again.std():.3f})")


def tell_drop(stations: list[MonthlyNormals]) -> None:
    """The drop by regression at stations of a region left out, beside the form before."""
    where, rows = np.array([region(one.lat, one.lon) for one in stations]), []
    wanted, every = np.array([wanted_drop(one) for one in stations]), []
    for name in sorted(set(where)):
        away = fit_drop([one for one, other in zip(stations, where != name, strict=True) if other])
        here = [one for one, inside in zip(stations, where == name, strict=True) if inside]
        every.append(np.array([drop_terms(one) @ away for one in here]) - wanted[where == name])
        rows.append([name, str(len(here)), f"{square_mean(every[-1]):.3f}", f"{every[-1].mean():+.3f}",
                     f"{square_mean(wanted[where == name] - wanted[where != name].mean()):.3f}"])
    whole = np.concatenate(every)
    rows.append(["all", str(len(stations)), f"{square_mean(whole):.3f}", f"{whole.mean():+.3f}",
                 f"{square_mean(wanted - wanted.mean()):.3f}"])
    table("ln(drop / sd), region left out | stations | square mean | mean | a constant's", rows)


def tell_spreads(places: list[Place], stations: list[MonthlyNormals]) -> None:
    """Logarithms of the made spreads over the real ones, with coefficients of other regions."""
    forms: dict[str, list[tuple[Floats, ...]]] = {"before": [], "own lowest": [], "lowest by regression": []}
    for here in places:
        others = [one for one in places if one.region != here.region]
        tie = fit_tie(others)
        drop = fit_drop([one for one in stations if region(one.lat, one.lon) != here.region])
        forms["before"].append(form_before(here, others))
        forms["own lowest"].append(form_now(here.normals, tie, drop))
        forms["lowest by regression"].append(
            form_now(replace(here.normals, drop_to_lowest=None), tie, drop))
    weight = np.repeat([min(one.years, WHOLE_WEIGHT) for one in places], 12)
    names = ("minima", "maxima", "range")
    errors = {
        form: [np.array([np.log(made[k] / one.real[k]) for made, one in zip(found, places, strict=True)])
               for k in range(len(names))]
        for form, found in forms.items()
    }

    def cells(rows: Bools) -> list[str]:
        inside = np.repeat(rows, 12)
        return [
            f"{square_mean(error.ravel()[inside], weight[inside]):.3f} "
            f"({np.average(error.ravel()[inside], weights=weight[inside]):+.2f})"
            for k in range(len(names)) for error in (errors[form][k] for form in forms)
        ]

    where = np.array([one.region for one in places])
    head = " | ".join(f"{name}, {form}" for name in names for form in forms)
    table(f"region left out | records | {head}", [
        [name, ", ".join(one.name for one in places if one.region == name), *cells(where == name)]
        for name in sorted(set(where))
    ] + [["all", str(len(places)), *cells(where != "")]])


def main(shared: Path) -> None:
    stations = [
        one for one in all_normals() if one.drop_to_lowest is not None and one.sd_daily_tmean is not None
    ]
    places = read_places(shared)
    print("LN_DROP", ", ".join(f"{value:.4f}" for value in fit_drop(stations)))
    print("TIE", ", ".join(f"{value:.4f}" for value in fit_tie(places)))
    tell_lowest(places, stations)
    tell_drop(stations)
    tell_spreads(places, stations)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
