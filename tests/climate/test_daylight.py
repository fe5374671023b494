"""The sun's geometry against FAO-56's examples (allen1998) and two libraries.

READ = the printed number was seen in the test suites of open packages that cite the example.
"""

from __future__ import annotations

import numpy as np
import pytest

from evenpick.climate import daylight
from evenpick.climate.point import parse_point

YEAR = np.arange(1.0, 366.0)
LATITUDES = [-78.0, -35.0, -10.0, 0.0, 23.4, 45.0, 53.4, 60.0, 69.6, 80.0]


@pytest.mark.parametrize(("typed", "radians"), [("13°44'N 100°31'E", 0.240), ("22°54'S 43°12'W", -0.400)])
def test_example_7_degrees_to_radians(typed: str, radians: float) -> None:
    """MEMORY: Bangkok 13°44' N, Rio 22°54' S; typed as a grower does, longitudes from memory of the atlas."""
    assert np.radians(parse_point(typed).lat) == pytest.approx(radians, abs=0.0005)


def test_example_8_extraterrestrial_radiation() -> None:  # READ: 3 September, 20° S
    day = np.array([246.0])
    assert daylight.inverse_distance(day)[0] == pytest.approx(0.985, abs=0.0005)
    assert daylight.declination(day)[0] == pytest.approx(0.120, abs=0.0005)
    assert daylight.sunset_angle(-20.0, day)[0] == pytest.approx(1.527, abs=0.0005)
    assert daylight.extraterrestrial_radiation(-20.0, day)[0] == pytest.approx(32.2, abs=0.05)


def test_example_9_day_length() -> None:  # READ
    assert daylight.day_length(-20.0, np.array([246.0]))[0] == pytest.approx(11.7, abs=0.05)


def test_example_10_radiation_from_sunshine() -> None:
    """READ: Rio, 15 May, 7.1 h a day. FAO-56 writes N 10.9 and Ra 25.1, hence 14.5 and 18.8."""
    day = np.array([135.0])
    assert daylight.day_length(-22.9, day)[0] == pytest.approx(10.9, abs=0.05)
    assert daylight.extraterrestrial_radiation(-22.9, day)[0] == pytest.approx(25.1, abs=0.05)
    assert daylight.radiation_from_sunshine(np.array([7.1]), -22.9, day)[0] == pytest.approx(14.5, abs=0.06)
    assert daylight.clear_sky_radiation(-22.9, day)[0] == pytest.approx(18.8, abs=0.05)


def test_example_15_radiation_from_range() -> None:  # READ: Lyon in July, Ra 40.6
    estimate = daylight.radiation_from_range(np.array([14.8]), np.array([26.6]), 45.72, np.array([196.0]))
    assert estimate[0] == pytest.approx(22.3, abs=0.05)


def test_equator_has_twelve_hours() -> None:
    np.testing.assert_allclose(daylight.day_length(0.0, YEAR), 12.0, atol=1e-9)


def test_polar_night_and_polar_day() -> None:
    midsummer, midwinter = np.array([172.0]), np.array([355.0])
    for lat, light, dark in ((75.0, midsummer, midwinter), (-75.0, midwinter, midsummer)):
        assert daylight.day_length(lat, light)[0] == pytest.approx(24.0)
        assert daylight.day_length(lat, dark)[0] == 0.0
        assert daylight.extraterrestrial_radiation(lat, light)[0] > 40.0
        assert daylight.extraterrestrial_radiation(lat, dark)[0] == 0.0
        assert daylight.radiation_from_sunshine(np.array([3.0]), lat, dark)[0] == 0.0


@pytest.mark.parametrize("lat", [-90.0, -66.6, 66.6, 90.0])
def test_poles_and_circles_are_finite(lat: float) -> None:
    assert np.all(np.isfinite(daylight.extraterrestrial_radiation(lat, YEAR)))
    hours = daylight.day_length(lat, YEAR)
    assert hours.min() >= 0.0
    assert hours.max() <= 24.0


def test_missing_sunshine_stays_missing() -> None:
    sunshine = np.array([np.nan, 0.0, 30.0])
    radiation = daylight.radiation_from_sunshine(sunshine, 52.0, np.array([180.0, 180.0, 180.0]))
    ra = daylight.extraterrestrial_radiation(52.0, np.array([180.0]))[0]
    assert np.isnan(radiation[0])
    assert radiation[1] == pytest.approx(0.25 * ra)
    assert radiation[2] == pytest.approx(0.75 * ra)  # more sun than day is at most the whole day


