"""Members, moved records, unseen years, filled radiation. Rules D, M and U of docs/design/weather.md."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from evenpick.base.days import day_date, day_number, days_of_year
from evenpick.base.errors import BadRequest, BadWeatherFile
from evenpick.climate.daylight import clear_sky_radiation
from evenpick.climate.ensemble import generated, member_starts, members, moved, split_unseen
from evenpick.climate.normals import MonthlyNormals
from evenpick.climate.radiation import fill_radiation
from evenpick.climate.records import packaged_record
from evenpick.climate.series import DailySeries, Origin
from evenpick.climate.site import Site

SITE = Site("here", 53.43, -6.24, 40.0)
ORIGIN = Origin("test", "made.csv", station="Made", height_m=70.0)
MARCH = day_number(date(2027, 3, 1))


def numbered(first: int, last: int) -> DailySeries:
    """A record whose rain is the day number, so that a day can be told from any other."""
    start, end = day_number(date(first, 1, 1)), day_number(date(last + 1, 1, 1))
    days = np.arange(float(start), float(end))
    empty = np.full(days.size, np.nan)
    return DailySeries(start, days * 0 + 5, days * 0 + 14, days, empty, empty, empty, empty)


def normals(name: str, warmer: float, rain: float) -> MonthlyNormals:
    season = -6 * np.cos(2 * np.pi * np.arange(12) / 12)
    return MonthlyNormals(
        name, 53.43, -6.24, 70.0, 5 + season + warmer, 13 + season + warmer, np.full(12, rain),
        np.full(12, 10.0),
    )


def test_a_member_is_consecutive_real_days_from_its_start_date() -> None:
    """Rule D1; 1988 and 1992 are leap years, the horizon's 2027 and 2029 are not."""
    weather = members(numbered(1985, 1995), ORIGIN, SITE, MARCH, 770)
    assert weather.labels == tuple(str(year) for year in range(1985, 1994))
    for label, rain in zip(weather.labels, weather.rain, strict=True):
        assert day_date(int(rain[0])) == date(int(label), 3, 1)
        assert (np.diff(rain) == 1).all()
    assert weather.start == MARCH
    assert not np.isnan(weather.radiation).any()


def test_a_leap_day_start_falls_back_to_the_28th() -> None:
    starts = member_starts(numbered(1985, 1995), day_number(date(2028, 2, 29)), 400)
    found = [day_date(start) for start in starts]
    assert date(1987, 2, 28) in found
    assert date(1988, 2, 29) in found


def test_missing_days_are_never_passed_on() -> None:
    series = numbered(1985, 1995)
    series.rain[1000] = np.nan
    with pytest.raises(ValueError, match="rain"):
        members(series, ORIGIN, SITE, MARCH, 400)


def test_years_with_a_hole_are_left_out_and_counted() -> None:
    series = numbered(1985, 1995)
    series.rain[1000:1050] = np.nan  # 28 September 1987 and on
    weather = members(series, ORIGIN, SITE, MARCH, 400)
    assert "1987" not in weather.labels
    assert weather.labels[:3] == ("1985", "1986", "1988")
    assert any("1 weather year was left out" in note for note in weather.origin.notes)


def test_a_record_too_short_is_told_with_a_remedy() -> None:
    with pytest.raises(BadWeatherFile, match="monthly normals"):
        members(numbered(1994, 1995), ORIGIN, SITE, MARCH, 770)


def test_de_bilts_members_stand_at_the_present() -> None:
    series, origin = packaged_record("de_bilt")
    weather = members(series, origin, SITE, MARCH, 400)
    asis = members(series, origin, SITE, MARCH, 400, present=False)
    lift = (weather.tmin - asis.tmin).mean(axis=1)
    assert lift[0] > 0.5
    assert (np.diff(lift) < 0).all()
    assert any("per decade" in note for note in weather.origin.notes)
    assert weather.origin.height_difference_m == pytest.approx((origin.height_m or 0.0) - 40.0)
    measured = series.radiation[asis_rows(series, asis.labels[0])]
    np.testing.assert_array_equal(weather.radiation[0], measured)


def asis_rows(series: DailySeries, label: str) -> slice:
    first = day_number(date(int(label), 3, 1)) - series.start
    return slice(first, first + 400)


