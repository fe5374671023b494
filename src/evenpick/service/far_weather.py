"""Whether a garden's weather comes from far off, known without growing anything or reading a record."""

from __future__ import annotations

import numpy as np

from evenpick.climate.normals import read_normals_toml
from evenpick.climate.origin import ClimateOrigin
from evenpick.climate.records import packaged_records
from evenpick.climate.site import Site
from evenpick.climate.stations import great_circle_km, nearest_station
from evenpick.garden.garden import WeatherChoice
from evenpick.service.climate import YEARS, record_nearby


def far_weather(site: Site, choice: WeatherChoice) -> ClimateOrigin | None:
    """Where the weather comes from, if that is farther than FAR_KM; None where it is near, or a daily record
    of the grower's own. BadWeatherFile for monthly figures that can't be read."""
    if choice.record is not None or choice.moved is not None:
        return None
    found = _named(site, choice) or _nearest(site)
    return found if found.far else None


def _named(site: Site, choice: WeatherChoice) -> ClimateOrigin | None:
    """The packaged record or the monthly figures that the garden file names, or a record close by."""
    if choice.normals is not None:
        typed = read_normals_toml(choice.normals)
        return ClimateOrigin("typed normals", typed.name, _km(site, typed.lat, typed.lon), None, typed.years,
                             made=YEARS)
    near = record_nearby(site)
    name = choice.packaged or (None if near is None else near.name)
    place = next((one for one in packaged_records() if name in (one.name, one.name.replace("_", "-"))), None)
    if place is None:
        return None
    return ClimateOrigin("packaged daily record", place.station, _km(site, place.lat, place.lon), None, None)


def _nearest(site: Site) -> ClimateOrigin:
    normals, km, above = nearest_station(site)
    return ClimateOrigin("station normals", normals.name, km, above, normals.years, made=YEARS)


def _km(site: Site, lat: float, lon: float) -> float:
    return float(great_circle_km(site.lat, site.lon, np.array([lat]), np.array([lon]))[0])