def test_no_range_gives_no_sun_and_a_wide_one_clear_sky() -> None:
    day = np.array([180.0])
    assert daylight.radiation_from_range(np.array([10.0]), np.array([10.0]), 50.0, day)[0] == 0.0
    wide = daylight.radiation_from_range(np.array([0.0]), np.array([40.0]), 50.0, day)[0]
    assert wide == pytest.approx(daylight.clear_sky_radiation(50.0, day)[0])


@pytest.mark.parametrize("lat", [-60.0, -35.0, -10.0, 0.0, 23.4, 45.0, 53.4, 60.0])
def test_agrees_with_pyet(lat: float) -> None:
    """pyet.extraterrestrial_r and daylight_hours (the same equations in other hands): rounding only."""
    import pandas as pd
    import pyet

    index = pd.date_range("2023-01-01", periods=365)
    ra = np.asarray(pyet.extraterrestrial_r(index, np.radians(lat)))
    hours = np.asarray(pyet.daylight_hours(index, np.radians(lat)))
    np.testing.assert_allclose(daylight.extraterrestrial_radiation(lat, YEAR), ra, atol=0.005)
    np.testing.assert_allclose(daylight.day_length(lat, YEAR), hours, atol=0.005)


@pytest.mark.parametrize("lat", LATITUDES)
def test_radiation_agrees_with_pvlib_integrated_over_the_day(lat: float) -> None:
    """pvlib's Spencer declination and distance and its zenith, summed by minutes.

    FAO-56's single sine (equation 24) lies up to 1.5° south of the sun in October, so its Ra is up to
    1.2 MJ m⁻² d⁻¹ low in the north then (1.5 high in the south, 2.8 at a pole's edge of light), root
    mean square 0.1 to 0.65 (0.95 within the polar circles), the year within 2 % (3.2 %). Measured; the
    bounds hold it there.
    """
    from pvlib.irradiance import get_extra_radiation
    from pvlib.solarposition import declination_spencer71, solar_zenith_analytical

    hour_angle = np.radians((np.arange(1440) + 0.5) / 4 - 180)
    zenith = solar_zenith_analytical(np.radians(lat), hour_angle, declination_spencer71(YEAR)[:, None])
    normal = get_extra_radiation(YEAR, solar_constant=daylight.SOLAR_CONSTANT * 1e6 / 60, method="spencer")
    daily = np.maximum(np.cos(zenith), 0.0).sum(axis=1) * 60 * np.asarray(normal) / 1e6
    apart = daylight.extraterrestrial_radiation(lat, YEAR) - daily
    polar = abs(lat) > 66.5
    assert np.abs(apart).max() < (2.8 if polar else 1.6)
    assert np.sqrt(np.mean(apart**2)) < (0.95 if polar else 0.65)
    assert abs(apart.sum() / daily.sum()) < (0.032 if polar else 0.02)


@pytest.mark.parametrize(
    ("lat", "mean", "least", "most"),
    [(0.0, 7, 6, 8), (23.4, 9, 7, 12), (45.0, 14, 10, 20), (53.4, 17.5, 13, 25), (60.0, 23, 17, 33),
     (-35.0, 6.4, 1, 10)],
)
def test_day_is_shorter_than_an_almanacs(lat: float, mean: float, least: float, most: float) -> None:
    """pvlib's solar position algorithm (NREL) sets the sun's upper rim with refraction, 0.83° lower, and
    its declination is right in autumn: minutes by which our day is short of an almanac's, as measured."""
    import pandas as pd
    from pvlib.solarposition import sun_rise_set_transit_spa

    days = pd.date_range("2023-01-01", periods=365, tz="UTC") + pd.Timedelta(hours=12)
    sun = sun_rise_set_transit_spa(days, lat, 0.0)
    almanac = (sun["sunset"] - sun["sunrise"]).dt.total_seconds().to_numpy() / 60
    short = almanac - 60 * daylight.day_length(lat, YEAR)
    assert short.mean() == pytest.approx(mean, abs=1)
    assert short.min() > least
    assert short.max() < most
