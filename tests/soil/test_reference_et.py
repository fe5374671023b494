"""Reference ET against FAO-56's worked examples and two libraries of other hands.

Inputs and printed answers are allen1998's, by example number; READ = the number was seen in the test
suites of open packages that cite the example, MEMORY = recalled. Tolerance is half of the last digit
printed, more only where FAO-56 goes on from rounded steps (said beside it).
"""

from __future__ import annotations

import gzip
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.chance import stream
from evenpick.base.days import days_of_year, parse_date
from evenpick.climate.daylight import (
    clear_sky_radiation,
    day_length,
    extraterrestrial_radiation,
    radiation_from_range,
    radiation_from_sunshine,
)
from evenpick.climate.moist_air import (
    air_pressure,
    psychrometric_constant,
    saturation_pressure,
    vapour_pressure_slope,
)
from evenpick.climate.records import packaged_record
from evenpick.soil import reference_et as et


def test_example_2_pressure_and_psychrometric_constant() -> None:  # READ
    pressure = air_pressure(1800.0)
    assert pressure == pytest.approx(81.8, abs=0.05)
    assert psychrometric_constant(pressure) == pytest.approx(0.054, abs=0.0005)


def test_example_3_saturation() -> None:  # READ
    assert saturation_pressure(24.5) == pytest.approx(3.075, abs=0.0005)
    assert saturation_pressure(15.0) == pytest.approx(1.705, abs=0.0005)
    assert et.mean_saturation_pressure(15.0, 24.5) == pytest.approx(2.39, abs=0.005)
    assert saturation_pressure(et.mean_temperature(15.0, 24.5)) == pytest.approx(2.30, abs=0.005)


def test_examples_11_and_12_net_radiation() -> None:  # READ
    longwave = et.net_longwave(19.1, 25.1, 2.1, 14.5, 18.8)
    shortwave = et.net_shortwave(14.5)
    assert longwave == pytest.approx(3.5, abs=0.05)
    assert shortwave == pytest.approx(11.1, abs=0.07)  # 11.165, printed from Rs 14.45
    assert et.net_radiation(shortwave, longwave) == pytest.approx(7.6, abs=0.07)


def test_example_14_wind() -> None:  # READ
    assert et.wind_at_2m(3.2, 10.0) == pytest.approx(2.4, abs=0.05)


def test_example_17_bangkok_month() -> None:  # READ (es, D, g, Rn, G, N, ETo), MEMORY (Ra, Rs)
    tmin, tmax, ea, u2, lat, height = 25.6, 34.8, 2.85, 2.0, 13 + 44 / 60, 2.0
    day = np.array([105.0])
    assert et.mean_saturation_pressure(tmin, tmax) == pytest.approx(4.42, abs=0.005)
    assert vapour_pressure_slope(30.2) == pytest.approx(0.246, abs=0.0005)
    assert psychrometric_constant(air_pressure(height)) == pytest.approx(0.0674, abs=0.0001)  # P 101.3
    assert day_length(lat, day)[0] == pytest.approx(12.31, abs=0.005)
    assert extraterrestrial_radiation(lat, day)[0] == pytest.approx(38.06, abs=0.01)  # rounded steps
    radiation = radiation_from_sunshine(np.array([8.5]), lat, day)
    assert radiation[0] == pytest.approx(22.65, abs=0.01)  # rounded steps
    longwave = et.net_longwave(tmin, tmax, ea, radiation, clear_sky_radiation(lat, day, height))
    net = et.net_radiation(et.net_shortwave(radiation), longwave)
    assert net[0] == pytest.approx(14.33, abs=0.01)  # rounded steps
    assert et.penman_monteith(tmin, tmax, net, ea, u2, height, 0.14)[0] == pytest.approx(5.72, abs=0.005)


def test_example_18_uccle_day() -> None:  # READ; Rns and Rnl MEMORY
    tmin, tmax, lat, height, day = np.array([12.3]), np.array([21.5]), 50.80, 100.0, np.array([187.0])
    u2 = et.wind_at_2m(10 / 3.6, 10.0)
    ea = 1.409  # as printed, from humidity
    radiation = radiation_from_sunshine(np.array([9.25]), lat, day)
    clear_sky = clear_sky_radiation(lat, day, height)
    assert u2 == pytest.approx(2.078, abs=0.0006)  # printed from 2.78 m/s
    assert et.mean_saturation_pressure(tmin, tmax)[0] == pytest.approx(1.997, abs=0.0005)
    assert vapour_pressure_slope(16.9) == pytest.approx(0.122, abs=0.0005)
    assert psychrometric_constant(air_pressure(height)) == pytest.approx(0.0666, abs=0.0001)
    assert day_length(lat, day)[0] == pytest.approx(16.1, abs=0.05)
    assert extraterrestrial_radiation(lat, day)[0] == pytest.approx(41.09, abs=0.01)  # rounded steps
    assert radiation[0] == pytest.approx(22.07, abs=0.01)  # rounded steps
    assert clear_sky[0] == pytest.approx(30.90, abs=0.005)
    assert et.net_shortwave(radiation)[0] == pytest.approx(17.0, abs=0.05)
    assert et.net_longwave(tmin, tmax, ea, radiation, clear_sky)[0] == pytest.approx(3.71, abs=0.005)
    eto = et.reference_et(tmin, tmax, radiation, lat, day, height, ea, np.array([float(u2)]))
    assert eto[0] == pytest.approx(3.88, abs=0.005)


