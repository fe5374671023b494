"""Units and heights of the weather services, brought to those of `DailySeries`."""

from __future__ import annotations

import math

KNOT = 1852 / 3600  # m s⁻¹
J_PER_CM2 = 0.01  # MJ m⁻²
WIND_MOVED = "wind brought from 10 m to 2 m above short grass (FAO-56 equation 47)"
WIND_ALONE = "its wind is not used, for it does not say how damp the air was: 2 m/s is taken"


def celsius(fahrenheit: float) -> float:
    """°C from °F (exact by definition)."""
    return (fahrenheit - 32) / 1.8


def millimetres(inches: float) -> float:
    """mm from inches (exact by definition)."""
    return inches * 25.4


def wind_at_2m(speed: float, height: float = 10.0) -> float:
    """Wind speed at 2 m, m s⁻¹, from that at `height` m (allen1998, equation 47).

    Valid over short grass for heights of some metres; over tall crops or in shelter it is only a guess.
    """
    return speed * 4.87 / math.log(67.8 * height - 5.42)


def vapour_pressure(temperature: float, humidity: float) -> float:
    """Actual vapour pressure, kPa, from the day's mean temperature, °C, and mean humidity, %.

    allen1998, equation 11, at the mean of 24 hours. Against monthly means of De Bilt in the CLIMAT
    reports of 2003 to 2021 it is within 0.05 kPa; FAO-56's equation 19 (mean of both extremes) is up
    to 0.13 kPa too moist there, as humidity falls when the day warms.
    """
    return humidity / 100 * 0.6108 * math.exp(17.27 * temperature / (temperature + 237.3))
