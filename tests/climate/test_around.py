"""The months of a place: against stations left out, a second solution and what is known of coasts."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from historic_stations import historic

from evenpick.climate import around
from evenpick.climate.around import normals_at
from evenpick.climate.normals import MonthlyNormals
from evenpick.climate.places import height_about
from evenpick.climate.sea import sea_share
from evenpick.climate.site import LAPSE_PER_METRE, Site
from evenpick.climate.stations import (
    great_circle_km,
    nearest_row,
    nearest_station,
    packaged_stations,
    row_normals,
)


def station_site(row: int) -> Site:
    s = packaged_stations()
    return Site(s.name[row], float(s.lat[row]), float(s.lon[row]), float(s.height_m[row]))


def off(found: MonthlyNormals, true: MonthlyNormals) -> np.ndarray:
    return np.stack([found.tmin - true.tmin, found.tmax - true.tmax])


def both_ways(site: Site, true: MonthlyNormals, farther_km: float) -> tuple[np.ndarray, np.ndarray]:
    """Errors of ours, and of the nearest station moved by 6.5 °C a km, those nearer than so far left out."""
    s = packaged_stations()
    asked = great_circle_km(site.lat, site.lon, s.lat, s.lon) > farther_km
    one = row_normals(nearest_row(site, asked))
    assert one.height_m is not None
    assert site.height_m is not None
    step = LAPSE_PER_METRE * (site.height_m - one.height_m)
    moved = replace(one, tmin=one.tmin + step, tmax=one.tmax + step)
    return off(normals_at(site, asked), true), off(moved, true)


def square_mean(errors: list[np.ndarray]) -> float:
    return float(np.sqrt((np.array(errors) ** 2).mean()))


def test_stations_left_out() -> None:
    """A sample of authorities/around.md's: a third nearer than the nearest station alone."""
    rows = range(0, packaged_stations().lat.size, 24)
    pairs = [both_ways(station_site(row), row_normals(row), 2.0) for row in rows]
    ours, alone = ([pair[way] for pair in pairs] for way in (0, 1))
    assert square_mean(ours) < 1.5
    assert square_mean(ours) < 0.75 * square_mean(alone)


def test_stations_that_are_in_no_report(shared: Path) -> None:
    """17 Met Office historic stations, 1991-2020 (OGL v3), packaged stations within 5 km left out."""
    pairs = []
    for site, own in historic(shared):
        tmin, tmax, rain = own["tmin_c"], own["tmax_c"], own["rain_mm"]
        true = MonthlyNormals(site.name, site.lat, site.lon, site.height_m, tmin, tmax, rain, wet_days=rain)
        pairs.append(both_ways(site, true, 5.0))
    ours, alone = ([pair[way] for pair in pairs] for way in (0, 1))
    assert square_mean(ours) < 0.62
    assert square_mean(ours) < 0.75 * square_mean(alone)


@pytest.mark.parametrize("row", [7, 411, 1203, 2400])
def test_a_stations_own_place_has_its_own_months(row: int) -> None:
    own, site = row_normals(row), station_site(row)
    found = normals_at(site)
    assert found.tmin == pytest.approx(own.tmin, abs=0.05)
    assert found.rain_mm == pytest.approx(own.rain_mm, rel=0.02, abs=0.2)
    assert (found.lat, found.lon, found.height_m, found.name) == (site.lat, site.lon, site.height_m, own.name)


def test_weights_are_those_of_generalised_least_squares() -> None:
    """Ordinary kriging is the best unbiased mean and simple kriging of what is left (cressie1993)."""
    site = Site("Ludlow", 52.37, -2.72, 110.0)
    rows, weight = around._neighbours(site, np.arange(packaged_stations().lat.size))
    assert weight.sum() == pytest.approx(1.0)
    places = around._places(rows)
    known = around._common(*around._unlike(places, places)) + around.JITTER * np.eye(rows.size)
    asked = around._common(*around._unlike(around._place(site)[None, :], places))[0]
    values = packaged_stations().monthly["tmin"][rows]
    ones = np.ones(rows.size)
    mean = ones @ np.linalg.solve(known, values) / (ones @ np.linalg.solve(known, ones))
    left = asked @ np.linalg.solve(known, values - mean)
    assert weight @ values == pytest.approx(mean + left, abs=1e-6)


