"""The grower's own file: every fault is told with its line, no unit is guessed."""

from __future__ import annotations

import gzip
import re
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from weather_files import (
    METRIC,
    TWO_METRES,
    plain,
    problems,
    written,
)

from evenpick.base.days import day_date, day_number
from evenpick.climate.readers.daily_csv import read_daily_csv
from evenpick.climate.readers.record import read_record


def year_of(low: float, high: float, rain: float = 2.0, header: str = METRIC) -> str:
    """A made-up year with the given maxima in January and July."""
    start = day_number(date(2023, 1, 1))
    warmth = [low + (high - low) * (1 - np.cos(2 * np.pi * day / 365)) / 2 for day in range(365)]
    rows = (f"{day_date(start + n)},{t - 8:.1f},{t:.1f},{rain}" for n, t in enumerate(warmth))
    return plain(*rows, header=header)


def test_plain_csv(tmp_path: Path) -> None:
    header = "Date,tmin_f,tmax_c,rain_in,radiation_mj_m2,sunshine_h,wind_m_s,vapour_pressure_kpa,remark"
    away = '2027-03-02,,,,,,,NA,"away, in the hills"'
    rows = ("2027-03-01,32,11.0,0.1,9,3,4,0.8,fine", away, '"2027-03-03",50,12,0,,,,,')
    series, origin = read_record(written(tmp_path, "# my garden\n" + plain(*rows, header=header)))
    assert (day_date(series.start), series.days) == (date(2027, 3, 1), 3)
    np.testing.assert_allclose(series.tmin, [0, np.nan, 10], atol=1e-12)
    np.testing.assert_allclose(series.rain, [2.54, np.nan, 0])
    assert series.wind[0] == pytest.approx(4 * TWO_METRES)
    assert origin.notes[0] == "columns not used: remark"


def test_plain_csv_wind_at_two_metres_and_gzip(tmp_path: Path) -> None:
    path = tmp_path / "r.csv.gz"
    text = plain("2027-03-01,1,11,0,4", header="date,tmin_c,tmax_c,rain_mm,wind2_m_s").replace("\n", "\r\n")
    path.write_bytes(gzip.compress(b"\xef\xbb\xbf" + text.encode()))
    assert read_record(path)[0].wind[0] == 4.0


def test_what_is_done_with_wind_is_told(tmp_path: Path) -> None:
    """Brought to 2 m, or measured there; without vapour pressure beside it it does not count."""
    def notes(columns: str, cells: str) -> str:
        text = plain(f"2027-03-01,1,11,0,{cells}", header=f"date,tmin_c,tmax_c,rain_mm,{columns}")
        return " ".join(read_record(written(tmp_path, text))[1].notes)

    assert "FAO-56 equation 47" in notes("wind_m_s,vapour_pressure_kpa", "4,0.8")
    assert "wind" not in notes("wind2_m_s,vapour_pressure_kpa", "4,0.8")
    assert "its wind is not used, for it does not say how damp the air was" in notes("wind_m_s", "4")


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (("2027-03-01,1,9,0", "2027-03-01,1,9,0"), "line 3, date: 2027-03-01 stands there twice"),
        (("2027-03-02,1,9,0", "2027-03-01,1,9,0"), "line 3, date: 2027-03-01 comes after 2027-03-02"),
        (("2027-03-01,1,9,0", "2027-03-05,1,9,0"), "line 3, date: 2027-03-02 to 2027-03-04 is left out"),
        (("2027-02-29,1,9,0",), "line 2, date: '2027-02-29' is not a date. Write year-month-day"),
        (("01/03/2027,1,9,0",), "line 2, date: '01/03/2027' is not a date"),
        (("2027-03-01,1_0,19,0",), "line 2, tmin_c: '1_0' is not a number"),
        (("2027-03-01,9,1,0",), "line 2: the minimum 9.0 °C is above the maximum 1.0 °C"),
        (("2027-03-01,1,9,-0.2",), "line 2, rain_mm: -0.2 is beyond any weather"),
        (("2027-03-01,-999,9,0",), "line 2, tmin_c: -999 is beyond any weather"),
        (("2027-03-01,1,5,9,0",), "line 2: the row has 5 cells under 4 names"),
    ],
)
def test_plain_csv_faults(tmp_path: Path, rows: tuple[str, ...], said: str) -> None:
    (found,) = problems(written(tmp_path, plain(*rows)))
    assert said in found


def test_plain_csv_tells_all_faults_but_writes_out_twenty(tmp_path: Path) -> None:
    found = problems(written(tmp_path, plain(*(f"2027-03-{day:02d},x,9,-1" for day in range(1, 32)))))
    assert len(found) == 21
    assert "there are 42 more problems" in found[-1]


@pytest.mark.parametrize(
    ("header", "said"),
    [
        ("date,tmin,tmax_c,rain_mm", "the name 'tmin' has no unit known here; its values look like °F. "
                                     "Name the column tmin_c or tmin_f"),
        ("date,tmin_c,tmax_c,precipitation", "the name 'precipitation' has no unit known here. Name"),
        ("date,tmin_c,tmax_c", "there is no column rain_mm or rain_in"),
        ("date,tmin_c,tmin_f,tmax_c,rain_mm", "two columns give tmin"),
        ("date;tmin_c;tmax_c;rain_mm", "the columns are not separated by commas"),
        ("day,tmin_c,tmax_c,rain_mm", "the header begins with 'day'"),
    ],
)
def test_plain_csv_headers(tmp_path: Path, header: str, said: str) -> None:
    assert said in problems(written(tmp_path, plain("2027-07-01,58,80,0", header=header)))[0]


def test_fahrenheit_is_never_guessed(tmp_path: Path) -> None:
    (found,) = problems(written(tmp_path, year_of(45, 85)))
    assert "mean maximum of July is 84 °C; that looks like °F. Name the columns tmin_f, tmax_f" in found
    imperial = "date,tmin_f,tmax_f,rain_mm"
    series, _ = read_daily_csv(written(tmp_path, year_of(45, 85, header=imperial)))
    assert series.tmax.max() == pytest.approx(29.4, abs=0.1)
    (found,) = problems(written(tmp_path, year_of(5, 30, header=imperial)))
    assert "that looks like °C" in found


def test_inches_and_millimetres_are_not_mistaken(tmp_path: Path) -> None:
    (found,) = problems(written(tmp_path, year_of(5, 25, rain=3.0, header="date,tmin_c,tmax_c,rain_in")))
    assert "looks like mm" in found
    _, origin = read_daily_csv(written(tmp_path, year_of(5, 25, rain=0.1)))
    assert "name the column rain_in" in origin.notes[0]


def test_documented_example_is_read(tmp_path: Path) -> None:
    text = (Path(__file__).parents[2] / "docs/formats/daily-csv.md").read_text(encoding="utf-8")
    examples = re.findall(r"```csv\n(.*?)```", text, re.DOTALL)
    assert examples
    for example in examples:
        assert read_record(written(tmp_path, example))[0].days >= 3


