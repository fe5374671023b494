"""A grower's own readings against the station (climate/own_readings.py)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenpick.base.chance import stream
from evenpick.base.errors import BadRequest
from evenpick.climate.own_readings import NORMAL, PRIOR_SD, SAME_DAY, Reading, own_shift


def test_no_reading_moves_nothing() -> None:
    shift = own_shift([], np.array([]), np.array([]))
    assert (shift.tmin.shift, shift.tmax.shift) == (0.0, 0.0)
    assert shift.tmin.sd == PRIOR_SD


def test_one_reading_by_hand() -> None:
    """Normal prior and normal error (gelman2013, section 2.5): 2 °C below × 1.2² / (1.2² + 1.5²) = −0.78."""
    shift = own_shift([Reading(100, tmin=3.0)], np.array([5.0]), np.array([12.0]))
    assert shift.tmin.shift == pytest.approx(-2.0 * 1.44 / (1.44 + 2.25), abs=1e-4)
    assert shift.tmin.sd == pytest.approx((1 / 1.44 + 1 / 2.25) ** -0.5, abs=1e-4)
    assert shift.tmax.shift == 0.0
    assert shift.tmax.readings == 0


def test_days_far_apart_count_whole_and_days_running_less() -> None:
    """Four readings far apart are as one with a quarter of the variance."""
    expected = np.full(4, 5.0)
    apart = own_shift([Reading(d, tmin=4.0) for d in (0, 100, 200, 300)], expected, expected)
    running = own_shift([Reading(d, tmin=4.0) for d in range(4)], expected, expected)
    assert apart.tmin.shift == pytest.approx(-1.44 / (1.44 + 2.25 / 4), abs=1e-3)
    assert -1.0 < apart.tmin.shift < running.tmin.shift < 0.0


def test_the_normal_of_the_season_says_less_than_the_station_of_the_day() -> None:
    days = [Reading(d, tmax=22.0) for d in range(30)]
    expected = np.full(30, 20.0)
    vague, sharp = (own_shift(days, expected, expected, scatter).tmax for scatter in (NORMAL, SAME_DAY))
    assert vague.shift < sharp.shift


def test_a_true_shift_is_found_from_a_season_of_readings() -> None:
    """Errors drawn from the scatter assumed: within three sd of −1.5 °C, and surer the more there are."""
    noise, random, day = 0.0, stream(5, "own readings"), np.arange(200)
    errors = []
    for _ in day:
        fresh = float(random.normal(0, SAME_DAY.sd * (1 - SAME_DAY.kept**2) ** 0.5))
        noise = SAME_DAY.kept * noise + fresh
        errors.append(noise)
    expected = np.full(200, 6.0)
    readings = [Reading(int(d), tmin=6.0 - 1.5 + e) for d, e in zip(day, errors, strict=True)]
    few, many = (own_shift(readings[:n], expected[:n], expected[:n]).tmin for n in (5, 200))
    assert abs(many.shift + 1.5) < 3 * many.sd
    assert many.sd < few.sd / 2


def test_a_slip_of_the_unit_is_told() -> None:
    with pytest.raises(BadRequest, match="a maximum of 68 °C"):
        own_shift([Reading(20_000, tmax=68.0)], np.array([10.0]), np.array([20.0]))


READ = st.tuples(st.integers(0, 400), st.floats(-10, 10))


@given(st.lists(READ, min_size=1, max_size=30, unique_by=lambda read: read[0]))
def test_the_shift_never_goes_beyond_what_was_read(read: list[tuple[int, float]]) -> None:
    expected = np.zeros(len(read))
    shift = own_shift([Reading(d, tmin=value) for d, value in read], expected, expected)
    assert abs(shift.tmin.shift) <= max(abs(value) for _, value in read) + 1e-6
