"""Whole calendar years of the daily records, and the normals a station would report of them."""

from __future__ import annotations

import csv
import gzip
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.climate.normals import MonthlyNormals
from evenpick.climate.own_normals import Days, normals_of
from evenpick.climate.seasonal import MONTH_OF_DAY
from evenpick.climate.site import Site

SERIES = (
    "ie_dublin_airport", "nl_de_bilt", "be_brussels", "ch_sion", "de_solling", "us_milwaukee_wi",
    "us_philadelphia_pa", "us_champion_ne", "us_maricopa_az", "tn_tunis", "us_west_palm_beach_fl",
    "ar_reconquista",
)


@dataclass(frozen=True)
class Years:
    """Whole calendar years without 29 February; shape (years, 365)."""

    tmin: Floats
    tmax: Floats
    rain: Floats
    radiation: Floats
    sunshine: Floats

    @property
    def mean(self) -> Floats:
        return (self.tmin + self.tmax) / 2

    def part(self, chosen: np.ndarray) -> Years:
        return Years(*(getattr(self, name)[chosen] for name in self.__dataclass_fields__))


def read_years(path: Path) -> tuple[Years, np.ndarray]:
    """Calendar years in which tmin, tmax and rain are whole, and their numbers."""
    with gzip.open(path, "rt") as lines:
        header = next(lines).strip().split(",")
        rows = [line.rstrip("\n").split(",") for line in lines]
    number = np.array([int(row[0][:4]) for row in rows])
    leap = np.array([row[0][5:] == "02-29" for row in rows])

    def column(name: str) -> Floats:
        if name not in header:
            return np.full(len(rows), np.nan)
        at = header.index(name)
        return np.array([float(row[at]) if row[at] else np.nan for row in rows])

    names = ("tmin_c", "tmax_c", "rain_mm", "radiation_mj_m2", "sunshine_h")
    table = np.stack([column(name) for name in names], axis=1)
    whole = [
        year for year in np.unique(number)
        if (number == year).sum() >= 365 and not np.isnan(table[number == year, :3]).any()
    ]
    cut = np.stack([table[(number == year) & ~leap] for year in whole])
    return Years(*np.moveaxis(cut, 2, 0)), np.array(whole)


def by_month(daily: Floats) -> Floats:
    """(years, 365) to means of months (years, 12)."""
    return np.stack([daily[:, month == MONTH_OF_DAY].mean(axis=1) for month in range(12)], axis=1)


def within(daily: Floats) -> Floats:
    """Root mean square over years of the standard deviation within each month (12,)."""
    return np.array(
        [np.sqrt((daily[:, m == MONTH_OF_DAY].std(axis=1, ddof=1) ** 2).mean()) for m in range(12)]
    )


def without_trend(values: Floats, calendar: np.ndarray) -> Floats:
    """Residuals of straight lines through the years, along the first axis."""
    away = calendar - calendar.mean()
    values = values - values.mean(axis=0)
    slopes: Floats = away @ values / (away @ away)
    return np.asarray(values - np.multiply.outer(away, slopes))


def year_sd(years: Years, calendar: np.ndarray) -> float:
    rest = without_trend(years.mean.mean(axis=1), calendar)
    return float(np.sqrt((rest**2).sum() / (len(calendar) - 2)))


def month_sd(years: Years, calendar: np.ndarray) -> float:
    rest = without_trend(by_month(years.mean), calendar)
    return float(np.sqrt((rest**2).sum(axis=0) / (len(calendar) - 2)).mean())


def report_of(years: Years, lat: float, height: float) -> MonthlyNormals:
    """What a station's report would say of these years."""
    count = len(years.tmin)
    days = Days(
        years.tmin.ravel(), years.tmax.ravel(), years.rain.ravel(), years.sunshine.ravel(),
        np.tile(MONTH_OF_DAY + 1, count), np.repeat(np.arange(count), MONTH_OF_DAY.size),
    )
    return replace(normals_of(days, "study", Site("study", lat, 0.0, height)), years=None)


def typed(normals: MonthlyNormals) -> MonthlyNormals:
    """The four rows a grower types, and no more."""
    return replace(normals, sd_daily_tmean=None, interannual_sd_tmean=None, sunshine_h=None,
                   drop_to_lowest=None)


def places(shared: Path) -> dict[str, tuple[float, float]]:
    lines = (shared / "weather" / "SERIES.csv").read_text().splitlines()
    return {
        Path(row["file"]).name.removesuffix(".csv.gz"): (float(row["lat"]), float(row["elev_m"]))
        for row in csv.DictReader(lines)
    }
