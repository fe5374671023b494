"""Records that read well day by day and are no weather, made out of real ones, and real ones that are."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable
from io import StringIO
from pathlib import Path

import numpy as np
import pytest
from weather_files import plain, problems, written

from evenpick.base.days import day_date
from evenpick.climate.readers.doubtful import check
from evenpick.climate.readers.record import read_record
from evenpick.climate.readers.text import Faults
from evenpick.climate.records import packaged_record, packaged_records
from evenpick.climate.series import DailySeries

Row = tuple[str, float, float, object]
SERVICE = "STATIONS_ID;MESS_DATUM;QN_3;RSK;TXK;TNK;eor"


def dublin(days: int = 400) -> list[Row]:
    series, _ = packaged_record("dublin_airport")
    read = ([round(float(value), 1) for value in column[:days]]
            for column in (series.tmin, series.tmax, series.rain))  # fmt: skip
    return [(str(day_date(series.start + n)), *values) for n, values in enumerate(zip(*read, strict=True))]


def csv_of(rows: Iterable[Row]) -> str:
    text = StringIO()
    csv.writer(text, lineterminator="\n").writerows(rows)
    return plain(*text.getvalue().splitlines())


def service_of(rows: Iterable[Row]) -> str:
    return "\n".join([SERVICE, *(f"1;{day.replace('-', '')};10;{rain};{high};{low};eor"
                                 for day, low, high, rain in rows)]) + "\n"


def running(rows: list[Row], of: slice) -> list[Row]:
    total = np.cumsum([float(str(row[3])) for row in rows[of]])
    return [(*row[:3], round(float(mm), 1)) for row, mm in zip(rows[of], total, strict=True)]


def coded(code: float, each: int) -> list[Row]:
    return [(*row[:3], code if n % each == 0 else row[3]) for n, row in enumerate(dublin())]


CASES = [
    (coded(999.9, 50), "rain: 999.9 mm of rain on 8 days, the first 1981-01-01, looks like a code"),
    (coded(99.9, 50), "rain: 99.9 mm of rain on 8 days, the first 1981-01-01, looks like a code"),
    (running(dublin(), slice(None)), "rain: the rain only ever rises"),
    (running(dublin(), slice(60, 120)), "rain: the rain only ever rises"),
    ([(*row[:3], row[3] or "") for row in dublin()], "rain: no day has 0 mm of rain, and 4"),
    ([row if not 40 <= n < 80 else (row[0], 4.0, 9.5, 0.0) for n, row in enumerate(dublin())],
     "tmax: minimum and maximum are the same on every day from 1981-02-10 to 1981-03-21"),
]  # fmt: skip


@pytest.mark.parametrize(("rows", "said"), CASES)
@pytest.mark.parametrize("form", [csv_of, service_of])
def test_what_is_no_weather_is_told(
    tmp_path: Path, form: Callable[[Iterable[Row]], str], rows: list[Row], said: str
) -> None:
    (found,) = problems(written(tmp_path, form(rows)), read_record)
    assert said in found


def test_a_gauge_emptied_each_month_is_a_running_total_too(tmp_path: Path) -> None:
    rows = dublin(181)
    months = [running(rows, slice(first, first + 30)) for first in range(0, 180, 30)]
    (found,) = problems(written(tmp_path, csv_of([row for month in months for row in month])), read_record)
    assert "the rain only ever rises" in found


@pytest.mark.parametrize("name", [place.name for place in packaged_records()])
def test_real_records_are_weather_whole_and_by_the_season(name: str) -> None:
    series, _ = packaged_record(name)
    for first in (None, *range(0, series.days - 90, 90)):
        span = slice(None) if first is None else slice(first, first + 90)
        part = {field: getattr(series, field)[span] for field in ("tmin", "tmax", "rain")}
        nothing = np.full(part["rain"].shape, np.nan)
        check(DailySeries(series.start, **part, radiation=nothing, sunshine=nothing, vapour_pressure=nothing,
                          wind=nothing), Faults(name))  # fmt: skip


def test_a_year_without_rain_is_told_of(tmp_path: Path) -> None:
    _, origin = read_record(written(tmp_path, csv_of((*row[:3], 0) for row in dublin())))
    assert "no rain on any of 400 days: if there was no gauge, leave its cells empty" in origin.notes


def test_columns_without_a_unit_are_not_taken_for_a_services(tmp_path: Path) -> None:
    """'date,tmin,tmax,rain' was read as Met Éireann's, and each of its dates refused."""
    rows = (",".join(map(str, row)) for row in dublin(20))
    found = problems(
        written(tmp_path, plain(*rows, header="date,tmin,tmax,rain")), read_record)
    assert len(found) == 3
    assert "line 1: the name 'tmin' has no unit known here. Name the column tmin_c or tmin_f." in found[0]


@pytest.mark.parametrize(("change", "said"), [
    (lambda row: (row[0], row[1] * 1.8 + 32, row[2] * 1.8 + 32, row[3]), "tmax beyond any weather on"),
    (lambda row: (row[0], row[2], row[1], row[3]), "tmin above tmax on"),
])  # fmt: skip
def test_a_services_file_in_another_unit_is_refused_not_blanked(
    tmp_path: Path, change: Callable[[Row], Row], said: str
) -> None:
    (found, *_) = problems(
        written(tmp_path, service_of(map(change, dublin()))), read_record)
    assert said in found
    assert "Look for another unit, or columns changed round" in found
