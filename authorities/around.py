"""The twelve months of a place, from the stations around it: every packaged station left out in turn.

    python authorities/around.py SHARED > authorities/around.md

Each station is left out, and all others within 2 km of it, which report the same place twice. Beside what the
program does stands the nearest station by itself, moved by 6.5 °C a kilometre, as was done before. Then the
same for stations that are in no CLIMAT report: the historic stations of the Met Office
(SHARED/weather/normals).
"""

from __future__ import annotations

import csv
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.climate import around
from evenpick.climate.around import normals_at
from evenpick.climate.normals import WET_DAYS_ESTIMATED, MonthlyNormals
from evenpick.climate.places import height_about
from evenpick.climate.site import LAPSE_PER_METRE, Site
from evenpick.climate.stations import (
    great_circle_km,
    nearest_row,
    packaged_stations,
    row_normals,
)

SAME_PLACE_KM, SAME_STATION_KM = 2.0, 5.0
BANDS = ((0, 25), (25, 50), (50, 100), (100, 200), (200, np.inf), (0, np.inf))
OTHERS = {"rain_mm": "rain, ln(mm + 3)", "wet_days": "wet days a month", "sunshine_h": "sunshine, h a month",
          "vapour_pressure": "vapour pressure, kPa", "sd_daily_tmean": "day-to-day spread, ln(K + 0.1)",
          "interannual_sd_tmean": "year-to-year spread, ln(K + 0.1)",
          "drop_to_lowest": "drop to the month's lowest minimum, ln(K + 0.1)"}
TRIED = {"KM_UP": (0.25, 1.0), "KM_SEA": (0.0, 400.0, 1600.0), "WIDE_KM": (1000.0, 9000.0),
         "OWN": (0.025, 0.1), "NEIGHBOURS": (8, 16, 64)}
ABOUT = """Written by `python authorities/around.py SHARED`; how: its docstring. What is chosen was chosen on
the stations of odd row (last table); the other figures are of those of even row, but that the 48 gradients
of height and latitude are fitted on all pairs. *Middle*: the median over stations of the square mean of a
station's 24 errors."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A station, how far its nearest other is, its own months, and what others make of them."""

    km: float
    true: MonthlyNormals
    alone: MonthlyNormals
    ours: MonthlyNormals


def others_than(site: Site, km: float) -> tuple[Bools, float]:
    """Stations farther than so many km, and how far the nearest of them is."""
    s = packaged_stations()
    away = great_circle_km(site.lat, site.lon, s.lat, s.lon)
    return away > km, float(away[away > km].min())


def nearest_alone(site: Site, asked: Bools) -> MonthlyNormals:
    one = row_normals(nearest_row(site, asked))
    step = 0.0 if site.height_m is None else LAPSE_PER_METRE * (site.height_m - (one.height_m or 0.0))
    return replace(one, tmin=one.tmin + step, tmax=one.tmax + step)


def left_out(rows: range, height: bool = True) -> list[LeftOut]:
    s, found = packaged_stations(), []
    for row in rows:
        told = float(s.height_m[row]) if height else None
        site = Site(s.name[row], float(s.lat[row]), float(s.lon[row]), told)
        asked, km = others_than(site, SAME_PLACE_KM)
        found.append(LeftOut(km, row_normals(row), nearest_alone(site, asked), normals_at(site, asked)))
    return found


def off(found: MonthlyNormals, true: MonthlyNormals) -> Floats:
    """Errors of minimum and maximum; (2, 12)."""
    return np.stack([found.tmin - true.tmin, found.tmax - true.tmax])


def square_mean(errors: Floats) -> float:
    return float(np.sqrt((errors**2).mean()))


def two(errors: Floats) -> str:
    """The middle and the square mean of errors (stations, 2, 12)."""
    each = np.sqrt((errors**2).mean(axis=(1, 2)))
    return f"{np.median(each):.2f} | {square_mean(errors):.2f}"


def header(*columns: str) -> None:
    print("\n| " + " | ".join(columns) + " |\n" + "|---" * len(columns) + "|")


