"""Pressure and moisture of the air as FAO-56 prints them (allen1998), with its equation numbers.

Elementwise over arrays that broadcast together; a NaN in gives a NaN out.
"""

from __future__ import annotations

from typing import TypeAlias

import numpy as np

from evenpick.base.arrays import Floats

Values: TypeAlias = Floats | float


def air_pressure(height: Values) -> Floats:
    """P, kPa (equation 7)."""
    return np.asarray(101.3 * ((293 - 0.0065 * height) / 293) ** 5.26)


def psychrometric_constant(pressure: Values) -> Floats:
    """γ, kPa per °C (equation 8)."""
    return np.asarray(0.665e-3 * pressure)


def saturation_pressure(temperature: Values) -> Floats:
    """e°(T), kPa (equation 11)."""
    t = np.asarray(temperature)
    return np.asarray(0.6108 * np.exp(17.27 * t / (t + 237.3)))


def vapour_pressure_slope(temperature: Values) -> Floats:
    """Δ, kPa per °C (equation 13)."""
    return np.asarray(4098 * saturation_pressure(temperature) / (np.asarray(temperature) + 237.3) ** 2)


def mean_saturation_pressure(tmin: Values, tmax: Values) -> Floats:
    """es, kPa (equation 12)."""
    return np.asarray((saturation_pressure(tmin) + saturation_pressure(tmax)) / 2)


def at_same_humidity(pressure: Floats, before: tuple[Floats, Floats], after: tuple[Floats, Floats]) -> Floats:
    """Vapour pressure, kPa, of days whose minimum and maximum, °C, are moved from `before` to `after`.

    Its share of es stays, own choice: that warming mostly leaves relative humidity as it is, is memory.
    """
    return np.asarray(pressure * (mean_saturation_pressure(*after) / mean_saturation_pressure(*before)))
