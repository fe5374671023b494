"""Day-degrees, light, cold and day length (growth D1, D2, D5), and the hazards (H2, H3)."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from evenpick.base.arrays import Floats
from evenpick.crops import clock
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Development
from evenpick.crops.development import cold_weight, day_degrees, effective, growth_rate, long_day_weight
from evenpick.crops.hazards import heat_quality, next_frost
from evenpick.crops.signals import LongDay

COOL = Development(base=3.0, optimum=20.0, ceiling=30.0, light=0.4)
SHAPES = sorted({crop.development for crop in load_catalogue().crops}, key=repr)
CLOCK_FACE = np.cos(2 * np.pi * (np.arange(20_000) + 0.5) / 20_000)


def row(*values: float) -> Floats:
    return np.array([values], dtype=np.float64)


def fine_integral(tmin: float, tmax: float, growth: Development) -> float:
    """The same rule on 20,000 points of the day's cosine."""
    t = (tmin + tmax) / 2 + (tmax - tmin) / 2 * CLOCK_FACE
    peak = growth.optimum - growth.base
    fall = peak * (growth.ceiling - t) / (growth.ceiling - growth.optimum)
    return float(np.clip(np.minimum(t - growth.base, fall), 0, None).mean())


@settings(max_examples=300)
@given(st.floats(-20, 30), st.floats(0.8, 25), st.sampled_from(SHAPES))
def test_eight_points_stand_for_the_whole_day(tmin: float, span: float, growth: Development) -> None:
    """Within 3 % of the day's range, times the steeper of the rule's slopes: the error at its corners."""
    got = float(day_degrees(row(tmin), row(tmin + span), growth)[0, 0])
    steepest = max(1.0, (growth.optimum - growth.base) / (growth.ceiling - growth.optimum))
    fine = fine_integral(tmin, tmin + span, growth)
    assert got == pytest.approx(fine, abs=0.03 * span * steepest + 1e-3)


def test_eight_points_over_all_days_hardly_err() -> None:
    tmin, tmax = (a.ravel()[None, :] for a in np.meshgrid(np.arange(-10, 25, 0.5), np.arange(5, 38, 0.5)))
    warm = (tmax[0] > tmin[0]) & (tmax[0] - tmin[0] <= 20)  # °C: days as wide as they come
    got = day_degrees(tmin, tmax, COOL)[0, warm]
    fine = [fine_integral(a, b, COOL) for a, b in zip(tmin[0, warm], tmax[0, warm], strict=True)]
    error = got - np.array(fine)
    assert abs(error.mean()) < 0.02
    assert error.std() < 0.12


@pytest.mark.parametrize(
    ("temperature", "degrees"), [(-5, 0), (3, 0), (10, 7), (20, 17), (25, 8.5), (30, 0), (40, 0)]
)
def test_corners_of_the_rule(temperature: float, degrees: float) -> None:
    assert day_degrees(row(temperature), row(temperature), COOL)[0, 0] == pytest.approx(degrees)


@given(st.floats(0.1, 20), st.floats(0.1, 35), st.floats(0.05, 0.6))
def test_effective_day_degrees_lie_below_both_limits(dd: float, light: float, b: float) -> None:
    edd = float(effective(row(dd), row(light), b)[0, 0])
    assert 0 < edd < min(dd, light / b)
    assert 1 / edd == pytest.approx(1 / dd + b / light)


def test_effective_day_degrees_at_the_limits() -> None:
    """Much light: warmth alone; much warmth: light alone (R / b); none of either: nothing."""
    assert effective(row(10), row(1e9), 0.4)[0, 0] == pytest.approx(10)
    assert effective(row(1e9), row(8), 0.4)[0, 0] == pytest.approx(20)
    assert effective(row(10, 0, 0), row(0, 5, 0), 0.4).tolist() == [[0, 0, 0]]
    assert effective(row(10), row(8), 0.0)[0, 0] == pytest.approx(10)


def test_long_day_weight_by_hand() -> None:
    rule = LongDay(low=12.0, high=16.0, floor=0.1, total=500.0)
    got = long_day_weight(np.array([8.0, 12.0, 12.4, 14.0, 16.0, 24.0]), rule)
    assert got == pytest.approx([0.1, 0.1, 0.1, 0.5, 1.0, 1.0])


def test_cold_weight_by_hand() -> None:
    assert cold_weight(np.array([-9.0, 9.0, 10.0, 11.0, 13.0, 20.0]), 10.0) == pytest.approx(
        [1.0, 1.0, 0.75, 0.5, 0.0, 0.0]
    )


def test_next_frost_by_hand() -> None:
    """The first day from each day, itself included, that is colder than the limit, not just as cold."""
    tmin = np.array([[5.0, -2.0, 1.0, -3.0, 4.0], [5.0, 5.0, 5.0, 5.0, 5.0]])
    assert next_frost(tmin, -2.0).tolist() == [[3, 3, 3, 3, 5, 5], [5] * 6]
    assert next_frost(tmin, -1.9).tolist() == [[1, 1, 3, 3, 5, 5], [5] * 6]


def test_heat_quality() -> None:
    """A half at the limit, 0.9 °C of scale (H3): 1/(1 + e) one scale above it."""
    got = heat_quality(row(20.0, 20.9, 19.1, -40.0, 60.0), 20.0)[0]
    assert got == pytest.approx([0.5, 1 / (1 + np.e), np.e / (1 + np.e), 1.0, 0.0], abs=1e-9)
    assert np.isfinite(heat_quality(row(-1e6, 1e6), 20.0)).all()


@settings(max_examples=100, deadline=None)
@given(
    arrays(np.float64, (3, 2, 40), elements=st.floats(-40, 50)),
    st.sampled_from([*SHAPES, *(replace(shape, ceiling=inf) for shape in SHAPES[:3])]),
)
def test_loops_find_the_same_growth_to_the_bit(weather: Floats, growth: Development) -> None:
    """Without light, in dark frost, past the ceiling and where heat costs nothing too."""
    tmin, light = np.minimum(weather[0], weather[1]), np.maximum(weather[2], 0.0)
    tmax = np.maximum(weather[0], weather[1])
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(clock, "_loops", None)
        plain = growth_rate(tmin, tmax, light, growth)
        clock.hasten()
        assert growth_rate(tmin, tmax, light, growth).tobytes() == plain.tobytes()
