"""The world's packaged station normals, and the nearest fair one.

Monthly means of 2003 to 2021 computed from the stations' CLIMAT reports ("Datenbasis: Deutscher
Wetterdienst, CLIMAT reports", CC BY 4.0). They are not official normals: 8 to 19 years, as reported in
real time, no wind, and no sunshine for the United States.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.language import later, tell
from evenpick.climate.normals import WET_DAYS_ESTIMATED, MonthlyNormals, estimated_wet_days
from evenpick.climate.site import Site
from evenpick.climate.station_words import spoken

LICENCE = 'CC BY 4.0, "Datenbasis: Deutscher Wetterdienst, CLIMAT reports"'
EARTH_RADIUS_KM = 6371.0088  # mean radius R1 of the IUGG (memory)
KM_PER_METRE_OF_HEIGHT = 0.2
SHORT_RECORD_YEARS, SHORT_RECORD_KM = 10, 30.0
MISSING = -32768
RAIN_MENDED = later("some of the station's own rain can't be right, and was taken from its wet days and the "
                    "rain of the stations about it")
EXTREMES_MENDED = later("the station's own minima and maxima can't be right, and were taken from its mean "
                        "and the range of the stations about it")
VARIABLES = ("tmin", "tmax", "rain_mm", "wet_days", "sd_daily_tmean", "sunshine_h", "vapour_pressure",
             "interannual_sd_tmean", "drop_to_lowest")


@dataclass(frozen=True, slots=True, eq=False)
class Stations:
    """Every packaged station; arrays have shape (stations,)."""

    number: tuple[str, ...]
    name: tuple[str, ...]
    country: tuple[str, ...]
    lat: Floats
    lon: Floats
    height_m: Floats
    years: Ints
    sea: Floats
    """share of sea round about, 0 to 1 (sea.py)"""
    rain_mended: Bools
    """whose rain is in part that of the stations about (builders/station_normals.py)"""
    extremes_mended: Bools
    """whose minima and maxima are its mean with the range of the stations about"""
    monthly: dict[str, Floats]
    """each of VARIABLES, shape (stations, 12), NaN where the station reports none"""


def great_circle_km(lat: float | Floats, lon: float | Floats, lats: Floats, lons: Floats) -> Floats:
    """Distance in km of points from one point, or from others of that shape, in degrees, on a sphere
    (haversine).

    Valid everywhere, poles and date line included; within 0.6 % of the ellipsoid (memory).
    """
    phi, phis = np.radians(lat), np.radians(lats)
    half = np.sin((phis - phi) / 2) ** 2
    half += np.cos(phi) * np.cos(phis) * np.sin(np.radians(lons - lon) / 2) ** 2
    return np.asarray(2 * EARTH_RADIUS_KM * np.arcsin(np.sqrt(np.minimum(half, 1.0))))


def nearest_station(site: Site) -> tuple[MonthlyNormals, float, float | None]:
    """Normals of the station that stands best for a site, its distance (km), its height above the site (m;
    None when the site's height is not known)."""
    stations, best = packaged_stations(), nearest_row(site)
    km = float(great_circle_km(site.lat, site.lon, stations.lat[best], stations.lon[best]))
    above = None if site.height_m is None else float(stations.height_m[best]) - site.height_m
    return row_normals(best), km, above


def nearest_row(site: Site, asked: Bools | None = None) -> int:
    """The row of the station that stands best for a site, of all or of those `asked` (stations,).

    The least of: great-circle distance, plus 20 km for every 100 m of difference in height when the site's
    height is known, plus 30 km for a record under ten years (our own choice: temperature changes with
    100 m of height about as it does over some tens of km of level country). Knows nothing of coasts, lakes,
    valleys or towns.
    """
    stations = packaged_stations()
    trouble = great_circle_km(site.lat, site.lon, stations.lat, stations.lon)
    trouble = trouble + SHORT_RECORD_KM * (stations.years < SHORT_RECORD_YEARS)
    if site.height_m is not None:
        trouble = trouble + KM_PER_METRE_OF_HEIGHT * np.abs(stations.height_m - site.height_m)
    return int((trouble if asked is None else np.where(asked, trouble, np.inf)).argmin())


def all_normals() -> tuple[MonthlyNormals, ...]:
    """Every packaged station's."""
    return tuple(row_normals(row) for row in range(len(packaged_stations().number)))


def station_normals(number: str) -> MonthlyNormals:
    """Normals of the station with this WMO number; KeyError when it is not packaged."""
    stations = packaged_stations()
    if number not in stations.number:
        raise KeyError(number)
    return row_normals(stations.number.index(number))


@cache
def packaged_stations() -> Stations:
    with (files("evenpick") / "data" / "station_normals.npz").open("rb") as file, np.load(file) as packed:
        lat, lon, height = packed["place_hundredths"].T / 100
        monthly = {name: np.where(packed[name] == MISSING, np.nan, packed[name] / 10) for name in VARIABLES}
        words = {name: tuple(packed[name].tobytes().decode("utf-8").split("\n"))
                 for name in ("number", "name", "country")}
        years, sea = packed["years"].astype(np.int64), packed["sea_ten_thousandths"] / 1e4
        rain_mended, extremes_mended = packed["rain_mended"], packed["extremes_mended"]
    monthly["vapour_pressure"] = monthly["vapour_pressure"] / 10  # hPa to kPa
    return Stations(lat=lat, lon=lon, height_m=height, years=years, sea=sea, monthly=monthly,
                    rain_mended=rain_mended, extremes_mended=extremes_mended, **words)


def row_normals(row: int) -> MonthlyNormals:
    """The normals of the station in that row of all."""
    stations = packaged_stations()
    values = {name: table[row].copy() for name, table in stations.monthly.items()}
    told = ((RAIN_MENDED, stations.rain_mended), (EXTREMES_MENDED, stations.extremes_mended))
    notes: tuple[str, ...] = tuple(tell(note) for note, mended in told if mended[row])
    if np.isnan(values["wet_days"]).any():
        values["wet_days"] = estimated_wet_days(values["rain_mm"], values["tmin"], values["tmax"])
        notes = (*notes, WET_DAYS_ESTIMATED)
    optional = {name: None if np.isnan(values[name]).any() else values[name] for name in VARIABLES[4:]}
    return MonthlyNormals(
        spoken(stations.name[row], stations.country[row]), float(stations.lat[row]), float(stations.lon[row]),
        float(stations.height_m[row]), values["tmin"], values["tmax"], values["rain_mm"], values["wet_days"],
        years=int(stations.years[row]), licence=LICENCE, notes=notes, **optional,
    )
