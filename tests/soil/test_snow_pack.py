"""Snow as water: none is lost or made, whatever falls (docs/design/covers.md, 11)."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from evenpick.base.arrays import Floats
from evenpick.soil.snow import night_under_snow
from evenpick.soil.workable import YEAR, snow_and_water

DAYS = 40
RAIN = arrays(np.float64, (2, DAYS), elements=st.one_of(st.just(0.0), st.floats(0.0, 80.0)))
TMEAN = arrays(np.float64, (2, DAYS), elements=st.floats(-30.0, 30.0))


@settings(max_examples=300)
@given(RAIN, TMEAN)
def test_what_falls_lies_or_reaches_the_ground(rain: Floats, tmean: Floats) -> None:
    """Days on which all fell as snow were told as a hair less than nothing on the ground."""
    lying, water = snow_and_water(rain, tmean)
    assert (lying >= 0.0).all()
    assert (water >= 0.0).all()
    assert np.allclose(water.sum(axis=1) + lying[:, -1], rain.sum(axis=1))


@settings(max_examples=100)
@given(st.integers(0, 364), st.floats(0.1, 60.0))
def test_a_year_that_comes_again_begins_with_the_snow_it_ends_with(day: int, mm: float) -> None:
    """A fall in a year of lasting frost lies on the first day, as much as a year later."""
    rain = np.zeros((1, YEAR + 40))
    rain[0, day] = mm
    lying, water = snow_and_water(rain, np.full(rain.shape, -5.0))
    assert lying[0, 0] >= mm
    assert (water == 0.0).all()


@settings(max_examples=300)
@given(st.floats(-40.0, 20.0), st.tuples(st.floats(0, 400), st.floats(0, 400)),
       st.tuples(st.floats(0, 1), st.floats(0, 1)))
def test_more_snow_shelters_no_less_and_a_higher_bud_no_more(
    tmin: float, waters: tuple[float, float], heights: tuple[float, float]
) -> None:
    def felt(water: float, height: float) -> float:
        return float(night_under_snow(np.array([[tmin]]), np.array([[water]]), height)[0, 0])

    (less, more), (low, high) = sorted(waters), sorted(heights)
    assert min(tmin, 0.0) - 1e-12 <= felt(less, low) <= felt(more, low) + 1e-12
    assert felt(less, high) <= felt(less, low) + 1e-12
    assert (felt(less, low) <= 0.0) == (tmin <= 0.0)