def test_filled_radiation_against_what_dublin_measured() -> None:
    """Met Éireann global radiation: estimates of a day within 2 (sunshine) and 4 (range) MJ m⁻² d⁻¹ rms:
    bounds of our own."""
    series, origin = packaged_record("dublin_airport")
    assert origin.lat is not None
    known = ~np.isnan(series.radiation)
    blank = replace(series, radiation=np.full(series.days, np.nan))
    for sunshine, bar, words in ((series.sunshine, 2.0, "sunshine"), (blank.radiation, 4.0, "range")):
        filled, notes = fill_radiation(replace(blank, sunshine=sunshine), origin.lat)
        error = (filled.radiation - series.radiation)[known]
        assert np.sqrt((error**2).mean()) < bar
        assert abs(error.mean()) < bar / 2
        assert words in notes[0]
    same, _ = fill_radiation(series, origin.lat)
    np.testing.assert_array_equal(same.radiation[known], series.radiation[known])
    assert not np.isnan(same.radiation).any()


def test_radiation_without_temperatures_stays_missing() -> None:
    series = numbered(1990, 1990)
    series.tmax[10] = np.nan
    filled, _ = fill_radiation(series, 53.43)
    assert np.flatnonzero(np.isnan(filled.radiation)).tolist() == [10]


def test_moving_a_record_moves_its_normals() -> None:
    series = numbered(1990, 1999)
    shifted, notes = moved(series, normals("low", 0.0, 60.0), normals("high", -1.5, 90.0))
    np.testing.assert_allclose(shifted.tmin, series.tmin - 1.5)
    np.testing.assert_allclose(shifted.rain, series.rain * 1.5)
    assert "-1.5 °C" in notes[0]
    assert "1.50" in notes[0]


def test_the_ratio_of_rain_is_bounded_and_dry_months_scale_nothing() -> None:
    series = numbered(1990, 1999)
    for here, there, ratio in ((10, 90, 2.0), (90, 10, 0.5), (0, 10, 1.0)):
        shifted, _ = moved(series, normals("a", 0, here), normals("b", 0, there))
        np.testing.assert_allclose(shifted.rain, series.rain * ratio)


def test_moving_never_crosses_minimum_and_maximum() -> None:
    far = normals("far", 0, 60)
    shifted, notes = moved(numbered(1990, 1990), far, replace(far, tmin=far.tmin + 6, tmax=far.tmax - 6))
    assert (shifted.tmin <= shifted.tmax).all()
    assert "met on 365 days" in notes[0]


@given(
    st.integers(12, 60), st.integers(60, 1200), st.sampled_from([0.2, 0.25, 1 / 3, 0.5]), st.integers(1, 7),
    st.sampled_from([(3, 1), (7, 15), (12, 31), (2, 28)]),
)
@settings(max_examples=80)
def test_no_day_of_an_unseen_year_is_planned_on(
    years: int, days: int, share: float, block: int, month_day: tuple[int, int]
) -> None:
    """Rule U1, told day by day: rain is the day number."""
    start = day_number(date(2027, *month_day))
    weather = members(numbered(1950, 1950 + years - 1), ORIGIN, SITE, start, days, present=False)
    try:
        planning, unseen, notes = split_unseen(weather, share, block)
    except BadRequest:
        assume(False)
    assert not set(planning.rain.ravel()) & set(unseen.rain.ravel())
    dropped = weather.years - planning.years - unseen.years
    assert f"; {dropped} {'was' if dropped == 1 else 'were'} dropped" in notes[0]
    assert planning.years >= 1
    assert unseen.years >= 1


def test_the_share_unseen_and_what_is_dropped() -> None:
    weather = members(numbered(1981, 2026), ORIGIN, SITE, MARCH, 540, present=False)
    planning, unseen, _ = split_unseen(weather)
    assert weather.years == 45
    assert unseen.labels[:5] == ("1991", "1992", "1993", "1994", "1995")
    assert unseen.years == 15
    # a year before each block and one after it share days; the last block ends the record
    assert planning.years == 30 - 5


def test_nothing_left_is_told() -> None:
    weather = members(numbered(1990, 1996), ORIGIN, SITE, MARCH, 770, present=False)
    with pytest.raises(BadRequest, match="too few"):
        split_unseen(weather)


def test_generated_weather_says_what_it_is() -> None:
    made = generated(normals("Far", 0, 60), SITE, MARCH, 100, 6, 3, 12.5, -30.0)
    assert made.origin.source == "station normals"
    assert made.origin.distance_km == 12.5
    assert any("dry spells" in note for note in made.origin.notes)
    assert any("stray was taken from" in note for note in made.origin.notes)
    mine = generated(normals("Mine", 0, 60), SITE, MARCH, 100, 6, 3, None, None)
    assert mine.origin.source == "typed normals"
    with pytest.raises(ValueError, match="another seed"):
        split_unseen(made)


def test_generated_light_is_under_clear_sky_on_the_right_days() -> None:
    made = generated(normals("Far", 0, 60), SITE, MARCH, 700, 20, 3, 12.5, None)
    assert (made.radiation <= clear_sky_radiation(SITE.lat, days_of_year(MARCH, 700), 70.0) + 1e-9).all()
