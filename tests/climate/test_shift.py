"""The same weather, warmer (docs/design/weather.md)."""

from __future__ import annotations

from datetime import date

import numpy as np

from evenpick.base.days import day_number
from evenpick.climate.shift import warmed
from evenpick.climate.site import Site
from evenpick.garden.garden import WeatherChoice
from evenpick.service.climate import weather_for
from evenpick.service.windows import windows

DUBLIN = Site("Dublin", 53.43, -6.24)


def test_only_temperatures_move_and_the_notes_say_so() -> None:
    weather = weather_for(DUBLIN, WeatherChoice(), day_number(date(2027, 1, 1)), 30, 1)
    warm = warmed(weather, 1.5)
    np.testing.assert_allclose(warm.tmin - weather.tmin, 1.5)
    np.testing.assert_allclose(warm.tmax - weather.tmax, 1.5)
    np.testing.assert_array_equal(warm.rain, weather.rain)
    np.testing.assert_array_equal(warm.radiation, weather.radiation)
    assert "+1.5 °C warmer" in warm.origin.notes[-1]
    assert warmed(weather, 0.0) is weather


def test_warmth_opens_the_spring_sooner() -> None:
    """Two degrees at Dublin: peas and beans may be sown at least a week sooner. The week is our own
    bound: April is 1.5 °C warmer there than March (packaged record)."""
    now = windows(DUBLIN, WeatherChoice(), ("pea", "dwarf bean"), ("open",), 2027)
    then = windows(DUBLIN, WeatherChoice(warmer=2.0), ("pea", "dwarf bean"), ("open",), 2027)
    opens = {row.crop: date(2027, *row.opens) for row in now.windows if row.purpose == "fresh"}
    sooner = {row.crop: date(2027, *row.opens) for row in then.windows if row.purpose == "fresh"}
    assert (opens["pea"] - sooner["pea"]).days >= 7
    assert (opens["dwarf-bean"] - sooner["dwarf-bean"]).days >= 7