def temperatures(name: str, found: Sequence[LeftOut]) -> None:
    header(name, "stations", "nearest alone: middle, °C", "square mean", "ours: middle", "square mean")
    for low, high in BANDS:
        some = [one for one in found if low <= one.km < high]
        far = "and more" if high == np.inf else f"to {high}"
        alone = np.array([off(one.alone, one.true) for one in some])
        ours = np.array([off(one.ours, one.true) for one in some])
        print(f"| {low} {far} km | {len(some)} | {two(alone)} | {two(ours)} |")


def scaled(normals: MonthlyNormals, name: str) -> Floats | None:
    values = getattr(normals, name)
    if values is None or (name == "wet_days" and WET_DAYS_ESTIMATED in normals.notes):
        return None
    return np.asarray(np.log(values + around.ADDED[name]) if name in around.ADDED else values)


def other_figures(found: Sequence[LeftOut]) -> None:
    header("other figures", "stations", "nearest alone: square mean", "ours",
           "the year's mean: nearest alone", "ours")
    for name, words in OTHERS.items():
        known = [[scaled(normals, name) for normals in (one.true, one.alone, one.ours)] for one in found]
        whole = np.array([each for each in known if all(one is not None for one in each)])
        alone, ours = whole[:, 1] - whole[:, 0], whole[:, 2] - whole[:, 0]
        months = [square_mean(errors) for errors in (alone, ours)]
        years = [square_mean(errors.mean(axis=1)) for errors in (alone, ours)]
        cells = " | ".join(f"{value:.3f}" for value in (*months, *years))
        print(f"| {words} | {len(whole)} | {cells} |")


def other_choices(rows: range) -> None:
    header("one value changed at a time", "middle, °C", "square mean")

    def line(words: str) -> None:
        errors = np.array([off(one.ours, one.true) for one in left_out(rows)])
        print(f"| {words} | {two(errors)} |", flush=True)

    line("as it is: " + ", ".join(f"{name} {getattr(around, name):g}" for name in TRIED))
    for name, values in TRIED.items():
        chosen = getattr(around, name)
        for value in values:
            setattr(around, name, value)
            line(f"{name} {value:g}")
        setattr(around, name, chosen)


def historic(shared: Path) -> Iterator[tuple[Site, MonthlyNormals]]:
    table: dict[str, list[dict[str, str]]] = defaultdict(list)
    with (shared / "weather/normals/metoffice_station_normals_1991_2020.csv").open(newline="") as file:
        for row in csv.DictReader(file):
            table[row["station"]].append(row)
    for name, rows in table.items():
        lat, lon, height = (float(rows[0][column]) for column in ("lat", "lon", "elev_m"))
        columns = ("tmin_c", "tmax_c", "rain_mm")
        tmin, tmax, rain = (np.array([float(row[column]) for row in rows]) for column in columns)
        yield Site(name, lat, lon, height), MonthlyNormals(name, lat, lon, height, tmin, tmax, rain, rain)


def elsewhere(shared: Path) -> None:
    alone, ours = [], []
    for site, true in historic(shared):
        asked, _ = others_than(site, SAME_STATION_KM)
        alone.append(off(nearest_alone(site, asked), true))
        ours.append(off(normals_at(site, asked), true))
    header("Met Office historic stations, 1991 to 2020 (OGL v3), packaged ones within 5 km left out",
           "stations", "nearest alone: middle, °C", "square mean", "ours: middle", "square mean")
    print(f"| all | {len(ours)} | {two(np.array(alone))} | {two(np.array(ours))} |")


def heights() -> None:
    s = packaged_stations()
    abouts = map(height_about, s.lat, s.lon)
    pairs = zip(abouts, s.height_m, strict=True)
    errors = [abs(about - height) for about, height in pairs if about is not None]
    print(f"\nHeight by the towns about: known at {len(errors)} of {s.lat.size} stations, "
          f"{np.median(errors):.0f} m off in the middle, {np.quantile(errors, 0.9):.0f} at nine in ten.")


def main(shared: Path) -> None:
    count = packaged_stations().lat.size
    print(f"# The months of a place from the stations around it\n\n{ABOUT}")
    even = left_out(range(0, count, 2))
    temperatures("minimum and maximum of the months; nearest station at", even)
    temperatures("the same where the height is not told", left_out(range(0, count, 2), height=False))
    other_figures(even)
    elsewhere(shared)
    heights()
    other_choices(range(1, count, 2))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