def test_no_day_is_without_an_answer_for_want_of_wind_or_damp() -> None:
    rng = stream(1, "holes")
    tmin, tmax = np.full((3, 40), 5.0), np.full((3, 40), 14.0)
    damp = np.where(rng.random((3, 40)) < 0.5, np.nan, 1.0)
    wind = np.where(rng.random((3, 40)) < 0.5, np.nan, rng.uniform(0.0, 9.0, (3, 40)))
    for pressure, speed in ((damp, wind), (damp, None), (None, wind), (None, None)):
        ea, u2 = et.as_measured(tmin, tmax, pressure, speed)
        eto = et.reference_et(tmin, tmax, np.full((3, 40), 12.0), 52.0, np.full(40, 120.0), 10.0, ea, u2)
        assert np.isfinite(eto).all()
        assert np.all((np.asarray(u2) >= 0.5) & (np.asarray(u2) < 9.0))


def test_example_20_lyon_with_temperature_alone() -> None:  # READ (inputs, ea, Rs); ETo MEMORY
    tmin, tmax, lat, day = np.array([14.8]), np.array([26.6]), 45 + 43 / 60, np.array([196.0])
    radiation = radiation_from_range(tmin, tmax, lat, day)
    assert et.dew_at_minimum(tmin)[0] == pytest.approx(1.68, abs=0.005)
    assert radiation[0] == pytest.approx(22.29, abs=0.02)  # printed from Ra 40.55
    assert et.reference_et(tmin, tmax, radiation, lat, day, 200.0)[0] == pytest.approx(4.56, abs=0.01)
    assert et.hargreaves(tmin, tmax, lat, day)[0] == pytest.approx(5.0, abs=0.05)


def test_missing_weather_stays_missing() -> None:
    days = np.arange(100.0, 104.0)
    radiation = np.array([10.0, np.nan, 12.0, 14.0])
    tmin = np.array([5.0, 5.0, np.nan, 6.0])
    eto = et.reference_et(tmin, tmin + 9, radiation, 52.0, days, 10.0)
    assert np.isnan(eto).tolist() == [False, True, True, False]
    assert np.isnan(et.reference_et(tmin, tmin + 9, radiation, 80.0, np.full(4, 355.0), 0.0)[1])


def test_polar_night_and_dew_are_never_negative() -> None:
    day, tmin = np.array([355.0]), np.array([-30.0])
    assert et.reference_et(tmin, tmin + 1, np.zeros(1), 78.0, day, 0.0)[0] >= 0.0
    assert et.penman_monteith(5.0, 6.0, -4.0, 0.93, 0.5, 0.0) < 0.0  # the equation itself shows the dew
    assert et.reference_et(np.array([5.0]), np.array([5.5]), np.zeros(1), 52.0, day, 0.0)[0] == 0.0


def test_drier_or_windier_air_asks_for_more() -> None:
    tmin, tmax, day = np.full(3, 12.0), np.full(3, 24.0), np.full(3, 180.0)
    sun = np.full(3, 20.0)
    dry = et.reference_et(tmin, tmax, sun, 45.0, day, 0.0, vapour_pressure=np.array([1.6, 1.2, 0.8]))
    windy = et.reference_et(tmin, tmax, sun, 45.0, day, 0.0, wind=np.array([0.5, 2.0, 6.0]))
    assert np.all(np.diff(dry) > 0)
    assert np.all(np.diff(windy) > 0)


def _pyet(days, tmin, tmax, radiation, ea, u2, height: float, lat: float):
    import pandas as pd
    import pyet

    index = pd.DatetimeIndex(days.astype("datetime64[D]"))
    s = {k: pd.Series(v, index=index) for k, v in
         {"tmin": tmin, "tmax": tmax, "rs": radiation, "ea": ea, "wind": u2}.items()}
    return pyet.pm_fao56(
        (s["tmin"] + s["tmax"]) / 2, s["wind"], rs=s["rs"], tmin=s["tmin"], tmax=s["tmax"],
        ea=s["ea"], elevation=height, lat=np.radians(lat),
    ).to_numpy()


def _refet(day_of_year, tmin, tmax, radiation, ea, u2, height: float, lat: float):
    import refet

    daily = refet.Daily(
        tmin=tmin, tmax=tmax, rs=radiation, ea=ea, uz=u2, zw=2.0, elev=height, lat=lat,
        doy=day_of_year, method="asce", rso_type="array", rso=clear_sky_radiation(lat, day_of_year, height),
    )
    return np.maximum(daily.eto(), 0.0)


