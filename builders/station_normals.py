"""Packages the world's monthly normals: `python builders/station_normals.py SHARED_DIR`.

Also fits and prints the rule that estimates wet days from rain and temperature (climate/normals.py),
fitted on every other station and measured on the rest. Writes src/evenpick/data/station_normals.npz. Needs
the sea's data (builders/sea.py).
"""

from __future__ import annotations

import csv
import gzip
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import numpy as np

from evenpick.climate.moist_air import saturation_pressure
from evenpick.climate.sea import sea_share
from evenpick.climate.stations import great_circle_km

TARGET = Path(__file__).resolve().parents[1] / "src/evenpick/data/station_normals.npz"
MISSING = -32768
LOWEST, SWING, MEAN = "mean_monthly_lowest_c", "interannual_sd_rain_mm", "tmean_c"
NEAR = 8
"""stations that a doubtful one is held against"""
COLUMNS = {
    "tmin": "tmin_c", "tmax": "tmax_c", "rain_mm": "rain_mm", "wet_days": "wet_days_ge1mm",
    "sd_daily_tmean": "sd_daily_tmean_c", "sunshine_h": "sunshine_h",
    "vapour_pressure": "vapour_pressure_hpa", "interannual_sd_tmean": "interannual_sd_tmean_c",
    "drop_to_lowest": "drop_to_lowest_c",
}
DAYS_IN_MONTH = np.array([31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
Table = dict[str, np.ndarray]


def read(shared: Path) -> tuple[list[dict[str, str]], Table]:
    """Stations in the order of their number, and each column with shape (stations, 12)."""
    folder = shared / "weather/normals"
    with (folder / "climat_stations.csv").open(newline="", encoding="utf-8") as file:
        stations = sorted(csv.DictReader(file), key=lambda row: row["wmo_id"])
    with gzip.open(folder / "climat_normals_2003_2021.csv.gz", "rt", newline="") as file:
        rows = sorted(csv.DictReader(file), key=lambda row: (row["wmo_id"], int(row["month"])))
    if [row["wmo_id"] for row in rows] != [s["wmo_id"] for s in stations for _ in range(12)]:
        raise ValueError("stations and normals do not match")
    names = [name for name in COLUMNS.values() if name in rows[0]]
    table = {
        name: np.array([float(row[name] or "nan") for row in rows]).reshape(-1, 12)
        for name in (*names, LOWEST, SWING, MEAN, "n_years_t", "n_years_rain")
    }
    return stations, table | {"drop_to_lowest_c": np.round(table["tmin_c"] - table[LOWEST], 1)}


def without_doubtful_spread(stations: list[dict[str, str]], table: Table) -> Table:
    """Blanks a station's day-to-day spread where any month of it is beyond 4 K + 0.2 x the year's range.

    Some countries report another quantity there (7 to 10 K all year in lowland Venezuela). The bound is
    our own choice: above every believable station seen (cold surges of Paraguay reach 3.8 K + 0.2 x range),
    and left out beyond 60° of latitude, where sea ice makes large spreads real.
    """
    mean = (table["tmin_c"] + table["tmax_c"]) / 2
    bound = 4.0 + 0.2 * (mean.max(axis=1) - mean.min(axis=1))
    polar = np.abs([float(s["lat"]) for s in stations]) > 60
    doubtful = (table["sd_daily_tmean_c"] > bound[:, None]).any(axis=1) & ~polar
    spread = np.where(doubtful[:, None], np.nan, table["sd_daily_tmean_c"])
    countries = Counter(s["country"] for s, odd in zip(stations, doubtful, strict=True) if odd)
    print(f"{doubtful.sum()} stations without their doubtful spread: {dict(countries.most_common())}")
    return table | {"sd_daily_tmean_c": spread}


def without_doubtful_drop(stations: list[dict[str, str]], table: Table) -> Table:
    """Blanks a station's drop to the month's lowest minimum where any month of it is beyond belief.

    Under 0.5 K (thirty minima are never so alike; -7 K at some), or over 6 times the standard deviation of
    daily means (a single misread night stands in the reports). Our own choice of bounds.
    """
    drop, spread = table["drop_to_lowest_c"], table["sd_daily_tmean_c"]
    doubtful = ((drop < 0.5) | (drop > 6 * spread)).any(axis=1)
    countries = Counter(s["country"] for s, odd in zip(stations, doubtful, strict=True) if odd)
    print(f"{doubtful.sum()} stations without their doubtful drop: {dict(countries.most_common())}")
    return table | {"drop_to_lowest_c": np.where(doubtful[:, None], np.nan, drop)}


def without_doubtful_extremes(stations: list[dict[str, str]], table: Table, near: np.ndarray) -> Table:
    """Where the month's highest and lowest were reported as the means of daily maxima and minima, these are
    the month's mean with the range that the stations round about have.

    Smolensk had 8 to 30 °C in July, Aqtobe 9 to 39. Such are the stations whose range is over 7 K more than
    in the middle of the nearest over the year and that report no lowest beside it (with one, deserts and
    high valleys stand out as far and are real). Our own choice of bound: Bishop in California is 6.9 K.
    """
    spread = table["tmax_c"] - table["tmin_c"]
    about = _about(spread, near, np.median)
    odd = (spread.mean(axis=1) - about.mean(axis=1) > 7.0) & np.isnan(table[LOWEST]).any(axis=1)
    print(f"{odd.sum()} stations without their doubtful extremes: {_names(stations, odd)}")
    low, high = (np.where(odd[:, None], np.round(table[MEAN] + side * about / 2, 1), table[name])
                 for name, side in (("tmin_c", -1.0), ("tmax_c", 1.0)))
    return table | {"tmin_c": low, "tmax_c": high, "extremes_mended": odd}


def without_doubtful_damp(stations: list[dict[str, str]], table: Table, near: np.ndarray) -> Table:
    """Blanks a station's vapour pressure where in any month over 0 °C it has under a fifth of the relative
    humidity of the middle of the nearest: a tenth of the figure was keyed in (San Cristobal in Mexico 0.08
    all year). Our own choice of bound; the driest real one is Lhasa's quarter."""
    mean = (table["tmin_c"] + table["tmax_c"]) / 2
    humidity = table["vapour_pressure_hpa"] / 10 / saturation_pressure(mean)
    with np.errstate(invalid="ignore"):
        low = (humidity < 0.2 * _about(humidity, near, np.median)) & (mean > 0)
    odd = low.any(axis=1)
    print(f"{odd.sum()} stations without their doubtful vapour pressure: {_names(stations, odd)}")
    return table | {"vapour_pressure_hpa": np.where(odd[:, None], np.nan, table["vapour_pressure_hpa"])}


def without_doubtful_rain(stations: list[dict[str, str]], table: Table, near: np.ndarray) -> Table:
    """Rain of months whose years swing more than so many wet days allow is what the wet days bring at the
    stations round about; where days without a report were read as dry, rain and wet days are those stations'.

    A year that was keyed in ten times over is half of a mean of sixteen: Dakar had 653 mm a year,
    Berlin-Dahlem 686, Mwanza 2,088. Counts of wet days bear it. From year to year a month's rain swings by
    1.76 (wet days)^-0.515 of its mean, robust sd of the logarithm 0.26; beyond 2.1 times that a month is
    doubtful, and all of a station's are where four are. Rain a wet day is the median of the nearest
    stations', times what it usually is of them in the station's other months. Wet days under half of what any
    of the nearest has, where they all have 40 a year and more, are days left out (Rio de Janeiro's Galeao had
    48 mm a year). Bounds are our own choice.
    """
    rain, wet = table["rain_mm"], table["wet_days_ge1mm"]
    some = (wet > 0.3) & (rain > 3)
    with np.errstate(divide="ignore", invalid="ignore"):
        swing = table[SWING] / rain / (1.76 * np.maximum(wet, 0.3) ** -0.515)
        each = np.log(rain / wet)
    doubtful = some & (rain > 10) & (swing > 2.1)
    most = doubtful.sum(axis=1) >= 4
    doubtful |= most[:, None] & some
    about = _about(np.where(some & ~doubtful, each, np.nan), near, np.median)
    own = np.array([np.median(off[kept]) if kept.any() and not odd else 0.0
                    for off, kept, odd in zip(each - about, some & ~doubtful, most, strict=True)])
    brought = wet * np.exp(about + own[:, None])
    year = wet.sum(axis=1, keepdims=True)
    least = _about(year, near, np.min)
    partial = (least >= 40) & (year < least / 2)
    print(f"{doubtful.sum()} months of {doubtful.any(axis=1).sum()} stations without their doubtful rain; "
          f"days without a report: {_names(stations, partial[:, 0])}")
    rain = np.where(partial, _about(rain, near, np.median), np.where(doubtful, brought, rain))
    wet = np.where(partial, _about(wet, near, np.median), wet)
    return table | {"rain_mm": np.round(rain, 1), "wet_days_ge1mm": np.round(wet, 1),
                    "rain_mended": doubtful.any(axis=1) | partial[:, 0]}


def _names(stations: list[dict[str, str]], some: np.ndarray) -> list[str]:
    return [s["name"] for s, one in zip(stations, some, strict=True) if one]


def _nearest(stations: list[dict[str, str]]) -> np.ndarray:
    """Rows of all other stations, nearest first; (stations, stations - 1)."""
    lat, lon = (np.array([float(s[name]) for s in stations]) for name in ("lat", "lon"))
    return np.array([np.argsort(great_circle_km(a, b, lat, lon), kind="stable")[1:]
                     for a, b in zip(lat, lon, strict=True)])


def _about(values: np.ndarray, near: np.ndarray, what: Callable[[np.ndarray], float]) -> np.ndarray:
    """The median, or another measure, of the nearest stations that have a value, column by column."""
    found = np.empty_like(values)
    for column in range(values.shape[1]):
        has = np.isfinite(values[:, column])
        found[:, column] = [what(values[rows[has[rows]][:NEAR], column]) for rows in near]
    return found


def tenths(values: np.ndarray) -> np.ndarray:
    """Whole tenths in 16 bits, exactly; ValueError when a digit would be lost."""
    whole = np.where(np.isnan(values), MISSING, np.round(values * 10)).astype("<i2")
    if not np.array_equal(np.where(whole == MISSING, np.nan, whole / 10), values, equal_nan=True):
        raise ValueError("a value has more digits than one decimal")
    return whole


def text(words: list[str]) -> np.ndarray:
    return np.frombuffer("\n".join(words).encode("utf-8"), dtype=np.uint8)


def package(stations: list[dict[str, str]], table: Table) -> None:
    place = np.array([[float(s[c]) for c in ("lat", "lon", "elev_m")] for s in stations])
    sea = np.array([sea_share(lat, lon) for lat, lon in place[:, :2]])
    years = np.minimum(table["n_years_t"], table["n_years_rain"]).min(axis=1)
    TARGET.parent.mkdir(parents=True, exist_ok=True)
    np.savez_compressed(
        TARGET, place_hundredths=np.round(place * 100).astype("<i4"), years=years.astype(np.uint8),
        sea_ten_thousandths=np.round(sea * 1e4).astype("<u2"), rain_mended=table["rain_mended"],
        extremes_mended=table["extremes_mended"],
        number=text([s["wmo_id"] for s in stations]), name=text([s["name"] for s in stations]),
        country=text([s["country"] for s in stations]),
        **{variable: tenths(table[column]) for variable, column in COLUMNS.items()},  # type: ignore[arg-type]
    )
    print(f"{len(stations)} stations, {TARGET.stat().st_size / 1000:.0f} kB")


def fit_wet_days(table: Table) -> None:
    """wet = days * P / (P + a * exp(b * max(T, 0)) * days), least squares on every other station."""
    from scipy.optimize import least_squares

    rain, wet = table["rain_mm"], table["wet_days_ge1mm"]
    warm = np.maximum((table["tmin_c"] + table["tmax_c"]) / 2, 0)
    days = np.broadcast_to(DAYS_IN_MONTH, rain.shape)
    whole = ~np.isnan(wet) & (rain > 1)
    fitted = whole & (np.arange(len(rain)) % 2 == 0)[:, None]

    def error(p: np.ndarray, where: np.ndarray) -> np.ndarray:
        r, n = rain[where], days[where]
        return np.asarray(n * r / (r + p[0] * np.exp(p[1] * warm[where]) * n) - wet[where])

    fit = least_squares(error, [5.0, 0.02], args=(fitted,)).x
    for p in (fit, np.array([3.8, 0.033])):
        e = error(p, whole & ~fitted)
        print(f"wet days, a {p[0]:.3f} b {p[1]:.4f}: on the stations left out bias {e.mean():+.2f}, "
              f"rms {np.sqrt((e**2).mean()):.2f}, nine in ten within {np.quantile(np.abs(e), 0.9):.1f} days")


def main(shared: Path) -> None:
    stations, table = read(shared)
    near = _nearest(stations)
    for mended in (without_doubtful_extremes, without_doubtful_rain, without_doubtful_damp):
        table = mended(stations, table, near)
    package(stations, without_doubtful_drop(stations, without_doubtful_spread(stations, table)))
    fit_wet_days(table)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
