"""Readers against the services' own units, recorded samples and a second reading of the same files."""

from __future__ import annotations

import csv
import gzip
from datetime import date
from pathlib import Path

import numpy as np
import pyet.meteo_utils
import pytest
import refet.calcs
from weather_files import (
    SAMPLES,
    TWO_METRES,
    problems,
    written,
)

from evenpick.base.days import day_date, day_number
from evenpick.climate.readers import units
from evenpick.climate.readers.dwd import read_dwd
from evenpick.climate.readers.knmi import read_knmi
from evenpick.climate.readers.met_eireann import read_met_eireann
from evenpick.climate.readers.midas import read_midas
from evenpick.climate.readers.record import read_record
from evenpick.climate.readers.silo import read_silo
from evenpick.climate.series import VARIABLES

# Units


def test_wind_comes_down_to_two_metres() -> None:
    # FAO-56 example 14 (memory): 3.2 m/s at 10 m is 2.4 at 2 m; refet codes the same equation
    assert units.wind_at_2m(3.2) == pytest.approx(2.4, abs=0.05)
    for height in (3.0, 10.0, 20.0):
        reference = refet.calcs.wind_height_adjust(np.array([5.0]), height)[0]
        assert units.wind_at_2m(5.0, height) == pytest.approx(reference, rel=1e-3)


def test_vapour_pressure_against_pyet() -> None:
    for temperature in (-10.0, 0.0, 12.3, 30.0):
        expected = pyet.meteo_utils.calc_e0(temperature) * 0.7
        assert units.vapour_pressure(temperature, 70.0) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("month", range(1, 13))
def test_vapour_pressure_of_de_bilt_against_climat(shared: Path, month: int) -> None:
    """CLIMAT reports of 06260, 2003 to 2021, against 2003 to 2019 by the same equation."""
    with gzip.open(shared / "weather/normals/climat_normals_2003_2021.csv.gz", "rt") as stream:
        normal = next(r for r in csv.DictReader(stream) if (r["wmo_id"], r["month"]) == ("06260", str(month)))
    with gzip.open(shared / "weather/daily/nl_de_bilt.csv.gz", "rt") as stream:
        days = [r for r in csv.DictReader(stream) if r["date"] > "2003" and int(r["date"][5:7]) == month]
    ours = np.mean([float(row["vapour_pressure_kpa"]) for row in days])
    assert ours == pytest.approx(float(normal["vapour_pressure_hpa"]) / 10, abs=0.05)


def test_inches_and_fahrenheit_are_exact_by_definition() -> None:
    assert units.millimetres(1.0) == 25.4
    assert (units.celsius(32.0), units.celsius(212.0)) == (0.0, pytest.approx(100.0))


# The services' files


def test_knmi_sample() -> None:
    series, origin = read_knmi(SAMPLES / "knmi_etmgeg_260.txt")
    assert (day_date(series.start), series.days, origin.station) == (date(1980, 1, 1), 12, "260")
    assert (series.tmin[0], series.tmax[0], series.rain[0]) == pytest.approx((-0.8, 2.3, 5.8))
    assert (series.radiation[0], series.sunshine[0]) == pytest.approx((2.53, 2.3))
    assert series.wind[0] == pytest.approx(2.6 * TWO_METRES)
    assert series.vapour_pressure[0] == pytest.approx(0.606, abs=5e-4)
    assert series.rain[8] == series.sunshine[5] == 0.025  # code -1


def test_met_eireann_two_digit_years_and_knots() -> None:
    series, _ = read_met_eireann(SAMPLES / "met_eireann_dly532.csv")
    last = day_number(date(2025, 9, 30)) - series.start
    assert (day_date(series.start), series.days) == (date(1942, 1, 1), last + 1)
    assert (series.tmax[0], series.tmin[4], series.rain[2]) == pytest.approx((9.7, -0.8, 1.5))
    assert np.isnan(series.radiation[0])
    assert (series.radiation[last], series.rain[last]) == pytest.approx((7.65, 8.2))
    assert series.wind[last] == pytest.approx(7 * 1852 / 3600 * TWO_METRES)
    assert series.missing("rain") == series.days - 17