@pytest.mark.parametrize("lat", [60.0, 38.0, 0.0, -35.0])
@pytest.mark.parametrize("height", [0.0, 1500.0])
def test_agrees_with_pyet_and_refet_on_drawn_weather(lat: float, height: float) -> None:
    """pyet.pm_fao56: within 0.005 mm d⁻¹. refet.Daily (ASCE 2005): its solar constant, offset of
    Kelvin and humidity of the slope differ in the third digit: within 0.03 mm d⁻¹."""
    rng = stream(1, "reference_et", f"{lat}", f"{height}")
    days = np.arange(365) + 18993  # 2022
    day_of_year = np.arange(1.0, 366.0)
    tmin = rng.normal(8, 9, 365)
    tmax = tmin + rng.uniform(2, 18, 365)
    radiation = rng.uniform(0.25, 0.75, 365) * extraterrestrial_radiation(lat, day_of_year)
    ea = saturation_pressure(tmin) * rng.uniform(0.5, 1.0, 365)  # never above saturation
    u2 = rng.uniform(0.5, 7.0, 365)
    ours = et.reference_et(tmin, tmax, radiation, lat, day_of_year, height, ea, u2)
    assert np.abs(ours - _pyet(days, tmin, tmax, radiation, ea, u2, height, lat)).max() < 0.005
    assert np.abs(ours - _refet(day_of_year, tmin, tmax, radiation, ea, u2, height, lat)).max() < 0.03


def test_agrees_with_pyet_and_refet_over_a_real_year() -> None:
    """De Bilt 2018, the dry year: KNMI station 260, packaged record (CC BY 4.0); tolerances as above."""
    series, origin = packaged_record("de_bilt")
    start = parse_date("2018-01-01")
    year = slice(start - series.start, start - series.start + 365)
    lat, height, day_of_year = origin.lat, origin.height_m, np.arange(1.0, 366.0)
    weather = (series.tmin[year], series.tmax[year], series.radiation[year], series.vapour_pressure[year],
               series.wind[year])
    tmin, tmax, radiation, ea, u2 = weather
    ours = et.reference_et(tmin, tmax, radiation, lat, day_of_year, height, ea, u2)
    assert np.abs(ours - _pyet(start + np.arange(365), *weather, height, lat)).max() < 0.005
    assert np.abs(ours - _refet(day_of_year, *weather, height, lat)).max() < 0.03


def test_what_is_lost_without_humidity_and_wind() -> None:
    """De Bilt 1980 to 2019: the form the planner uses stays within 8 % of the full equation over the
    years and 0.5 mm d⁻¹ RMS (measured +4.3 %, 0.38; authorities/evapotranspiration.md)."""
    series, origin = packaged_record("de_bilt")
    weather = (series.tmin, series.tmax, series.radiation, origin.lat,
               days_of_year(series.start, series.days), origin.height_m)
    full = et.reference_et(*weather, series.vapour_pressure, series.wind)
    short = et.reference_et(*weather)
    assert short.sum() / full.sum() == pytest.approx(1.0, abs=0.08)
    assert np.sqrt(np.mean((short - full) ** 2)) < 0.5


def _daily(path: Path, first: str, count: int) -> dict[str, np.ndarray]:
    with gzip.open(path, "rt") as lines:
        table = np.genfromtxt(lines, delimiter=",", names=True, dtype=None, encoding="utf-8")
    at = int(np.flatnonzero(table["date"] == first)[0])
    return {name: table[name][at : at + count] for name in table.dtype.names}


def test_dublin_against_the_services_own_column(shared: Path) -> None:
    """Dublin Airport 2015 to 2024 against Met Éireann's own Penman-Monteith column (CC BY 4.0).

    From what the tool has there (temperature and radiation) the sum is within 10 % (measured 5.6 %).
    The measured wind with humidity guessed is worse (+18 %): the guess is too dry in sea air and wind
    multiplies it. A test holds that, so that nobody feeds one without the other unaware.
    """
    days = _daily(shared / "weather/daily/ie_dublin_airport.csv.gz", "2015-01-01", 3653)
    day_of_year = days_of_year(parse_date("2015-01-01"), 3653)
    known = ~np.isnan(days["radiation_mj_m2"])
    theirs = days["et0_mm"][known]
    weather = (days["tmin_c"], days["tmax_c"], days["radiation_mj_m2"], 53.428, day_of_year, 71.0)
    ours = et.reference_et(*weather)[known]
    windy = et.reference_et(*weather, wind=et.wind_at_2m(days["wind_m_s"], 10.0))[known]
    assert known.sum() > 3600
    assert ours.sum() / theirs.sum() == pytest.approx(1.0, abs=0.10)
    assert np.corrcoef(ours, theirs)[0, 1] > 0.95
    assert np.sqrt(np.mean((ours - theirs) ** 2)) < np.sqrt(np.mean((windy - theirs) ** 2))
