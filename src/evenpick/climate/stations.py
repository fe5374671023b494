"""The world's packaged station normals: the nearest fair one, and moving it up or down to the site.

Monthly means of 2003 to 2021 computed from the stations' CLIMAT reports ("Datenbasis: Deutscher
Wetterdienst, CLIMAT reports", CC BY 4.0). They are not official normals: 8 to 19 years, as reported in
real time, no wind, and no sunshine for the United States.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.climate.normals import WET_DAYS_ESTIMATED, MonthlyNormals, estimated_wet_days
from evenpick.climate.site import Site

LICENCE = 'CC BY 4.0, "Datenbasis: Deutscher Wetterdienst, CLIMAT reports"'
EARTH_RADIUS_KM = 6371.0088  # mean radius R1 of the IUGG (memory)
KM_PER_METRE_OF_HEIGHT = 0.2
SHORT_RECORD_YEARS, SHORT_RECORD_KM = 10, 30.0
LAPSE_PER_METRE = -0.0065  # K, ICAO standard atmosphere (memory)
MISSING = -32768
VARIABLES = ("tmin", "tmax", "rain_mm", "wet_days", "sd_daily_tmean", "sunshine_h", "vapour_pressure",
             "interannual_sd_tmean")


@dataclass(frozen=True, slots=True, eq=False)
class _Stations:
    number: tuple[str, ...]
    name: tuple[str, ...]
    country: tuple[str, ...]
    lat: Floats
    lon: Floats
    height_m: Floats
    years: Ints
    monthly: dict[str, Floats]
    """each of VARIABLES, shape (stations, 12), NaN where the station reports none"""


def great_circle_km(lat: float, lon: float, lats: Floats, lons: Floats) -> Floats:
    """Distance in km of each point from one point, all in degrees, on a sphere (haversine).

    Valid everywhere, poles and date line included; within 0.6 % of the ellipsoid (memory).
    """
    phi, phis = np.radians(lat), np.radians(lats)
    half = np.sin((phis - phi) / 2) ** 2
    half += np.cos(phi) * np.cos(phis) * np.sin(np.radians(lons - lon) / 2) ** 2
    return np.asarray(2 * EARTH_RADIUS_KM * np.arcsin(np.sqrt(np.minimum(half, 1.0))))


def nearest_station(site: Site) -> tuple[MonthlyNormals, float, float | None]:
    """Normals of the station that stands best for a site, its distance (km), its height above the site (m).

    The least of: great-circle distance, plus 20 km for every 100 m of difference in height when the site's
    height is known, plus 30 km for a record under ten years (our own choice: temperature changes with
    100 m of height about as it does over some tens of km of level country). Knows nothing of coasts, lakes,
    valleys or towns. The difference in height is None when the site's height is not known.
    """
    stations = _stations()
    distance = great_circle_km(site.lat, site.lon, stations.lat, stations.lon)
    trouble = distance + SHORT_RECORD_KM * (stations.years < SHORT_RECORD_YEARS)
    if site.height_m is not None:
        trouble = trouble + KM_PER_METRE_OF_HEIGHT * np.abs(stations.height_m - site.height_m)
    best = int(trouble.argmin())
    above = None if site.height_m is None else float(stations.height_m[best]) - site.height_m
    return _normals(stations, best), float(distance[best]), above


def all_normals() -> tuple[MonthlyNormals, ...]:
    """Every packaged station's."""
    stations = _stations()
    return tuple(_normals(stations, row) for row in range(len(stations.number)))


def station_normals(number: str) -> MonthlyNormals:
    """Normals of the station with this WMO number; KeyError when it is not packaged."""
    stations = _stations()
    if number not in stations.number:
        raise KeyError(number)
    return _normals(stations, stations.number.index(number))


def moved_to(normals: MonthlyNormals, site: Site) -> MonthlyNormals:
    """The station's normals at a site: temperature moved by -6.5 K per km of height when both are known.

    Source: ICAO standard atmosphere (memory). Vapour pressure keeps its relative humidity; rain, wet days
    and sunshine stay. Expected error: real lapse rates run from 4 to 9 K per km for maxima and even turn
    round for minima in winter valleys (memory), so a move of 300 m is good to about 1 K.
    """
    here = replace(normals, lat=site.lat, lon=site.lon)
    if site.height_m is None or normals.height_m is None or site.height_m == normals.height_m:
        return here
    up = site.height_m - normals.height_m
    step = LAPSE_PER_METRE * up
    tmin, tmax = normals.tmin + step, normals.tmax + step
    vapour = normals.vapour_pressure
    if vapour is not None:
        vapour = vapour * _saturation(tmin, tmax) / _saturation(normals.tmin, normals.tmax)
    way = "up" if up > 0 else "down"
    note = f"temperature moved {step:+.1f} °C for {abs(up):.0f} m {way} from {normals.name}"
    return replace(here, height_m=site.height_m, tmin=tmin, tmax=tmax, vapour_pressure=vapour,
                   notes=(*normals.notes, note))


def _saturation(tmin: Floats, tmax: Floats) -> Floats:
    """Mean saturation vapour pressure, kPa (allen1998, equations 11 and 12)."""
    low, high = (0.6108 * np.exp(17.27 * t / (t + 237.3)) for t in (tmin, tmax))
    return np.asarray((low + high) / 2)


@cache
def _stations() -> _Stations:
    with (files("evenpick") / "data" / "station_normals.npz").open("rb") as file, np.load(file) as packed:
        lat, lon, height = packed["place_hundredths"].T / 100
        monthly = {name: np.where(packed[name] == MISSING, np.nan, packed[name] / 10) for name in VARIABLES}
        words = {name: tuple(packed[name].tobytes().decode("utf-8").split("\n"))
                 for name in ("number", "name", "country")}
        years = packed["years"].astype(np.int64)
    monthly["vapour_pressure"] = monthly["vapour_pressure"] / 10  # hPa to kPa
    return _Stations(lat=lat, lon=lon, height_m=height, years=years, monthly=monthly, **words)


def _normals(stations: _Stations, row: int) -> MonthlyNormals:
    values = {name: table[row].copy() for name, table in stations.monthly.items()}
    notes: tuple[str, ...] = ()
    if np.isnan(values["wet_days"]).any():
        values["wet_days"] = estimated_wet_days(values["rain_mm"], values["tmin"], values["tmax"])
        notes = (WET_DAYS_ESTIMATED,)
    optional = {name: None if np.isnan(values[name]).any() else values[name] for name in VARIABLES[4:]}
    return MonthlyNormals(
        f"{stations.name[row]}, {stations.country[row]}", float(stations.lat[row]), float(stations.lon[row]),
        float(stations.height_m[row]), values["tmin"], values["tmax"], values["rain_mm"], values["wet_days"],
        years=int(stations.years[row]), licence=LICENCE, notes=notes, **optional,
    )
