"""The generator against its own promises, Dublin's record, and hard places. Rules: docs/design/weather.md."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from math import sqrt
from time import process_time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenpick.base.days import day_number, months
from evenpick.climate.daylight import (
    clear_sky_radiation,
    extraterrestrial_radiation,
    radiation_from_sunshine,
)
from evenpick.climate.generator import autoregression, generate, wet_days
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals
from evenpick.climate.records import packaged_record
from evenpick.climate.seasonal import DAYS_OF_CYCLE, cycle, cycle_days, month_means, positive_cycle
from evenpick.climate.variability import amplitudes, mean_share

JANUARY = day_number(date(2027, 1, 1))
MONTHS = months(JANUARY, 365)

# Dublin Airport, rounded from the packaged record (Met Éireann, CC BY 4.0)
DUBLIN = MonthlyNormals(
    "Dublin", 53.43, -6.24, 71,
    np.array([2.4, 2.3, 3.0, 4.2, 6.6, 9.2, 11.2, 11.1, 9.5, 7.1, 4.5, 2.9]),
    np.array([8.1, 8.4, 10.0, 12.1, 14.9, 17.6, 19.5, 19.2, 17.0, 13.6, 10.3, 8.4]),
    np.array([62.0, 49, 51, 52, 58, 62, 56, 72, 60, 80, 76, 73]),
    np.array([12.3, 10.4, 10.8, 10.2, 10.9, 10.0, 10.2, 11.4, 9.8, 11.9, 11.9, 12.4]),
)


def constant(tmin: float, tmax: float, rain: float, wet: float, lat: float) -> MonthlyNormals:
    return MonthlyNormals("flat", lat, 0.0, 10.0, *(np.full(12, value) for value in (tmin, tmax, rain, wet)))


def monthly(daily: np.ndarray) -> np.ndarray:
    return np.array([daily[:, month == MONTHS].mean() for month in range(1, 13)])


def test_interpolation_keeps_the_means_of_months() -> None:
    values = np.array([3.0, -7.0, 2.0, 9.0, 4.0, 4.0, 11.0, 0.0, -3.0, 8.0, 8.0, 1.0])
    np.testing.assert_allclose(month_means(cycle(values)), values, atol=1e-9)
    assert np.abs(np.diff(np.append(cycle(values), cycle(values)[0]))).max() < 1.5


def test_interpolation_finds_a_cosine_again() -> None:
    season = 10 - 10 * np.cos(2 * np.pi * (DAYS_OF_CYCLE - 15) / 365)
    assert np.abs(cycle(month_means(season)) - season).max() < 0.05


@given(st.lists(st.floats(0, 300), min_size=12, max_size=12))
@settings(max_examples=50)
def test_positive_interpolation_stays_positive_and_keeps_dry_months_dry(values: list[float]) -> None:
    daily = positive_cycle(np.array(values))
    assert (daily >= 0).all()
    np.testing.assert_allclose(month_means(daily), values, rtol=1e-9, atol=1e-9)


def test_a_leap_day_takes_the_day_before() -> None:
    places = cycle_days(day_number(date(2028, 2, 27)), 5)
    assert places.tolist() == [57, 58, 58, 59, 60]


def test_wet_chain_has_the_transitions_of_geng_1986() -> None:
    chance = np.random.default_rng(1).random((4000, 50))
    wet = wet_days(np.full(4000, 0.3), chance)
    before, after = wet[:-1], wet[1:]
    assert wet.mean() == pytest.approx(0.3, abs=0.005)
    assert after[~before].mean() == pytest.approx(0.75 * 0.3, abs=0.005)
    assert after[before].mean() == pytest.approx(0.25 + 0.75 * 0.3, abs=0.01)


def test_variance_of_a_mean_of_an_autoregression() -> None:
    parts = autoregression(np.random.default_rng(2).standard_normal((30, 1, 40000)), np.array([0.7]))
    assert parts.var() == pytest.approx(1.0, abs=0.02)
    assert parts.mean(axis=0).var() == pytest.approx(mean_share(0.7, 30), rel=0.04)


def test_months_come_back_as_the_normals() -> None:
    tmin, tmax, rain, _ = generate(DUBLIN, 53.43, JANUARY, 365, 400, 7)
    np.testing.assert_allclose(monthly(tmin), DUBLIN.tmin, atol=0.1)
    np.testing.assert_allclose(monthly(tmax), DUBLIN.tmax, atol=0.1)
    np.testing.assert_allclose(monthly(rain) * DAYS_IN_MONTH, DUBLIN.rain_mm, rtol=0.08)
    np.testing.assert_allclose(monthly(1.0 * (rain >= 1)) * DAYS_IN_MONTH, DUBLIN.wet_days, atol=0.5)


def test_known_spread_comes_back() -> None:
    daily, between = np.full(12, 3.0), np.full(12, 1.4)
    normals = replace(DUBLIN, sd_daily_tmean=daily, interannual_sd_tmean=between)
    tmin, tmax, *_ = generate(normals, 53.43, JANUARY, 365, 600, 7)
    mean = (tmin + tmax) / 2
    parts = [mean[:, month == MONTHS] for month in range(1, 13)]
    within = np.array([sqrt((part.std(axis=1, ddof=1) ** 2).mean()) for part in parts])
    np.testing.assert_allclose(within, daily, rtol=0.06)
    np.testing.assert_allclose([part.mean(axis=1).std(ddof=1) for part in parts], between, rtol=0.12)


def test_amplitudes_split_the_given_variance() -> None:
    normals = replace(DUBLIN, sd_daily_tmean=np.full(12, 3.0), interannual_sd_tmean=np.full(12, 1.5))
    none = np.zeros(12)
    found = amplitudes(normals, none, none, none)
    fast = (found.fast_min**2 + found.fast_max**2 + 2 * found.shared * found.fast_min * found.fast_max) / 4
    slow = ((found.slow_min + found.slow_max) / 2) ** 2
    a, b = mean_share(0.70, 30), mean_share(np.exp(-1 / 30), 30)
    np.testing.assert_allclose(a * fast + b * slow + found.year**2, 1.5**2, rtol=1e-6)
    drift = (np.roll(DUBLIN.tmin + DUBLIN.tmax, -1) - np.roll(DUBLIN.tmin + DUBLIN.tmax, 1)) / 4
    np.testing.assert_allclose((1 - a) * fast + (1 - b) * slow, 9 * 29 / 30 - drift**2 / 12, rtol=1e-6)


def test_radiation_keeps_the_mean_of_sunshine_and_the_clear_sky() -> None:
    sunshine = np.array([59.0, 75, 109, 160, 194, 180, 165, 158, 129, 104, 72, 53])
    normals = replace(DUBLIN, sunshine_h=sunshine)
    *_, light = generate(normals, 53.43, JANUARY, 365, 400, 7)
    toa = extraterrestrial_radiation(53.43, DAYS_OF_CYCLE)
    hours = positive_cycle(sunshine / DAYS_IN_MONTH)
    wanted = month_means(radiation_from_sunshine(hours, 53.43, DAYS_OF_CYCLE))
    np.testing.assert_allclose(monthly(light), wanted, rtol=0.04)
    assert (light <= clear_sky_radiation(53.43, DAYS_OF_CYCLE, 71.0) + 1e-9).all()
    assert (light > 0).all()
    assert (toa > light.max(axis=0)).all()


@pytest.mark.parametrize(
    ("normals", "lat"),
    [
        (constant(22, 31, 200, 15, 0.3), 0.3),
        (constant(-30, -25, 0, 0, 78.2), 78.2),
        (constant(10, 35, 0.5, 0.2, -23.0), -23.0),
        (constant(2, 6, 250, 28, -54.8), -54.8),
        (constant(-40, -38, 3, 6, -90.0), -90.0),
    ],
)
def test_hard_places(normals: MonthlyNormals, lat: float) -> None:
    tmin, tmax, rain, light = generate(normals, lat, JANUARY, 770, 40, 3)
    for values in (tmin, tmax, rain, light):
        assert values.shape == (40, 770)
        assert np.isfinite(values).all()
    assert (tmax - tmin >= 0.8 - 1e-9).all()
    assert (rain >= 0).all()
    assert (light >= 0).all()
    toa = extraterrestrial_radiation(lat, DAYS_OF_CYCLE)
    assert (light[:, :365][:, toa == 0] == 0).all()
    total = rain.sum(axis=1).mean() / 770 * 365
    assert total == pytest.approx(normals.rain_mm.sum(), rel=0.12, abs=3)


def test_same_seed_same_weather_other_seed_other_weather() -> None:
    one, again = (generate(DUBLIN, 53.43, JANUARY, 50, 5, 11) for _ in range(2))
    other = generate(DUBLIN, 53.43, JANUARY, 50, 5, 12)
    for first, second, third in zip(one, again, other, strict=True):
        np.testing.assert_array_equal(first, second)
        assert not np.array_equal(first, third)


def test_sixty_members_of_two_years_in_three_tenths_of_a_second() -> None:
    generate(DUBLIN, 53.43, JANUARY, 10, 2, 1)
    begin = process_time()
    generate(DUBLIN, 53.43, JANUARY, 770, 60, 1)
    assert process_time() - begin < 0.3


def test_dublins_odd_years_from_its_even_years() -> None:
    """Source: the packaged record (Met Éireann). The study behind the bars is authorities/generator.md."""
    series, _ = packaged_record("dublin_airport")
    years = np.arange(1981, 2025)
    starts = np.array([day_number(date(year, 1, 1)) for year in years]) - series.start
    rows = starts[:, None] + np.arange(365)
    tmin, tmax, rain = series.tmin[rows], series.tmax[rows], series.rain[rows]
    even = years % 2 == 0

    def means(values: np.ndarray) -> np.ndarray:
        return np.stack([values[:, month == MONTHS].mean(axis=1) for month in range(1, 13)], axis=1)

    mean = means((tmin + tmax)[even] / 2)
    within = np.array([
        sqrt((((tmin + tmax) / 2)[even][:, month == MONTHS].std(axis=1, ddof=1) ** 2).mean())
        for month in range(1, 13)
    ])
    normals = MonthlyNormals(
        "even years", 53.43, -6.24, 71.0, means(tmin[even]).mean(axis=0), means(tmax[even]).mean(axis=0),
        means(rain[even]).mean(axis=0) * DAYS_IN_MONTH,
        means(1.0 * (rain[even] >= 1)).mean(axis=0) * DAYS_IN_MONTH, sd_daily_tmean=within,
        interannual_sd_tmean=mean.std(axis=0, ddof=1),
    )
    made_min, made_max, made_rain, _ = generate(normals, 53.43, JANUARY, 365, 60, 5)
    warmth = [np.maximum((low + high) / 2 - 5, 0).sum(axis=1)
              for low, high in ((made_min, made_max), (tmin[~even], tmax[~even]))]
    assert warmth[0].mean() == pytest.approx(warmth[1].mean(), rel=0.04)
    assert 0.6 < warmth[0].std() / warmth[1].std() < 1.7
    last = [182 - (low[:, :182] < 0)[:, ::-1].argmax(axis=1) for low in (made_min, tmin[~even])]
    assert abs(np.median(last[0]) - np.median(last[1])) <= 10
    assert (made_rain >= 1).mean() == pytest.approx((rain[~even] >= 1).mean(), rel=0.08)
    assert made_rain.mean() == pytest.approx(rain[~even].mean(), rel=0.08)
