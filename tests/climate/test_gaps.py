"""Missing days are told, filled by the rules of the docstring, or refused."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenpick.base.chance import stream
from evenpick.base.days import day_number
from evenpick.base.errors import BadWeatherFile
from evenpick.climate.gaps import HOLE, fill_gaps, usable_starts
from evenpick.climate.readers.record import read_record
from evenpick.climate.series import DailySeries

START = day_number(date(2001, 1, 1))


def record(years: float) -> DailySeries:
    """A made-up record without gaps: warm in July, rain unlike on any two days."""
    days = int(years * 365.25)
    season = 10 - 8 * np.cos(2 * np.pi * (START + np.arange(days) - START) / 365.25)
    chance = stream(1, "gaps")
    tmin = season + chance.normal(0, 2, days)
    never = np.full(days, np.nan)
    return DailySeries(START, tmin, tmin + chance.uniform(1, 9, days), chance.gamma(0.5, 6, days) + 0.001,
                       never, never.copy(), never.copy(), never.copy())


def at(year: int, month: int, day: int) -> int:
    return day_number(date(year, month, day)) - START


def without(series: DailySeries, variable: str, first: int, days: int) -> DailySeries:
    getattr(series, variable)[first : first + days] = np.nan
    return series


def test_nothing_missing_changes_nothing() -> None:
    series = record(2)
    filled, notes = fill_gaps(series)
    assert notes == ()
    for name in ("tmin", "tmax", "rain"):
        np.testing.assert_array_equal(getattr(filled, name), getattr(series, name))


def test_short_temperature_gap_is_a_straight_line() -> None:
    series = without(record(2), "tmax", 100, 3)
    series.tmax[[99, 103]] = 20.0, 28.0
    filled, notes = fill_gaps(series)
    np.testing.assert_allclose(filled.tmax[100:103], [22, 24, 26])
    assert notes == ("tmax: 3 days interpolated",)
    assert np.isnan(series.tmax[100])  # what was measured is left as it is


def test_longer_temperature_gap_is_the_mean_of_the_calendar_day() -> None:
    first = at(2004, 2, 20)
    series = without(record(6), "tmax", first, 15)  # over a leap day
    filled, notes = fill_gaps(series)
    others = [series.tmax[at(year, 3, 3)] for year in (2001, 2002, 2003, 2005, 2006)]
    assert filled.tmax[at(2004, 3, 3)] == pytest.approx(max(np.mean(others), filled.tmin[at(2004, 3, 3)]))
    others = [series.tmax[at(year, 2, 28)] for year in (2001, 2002, 2003, 2005, 2006)]
    assert filled.tmax[at(2004, 2, 29)] == pytest.approx(max(np.mean(others), filled.tmin[at(2004, 2, 29)]))
    assert notes[0] == "tmax: 15 days given the mean of their calendar day"


def test_filled_temperature_gives_way_to_the_measured() -> None:
    series = without(record(2), "tmin", 50, 1)
    series.tmax[50] = series.tmin[49] - 20
    filled, notes = fill_gaps(series)
    assert filled.tmin[50] == filled.tmax[50] == series.tmax[50]
    assert notes[1] == "1 day whose filled temperature was moved to the measured one"


def test_rain_comes_from_the_nearest_year_that_has_it() -> None:
    series = without(record(4), "rain", at(2003, 5, 1), 6)
    without(series, "rain", at(2002, 5, 3), 1)
    without(series, "rain", at(2002, 8, 1), 2)
    filled, notes = fill_gaps(series)
    np.testing.assert_array_equal(filled.rain[at(2002, 8, 1) :][:2], series.rain[at(2001, 8, 1) :][:2])
    np.testing.assert_array_equal(filled.rain[at(2003, 5, 1) :][:6], series.rain[at(2004, 5, 1) :][:6])
    assert filled.rain[at(2002, 5, 3)] == series.rain[at(2001, 5, 3)]
    lent = "rain: 9 days taken from the same days of the nearest years with readings, 2001 to 2004"
    assert notes == (lent,)


def test_rain_day_by_day_where_no_year_has_the_whole_gap() -> None:
    series = without(record(2), "rain", at(2001, 5, 1), 4)
    without(series, "rain", at(2002, 5, 4), 3)
    with pytest.raises(BadWeatherFile, match="in no other year of the record"):
        fill_gaps(series)
    series = without(record(3), "rain", at(2001, 5, 1), 4)
    without(series, "rain", at(2002, 5, 4), 1)
    without(series, "rain", at(2003, 5, 1), 2)
    filled, _ = fill_gaps(series)
    expected = [*series.rain[at(2002, 5, 1) :][:3], series.rain[at(2003, 5, 4)]]
    np.testing.assert_array_equal(filled.rain[at(2001, 5, 1) :][:4], expected)


def test_one_year_lends_itself_nothing() -> None:
    with pytest.raises(BadWeatherFile, match="tmin has no reading for 20 days from 2001-06-01"):
        fill_gaps(without(record(1), "tmin", at(2001, 6, 1), 20))


def test_ends_are_cut_not_filled() -> None:
    series = without(without(record(2), "rain", 0, 50), "tmax", 720, 10)
    filled, notes = fill_gaps(series)
    assert (filled.start, filled.days) == (START + 50, 720 - 50)
    assert notes == ("60 days without tmin, tmax and rain cut off at the ends of the record",)


@pytest.mark.parametrize("variable", ["tmin", "tmax", "rain"])
def test_a_hole_in_a_short_record_is_refused(variable: str) -> None:
    with pytest.raises(BadWeatherFile) as caught:
        fill_gaps(without(record(5), variable, at(2003, 4, 2), HOLE), file="garden.csv")
    (problem,) = caught.value.problems
    said = f"garden.csv, {variable}: {variable} has no reading for 40 days from 2003-04-02."
    assert str(problem).startswith(said)
    filled, _ = fill_gaps(without(record(5), variable, at(2003, 4, 2), HOLE - 1))
    assert not np.isnan(filled.tmin + filled.tmax + filled.rain).any()


def test_a_hole_in_a_long_record_costs_the_years_that_meet_it() -> None:
    series = without(record(12), "tmax", at(2005, 4, 2), HOLE)
    without(series, "rain", at(2008, 4, 2), 10)
    filled, notes = fill_gaps(series)
    assert "tmax: no reading for 40 days from 2005-04-02; weather years" in notes[-1]
    starts = np.array([day_number(date(year, 1, 1)) for year in range(2000, 2014)])
    expected = [year not in (2000, 2004, 2005, 2012, 2013) for year in range(2000, 2014)]
    for which in (series, filled):
        np.testing.assert_array_equal(usable_starts(which, starts, 548), expected)


def test_the_first_and_the_last_whole_stretch_of_a_record_are_usable() -> None:
    series = record(3)
    last = START + series.days - 365
    starts = np.array([START - 1, START, last, last + 1])
    np.testing.assert_array_equal(usable_starts(series, starts, 365), [False, True, True, False])


def test_few_measured_days_over_many_years_are_no_long_record() -> None:
    with pytest.raises(BadWeatherFile, match="no reading for"):
        fill_gaps(without(record(40), "tmin", 100, 14000))


def test_no_rain_at_all_is_refused() -> None:
    with pytest.raises(BadWeatherFile, match="there is no rain in it"):
        fill_gaps(without(record(2), "rain", 0, 1000))


@settings(max_examples=40)
@given(holes=st.lists(st.tuples(st.sampled_from(["tmin", "tmax", "rain"]), st.integers(0, 4370),
                                st.integers(1, 60)), max_size=8),
       start=st.integers(0, 4382), days=st.integers(1, 800))
def test_after_filling_a_usable_stretch_is_whole(
    holes: list[tuple[str, int, int]], start: int, days: int
) -> None:
    series = record(12)
    for variable, first, length in holes:
        without(series, variable, first, length)
    filled, _ = fill_gaps(series)
    total = filled.tmin + filled.tmax + filled.rain
    first = START + start - filled.start
    usable = usable_starts(filled, np.array([START + start]), days)[0]
    inside = first >= 0 and first + days <= filled.days
    assert usable == (inside and not np.isnan(total[first : first + days]).any())
    assert not (filled.tmin > filled.tmax).any()
    measured = ~np.isnan(series.rain[filled.start - START :][: filled.days])
    np.testing.assert_array_equal(
        filled.rain[measured], series.rain[filled.start - START :][: filled.days][measured]
    )


def test_filled_heathrow_keeps_its_climate(shared: Path) -> None:
    """40 years with 262 days without rain: the mean of the filled days is that of the measured ones."""
    series, _ = read_record(shared / "weather/daily/uk_heathrow.csv.gz")
    filled, notes = fill_gaps(series)
    assert np.isnan(series.tmin).any()
    assert any(note.startswith("rain: 262 days taken") for note in notes)
    lent = filled.rain[np.isnan(series.rain)]
    assert np.mean(lent) == pytest.approx(np.nanmean(series.rain), rel=0.5)  # error of 262 days is about 16 %


def test_longest_is_checked() -> None:
    with pytest.raises(ValueError, match="0 to 39"):
        fill_gaps(record(1), longest=40)
