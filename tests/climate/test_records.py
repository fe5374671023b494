"""The packaged daily records are the raw tables, value by value."""

from __future__ import annotations

import csv
import gzip
from pathlib import Path

import numpy as np
import pytest

from evenpick.base.days import day_number, parse_date
from evenpick.base.errors import BadWeatherFile
from evenpick.climate.records import packaged_record, packaged_records

RAW = {
    "brize_norton": "uk_brize_norton", "de_bilt": "nl_de_bilt", "dublin_airport": "ie_dublin_airport",
    "milwaukee": "us_milwaukee_wi", "philadelphia": "us_philadelphia_pa",
    "west_palm_beach": "us_west_palm_beach_fl",
}
COLUMNS = {"tmin": "tmin_c", "tmax": "tmax_c", "rain": "rain_mm", "radiation": "radiation_mj_m2",
           "sunshine": "sunshine_h", "vapour_pressure": "vapour_pressure_kpa"}


def test_names_and_places() -> None:
    assert [place.name for place in packaged_records()] == sorted(RAW)
    dublin = next(place for place in packaged_records() if place.name == "dublin_airport")
    assert (dublin.lat, dublin.lon, dublin.height_m) == (53.428, -6.241, 71.0)


@pytest.mark.parametrize("name", sorted(RAW))
def test_every_value_is_the_raw_table(name: str, shared: Path) -> None:
    with gzip.open(shared / f"weather/daily/{RAW[name]}.csv.gz", "rt", newline="") as file:
        rows = list(csv.DictReader(file))
    series, origin = packaged_record(name)
    assert series.start == parse_date(rows[0]["date"])
    assert series.days == len(rows)
    for variable, column in COLUMNS.items():
        raw = np.array([float(row.get(column) or "nan") for row in rows])
        np.testing.assert_array_equal(getattr(series, variable), raw)
    # FAO-56 table of factors to 2 m (annex 2, table 2.9): 0.748 for 10 m.
    wind = np.array([float(row.get("wind_m_s") or "nan") for row in rows])
    np.testing.assert_allclose(series.wind, wind * 0.748, rtol=5e-4)
    assert origin.licence


def test_dublin_is_whole_and_long() -> None:
    series, origin = packaged_record("dublin_airport")
    assert day_number(np.datetime64("1981-01-01").item()) == series.start
    assert series.days == 16344
    assert [series.missing(v) for v in ("tmin", "tmax", "rain", "sunshine", "wind")] == [0] * 5
    assert series.missing("vapour_pressure") == series.days
    assert origin.licence is not None
    assert "CC BY 4.0" in origin.licence


def test_unknown_name_lists_the_names() -> None:
    with pytest.raises(BadWeatherFile, match="Did you mean 'dublin_airport'"):
        packaged_record("dublin_airprt")


def test_a_name_with_a_dash_is_the_same_record() -> None:
    """docs/formats/garden-toml.md writes it so."""
    assert packaged_record("dublin-airport")[0].start == packaged_record("dublin_airport")[0].start


def test_a_record_is_unpacked_once_and_nobody_can_spoil_it() -> None:
    first, again = (packaged_record(name)[0] for name in ("dublin-airport", "dublin_airport"))
    assert first.tmin is again.tmin
    with pytest.raises(ValueError, match="read-only"):
        first.tmin[0] = 0.0
