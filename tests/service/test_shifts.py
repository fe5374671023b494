"""A warmer climate beside today's, and the place's own trend (docs/design/weather.md, M6 and T)."""

from __future__ import annotations

import pytest

from evenpick.climate.site import Site
from evenpick.garden.garden import WeatherChoice
from evenpick.service.shifts import beside, own_trend

HERE = Site("here", 50.0, 10.0)


def test_one_and_two_degrees_and_the_trend_twenty_years_on() -> None:
    """Philadelphia Airport (GHCN-Daily) warmed by 0.3 to 0.5 °C a decade since 1981, beyond chance."""
    choice = WeatherChoice(packaged="philadelphia")
    then, trend = beside(HERE, choice, lambda other: other.warmer)
    slope = own_trend(HERE, choice)
    assert trend
    assert slope == pytest.approx(0.4, abs=0.15)
    assert [(one.degrees, one.trend, one.answer) for one in then] == [
        (1.0, False, 1.0), (2.0, False, 2.0), (round(2 * slope, 1), True, round(2 * slope, 1))]


def test_no_trend_is_made_up() -> None:
    """Dublin Airport's could be chance; monthly figures have none."""
    for choice in (WeatherChoice(packaged="dublin_airport"), WeatherChoice()):
        then, trend = beside(HERE, choice, lambda other: other.warmer)
        assert not trend
        assert [one.degrees for one in then] == [1.0, 2.0]
