"""Temperature of the seedbed from the air and the sun (docs/design/covers.md, rules 7 to 9)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.climate.moist_air import air_pressure, psychrometric_constant, vapour_pressure_slope

MEMORY_DAYS = 2.5  # time constant of the filter
SUN_GAIN = 0.10  # °C per MJ m⁻² d⁻¹ above SUN_FROM
SUN_FROM = 4.0  # MJ m⁻² d⁻¹
EVAPORATION = 1.26  # of moist ground's, over that in balance with the air (priestley1972, stewart1977)
MEASURED_AT = 16.0  # °C: SUN_GAIN holds for air as warm as where it was held against measured soil
FREEZING_SHARE = 0.35  # below 0 °C the latent heat of the soil's water holds the cold off


def soil_temperature(tmean: Floats, radiation: Floats) -> Floats:
    """Daily mean soil temperature at 5 cm, °C.

    tmean (°C, daily mean of the air above) and radiation (MJ m⁻² d⁻¹ at the ground) have shape
    (..., days), consecutive days, nothing missing: a NaN makes every later day NaN. The filter starts
    from the mean of its first five days, whose influence is under 2 % after ten days.

    The sun's gain fades where the air is warmer than MEASURED_AT: of moist ground the more of the sun's heat
    goes into evaporation the warmer it is. Cold ground's own lag keeps it from growing where it is cooler.

    Valid for bare ground that is kept moist, as a drill is watered until it is up; dry ground in the sun is
    several °C warmer. Knows no soil type, slope, mulch or snow, and no dry wind. Expected error of a day
    about 1 to 2 °C (authorities/soil_temperature.md). Source: own form, memory; its fading priestley1972.
    """
    drive = tmean + SUN_GAIN * _fading(tmean) * np.maximum(radiation - SUN_FROM, 0.0)
    soil = _exponential_filter(drive, MEMORY_DAYS)
    return np.asarray(np.where(soil < 0.0, FREEZING_SHARE * soil, soil))


def _fading(tmean: Floats) -> Floats:
    """Share of the sun's gain that moist ground keeps in air warmer than MEASURED_AT, 0 to 1."""
    return np.clip(_warming(tmean) / _warming(np.array(MEASURED_AT)), 0.0, 1.0)


def _warming(tmean: Floats) -> Floats:
    """Share of the sun's heat left to warm the air over moist ground, at sea level."""
    slope = vapour_pressure_slope(tmean)
    return np.asarray(1.0 - EVAPORATION * slope / (slope + psychrometric_constant(air_pressure(0.0))))


def _exponential_filter(drive: Floats, days: float) -> Floats:
    """s[d] = w s[d-1] + (1-w) drive[d] with w = exp(-1/days), along the last axis.

    Exact, by doubling: after the step of length n each day holds the weighted sum of 2n days.
    """
    keep = np.exp(-1.0 / days)
    out: Floats = (1.0 - keep) * drive
    out[..., 0] += keep * drive[..., :5].mean(axis=-1)
    step = 1
    while step < out.shape[-1]:
        out[..., step:] += keep**step * out[..., :-step]
        step *= 2
    return out