def test_the_coast_and_the_valley_behind_it() -> None:
    """El Cajon lies 20 km inland of San Diego's harbour: hotter days, colder nights (memory; the station
    alone has 24 °C in July for both)."""
    coast = normals_at(Site("San Diego", 32.73, -117.19, 5.0))
    valley = normals_at(Site("El Cajon", 32.79, -116.96, 133.0))
    assert valley.tmax[6] > coast.tmax[6] + 3
    assert valley.tmin[0] < coast.tmin[0] - 1


def test_a_height_that_is_not_known_is_the_towns() -> None:
    taken = normals_at(Site("Sion", 46.23, 7.36))
    told = normals_at(Site("Sion", 46.23, 7.36, height_about(46.23, 7.36)))
    assert taken.tmin == pytest.approx(told.tmin)
    assert any("towns about you" in note for note in taken.notes)
    assert not any("towns about you" in note for note in told.notes)


def test_no_town_no_height() -> None:
    assert height_about(0.0, -140.0) is None
    assert height_about(52.37, -2.72) == pytest.approx(110, abs=60)


def test_what_the_nearest_does_not_report_is_not_drawn() -> None:
    assert normals_at(Site("Boise", 43.6, -116.2, 870.0)).sunshine_h is None
    assert normals_at(Site("Dublin", 53.4, -6.2, 40.0)).sunshine_h is not None


@pytest.mark.parametrize("site", [
    Site("pole", 90.0, 0.0, 0.0), Site("south pole", -90.0, 0.0, 2800.0), Site("ocean", -30.0, -120.0),
    Site("desert", 24.0, 14.0, 500.0), Site("summit", 27.99, 86.93, 8849.0),
    Site("shore", 31.5, 35.5, -430.0),
])  # fmt: skip
def test_everywhere_has_months(site: Site) -> None:
    found = normals_at(site)
    for name in ("tmin", "tmax", "rain_mm", "wet_days"):
        assert np.isfinite(getattr(found, name)).all()
    assert (found.tmax - found.tmin >= around.LEAST_RANGE - 1e-9).all()
    assert (found.rain_mm >= 0).all()
    assert ((found.wet_days >= 0) & (found.wet_days <= 31)).all()


def test_the_date_line_is_no_edge() -> None:
    west, east = (normals_at(Site("Taveuni", -16.85, lon, 10.0)) for lon in (179.9999, -179.9999))
    assert west.tmax == pytest.approx(east.tmax, abs=0.02)
    assert sea_share(-16.85, 179.9999) == pytest.approx(sea_share(-16.85, -179.9999), abs=1e-3)


def test_gradients_are_those_of_mountains() -> None:
    """4 to 9 °C a km for maxima, less for minima (memory); colder towards the poles."""
    for name, least, most in (("tmin", -5.5, -3.5), ("tmax", -8.0, -4.5)):
        up, poleward = around._gradients()[name]
        assert ((up > least) & (up < most)).all()
        assert (poleward < 0).all()


def test_nearest_and_ours_name_the_same_station() -> None:
    site = Site("Wexford", 52.33, -6.46, 15.0)
    assert normals_at(site).name == nearest_station(site)[0].name


@pytest.mark.parametrize(("lat", "lon", "least", "most"), [
    (39.0, -98.0, 0.0, 0.0), (40.0, -40.0, 1.0, 1.0),  # Kansas, mid-Atlantic
    (50.82, -0.14, 0.4, 0.6), (41.88, -87.63, 0.0, 0.0),  # Brighton's straight coast; a lake is no sea
    (59.99, -1.2, 0.7, 1.0), (90.0, 0.0, 1.0, 1.0), (-90.0, 45.0, 0.0, 0.0),  # Shetland, the poles
])  # fmt: skip
def test_share_of_sea(lat: float, lon: float, least: float, most: float) -> None:
    assert least <= sea_share(lat, lon) <= most
