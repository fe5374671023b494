"""Trend in temperature: known slopes, chance, and a library's Theil-Sen and Kendall. Rules T1 to T5."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from scipy.stats import kendalltau, theilslopes

from evenpick.base.days import day_number
from evenpick.climate.records import packaged_record
from evenpick.climate.series import DailySeries
from evenpick.climate.trend import annual_means, median_slope, rank_confidence, remove_trend


def record(first: int, last: int, slope: float, noise: float = 0.3) -> DailySeries:
    """A made record with a slope in °C a year and independent annual noise."""
    start, end = day_number(date(first, 1, 1)), day_number(date(last + 1, 1, 1))
    days = np.arange(end - start)
    chance = np.random.default_rng(5)
    yearly = np.repeat(chance.normal(0, noise, last - first + 2), 366)[: days.size]
    mean = 10 + slope * days / 365.25 + yearly
    empty = np.full(days.size, np.nan)
    return DailySeries(start, mean - 4, mean + 4, np.ones(days.size), empty, empty, empty, empty)


@pytest.mark.parametrize("seed", range(5))
def test_slope_and_rank_test_agree_with_scipy(seed: int) -> None:
    chance = np.random.default_rng(seed)
    years = np.arange(1981.0, 2021.0)
    means = 0.02 * years + chance.normal(0, 0.5, 40)
    assert median_slope(years, means) == pytest.approx(theilslopes(means, years).slope)
    library = 1 - kendalltau(years, means, method="asymptotic").pvalue
    assert rank_confidence(means) == pytest.approx(library, abs=0.02)  # ours is corrected for continuity


def test_a_known_trend_is_taken_out_to_the_last_year() -> None:
    series, notes = remove_trend(record(1981, 2020, 0.04), 2030)
    years, means = annual_means(series)
    assert abs(median_slope(years, means)) < 0.004
    _, before = annual_means(record(1981, 2020, 0.04))
    assert means[-1] == pytest.approx(before[-1], abs=0.01)
    assert "per decade" in notes[0]
    assert "2020" in notes[0]


def test_the_level_is_the_present_year_inside_the_record() -> None:
    raw = record(1981, 2020, 0.04)
    _, before = annual_means(raw)
    years, means = annual_means(remove_trend(raw, 2000)[0])
    assert means[years == 2000][0] == pytest.approx(before[years == 2000][0], abs=0.01)


def test_chance_is_left_alone() -> None:
    raw = record(1981, 2020, 0.0)
    series, notes = remove_trend(raw, 2027)
    assert series is raw
    assert "chance" in notes[0]


def test_short_records_are_left_alone() -> None:
    raw = record(2005, 2020, 0.1)
    series, notes = remove_trend(raw, 2027)
    assert series is raw
    assert "16 complete years" in notes[0]


def test_years_with_missing_days_do_not_count() -> None:
    raw = record(1981, 2020, 0.04)
    raw.tmin[400] = np.nan
    years, _ = annual_means(raw)
    assert 1982 not in years
    assert years.size == 39


def test_range_of_a_day_and_rain_are_untouched() -> None:
    raw = record(1981, 2020, 0.04)
    series, _ = remove_trend(raw, 2027)
    np.testing.assert_allclose(series.tmax - series.tmin, raw.tmax - raw.tmin)
    np.testing.assert_array_equal(series.rain, raw.rain)


def test_de_bilt_has_warmed() -> None:
    """Packaged record (KNMI 260, 1980 to 2019): the Netherlands warmed by 0.3 to 0.5 °C a decade (memory)."""
    years, means = annual_means(packaged_record("de_bilt")[0])
    assert years.size == 40
    assert 0.2 < 10 * median_slope(years, means) < 0.6
    assert rank_confidence(means) > 0.99
