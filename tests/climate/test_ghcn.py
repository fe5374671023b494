"""GHCN-Daily in three shapes of one station; the .dly and access layouts follow NOAA's readme."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from weather_files import (
    SAMPLES,
    TWO_METRES,
    ghcn_fixed,
    ghcn_long,
    ghcn_wide,
    problems,
    written,
)

from evenpick.base.days import day_date
from evenpick.climate.readers.ghcn import read_ghcn_fixed, read_ghcn_long, read_ghcn_wide
from evenpick.climate.readers.record import read_record
from evenpick.climate.readers.silo import read_silo
from evenpick.climate.series import VARIABLES, DailySeries


def same(one: DailySeries, other: DailySeries) -> None:
    assert (one.start, one.days) == (other.start, other.days)
    for name in VARIABLES:
        np.testing.assert_allclose(getattr(one, name), getattr(other, name), atol=1e-9, err_msg=name)


def test_ghcn_sample() -> None:
    series, _ = read_ghcn_long(SAMPLES / "ghcn_long.csv")
    assert (day_date(series.start), series.days) == (date(2014, 1, 1), 4)
    np.testing.assert_allclose(series.tmax, [-17.1, -15.5, -1.6, 1.7])
    np.testing.assert_allclose(series.tmin, [-22.1, -23.2, -23.2, -18.8])
    np.testing.assert_allclose(series.rain, [0, 0, 3.0, 0.5])
    assert series.wind[0] == pytest.approx(3.0 * TWO_METRES)


def test_ghcn_shapes_agree(tmp_path: Path) -> None:
    """The .dly and access layouts are written here after NOAA's readme."""
    reference, _ = read_ghcn_long(SAMPLES / "ghcn_long.csv")
    shapes = ((ghcn_long(), read_ghcn_long), (ghcn_fixed(), read_ghcn_fixed), (ghcn_wide(), read_ghcn_wide))
    for text, read in shapes:
        series, origin = read(written(tmp_path, text))
        same(series, reference)
        assert origin.station == "USW00094846"
    _, origin = read_record(written(tmp_path, ghcn_wide()))
    assert (origin.lat, origin.lon, origin.height_m) == (41.995, -87.9336, 201.8)


def test_ghcn_flags(tmp_path: Path) -> None:
    text = ghcn_long().replace("20140101,TMAX,-171,,,", "20140101,TMAX,-171,,I,")
    text = text.replace("20140101,PRCP,0,,", "20140101,PRCP,0,P,")
    text = text.replace("20140103,PRCP,30,", "20140103,PRCP,30,A")
    series, origin = read_ghcn_long(written(tmp_path, text))
    assert np.isnan(series.tmax[0])
    np.testing.assert_array_equal(np.isnan(series.rain), [True, False, True, False])
    assert len([note for note in origin.notes if note.endswith("1 day left out")]) == 3


def test_ghcn_flags_in_the_other_shapes(tmp_path: Path) -> None:
    fixed = ghcn_fixed().replace("TMAX -171  W", "TMAX -171 IW").replace("PRCP    0  W", "PRCP    0P W")
    wide = ghcn_wide().replace('" -171",",,W"', '" -171",",I,W"')
    wide = wide.replace('IL US","    0",",,W"', 'IL US","    0","P,,W"', 1)
    for text in (fixed, wide):
        series, _ = read_record(written(tmp_path, text))
        np.testing.assert_array_equal(np.isnan(series.tmax), [True, False, False, False])
        np.testing.assert_array_equal(np.isnan(series.rain), [True, False, False, False])
        assert series.missing("tmin") == 0


def test_ghcn_order_form_has_no_unit(tmp_path: Path) -> None:
    order = "STATION,NAME,LATITUDE,LONGITUDE,ELEVATION,DATE"
    decimals, flagless = ('" -155"', '"  4.1"'), ("TMIN_ATTRIBUTES", "X")
    for text in (ghcn_wide(order), ghcn_wide().replace(*decimals), ghcn_wide().replace(*flagless)):
        assert "may be in °F and inches or" in problems(written(tmp_path, text), read_record)[0]


def test_ghcn_two_stations(tmp_path: Path) -> None:
    text = ghcn_long() + "\n" + ghcn_long().replace("USW00094846", "USW00014839")
    found = problems(written(tmp_path, text), read_record)
    assert "line 40: a second station, USW00014839" in found[0]


def test_ghcn_twice(tmp_path: Path) -> None:
    found = problems(written(tmp_path, ghcn_long() + "\n" + ghcn_long().split("\n")[0]), read_record)
    assert found == ("record.csv, line 40, TMAX: TMAX of this day is there twice. "
                     "Keep one row a day and element.",)


def test_services_swapped_and_impossible_days_are_blanked_and_told(tmp_path: Path) -> None:
    text = (SAMPLES / "silo_hamilton.met").read_text()
    text = text.replace("29.9  26.5   4.9", "29.9  26.5  27.9")
    text = text.replace("27.2   8.4   0.0", "27.2   8.4  -3.0")
    series, origin = read_silo(written(tmp_path, text))
    assert np.isnan([series.tmin[0], series.tmax[0], series.rain[1]]).all()
    assert origin.notes == (
        "rain beyond any weather on record: 1 day blanked", "tmin above tmax: 1 day blanked",
    )