def test_met_eireann_with_indicators_is_the_same() -> None:
    bare, _ = read_met_eireann(SAMPLES / "met_eireann_dly532.csv")
    full, origin = read_met_eireann(SAMPLES / "met_eireann_with_ind.csv")
    assert (origin.station, origin.lat, origin.lon, origin.height_m) == ("DUBLIN AIRPORT", 53.428, -6.241, 71)
    assert full.days == 3
    for name in VARIABLES:
        np.testing.assert_array_equal(getattr(full, name), getattr(bare, name)[-3:])


def test_silo_sample() -> None:
    series, origin = read_silo(SAMPLES / "silo_hamilton.met")
    assert (day_date(series.start), series.days) == (date(2020, 1, 1), 13)
    assert (origin.station, origin.lat, origin.lon) == ("HAMILTON AIRPORT", -37.6486, 142.0636)
    assert (series.tmin[0], series.tmax[0], series.radiation[0]) == (4.9, 26.5, 29.9)
    assert series.vapour_pressure[0] == pytest.approx(1.07)
    assert series.rain[4] == 1.4


def test_silo_refuses_other_units(tmp_path: Path) -> None:
    text = (SAMPLES / "silo_hamilton.met").read_text().replace("(oC)  (oC)", "(oF)  (oC)")
    assert "unit (of) of maxt" in problems(written(tmp_path, text), read_silo)[0]


def test_dwd_sample(tmp_path: Path) -> None:
    series, origin = read_dwd(SAMPLES / "dwd_klima_tag_01358.txt")
    assert (day_date(series.start), series.days, origin.station) == (date(1890, 8, 1), 2, "1358")
    assert (series.tmin[0], series.tmax[1], series.rain[1]) == (10.0, 22.5, 19.8)
    assert series.vapour_pressure[0] == pytest.approx(1.32)
    assert series.missing("wind") == series.missing("sunshine") == 2  # -999
    assert origin.notes == ()
    text = (SAMPLES / "dwd_klima_tag_01358.txt").read_text()
    text = text.replace(";-999;-999;-999;    1", ";10;9;4.0;    1")
    assert read_dwd(written(tmp_path, text))[0].wind[0] == pytest.approx(4.0 * TWO_METRES)


def test_midas_sample(shared: Path) -> None:
    series, origin = read_midas(shared / "weather/formats/midas_processed_by_rwgen_sample.csv")
    assert (day_date(series.start), series.days) == (date(1995, 6, 1), 40)
    assert (series.tmin[2], series.tmax[2], series.rain[2]) == (9.7, 15.4, 3.3)
    assert (series.vapour_pressure[2], series.sunshine[2]) == (1.24, 0.2)
    assert series.missing("wind") == 40
    assert "wind left out" in origin.notes[0]


@pytest.mark.parametrize(
    ("sample", "daily", "names"),
    [
        ("knmi_etmgeg_260_sample.txt", "nl_de_bilt", VARIABLES),
        ("met_eireann_dly532_bare_sample.csv", "ie_dublin_airport",
         ("tmin", "tmax", "rain", "radiation", "sunshine", "wind")),
        ("silo_apsim_met_sample.met", "au_hamilton_vic",
         ("tmin", "tmax", "rain", "radiation", "vapour_pressure")),
    ],
)
def test_samples_against_another_reading(
    shared: Path, sample: str, daily: str, names: tuple[str, ...]
) -> None:
    """The same files were read by other hands into the plain CSV of the shared data, rain to 0.1 mm."""
    ours, _ = read_record(shared / "weather/formats" / sample)
    theirs, _ = read_record(shared / "weather/daily" / f"{daily}.csv.gz")
    first = max(ours.start, theirs.start)
    count = min(ours.start + ours.days, theirs.start + theirs.days) - first
    for name in names:
        mine = getattr(ours, name)[first - ours.start :][:count]
        other = getattr(theirs, name)[first - theirs.start :][:count]
        measured = ~np.isnan(mine)
        assert measured.sum() >= 30
        mine = mine.round(1) if name in ("rain", "sunshine") else mine
        np.testing.assert_allclose(mine[measured], other[measured], atol=0.0051, err_msg=name)


