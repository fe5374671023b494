"""Temperature of the seedbed from the air and the sun (docs/design/covers.md, rules 7 to 9)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats

MEMORY_DAYS = 2.5  # time constant of the filter
SUN_GAIN = 0.10  # °C per MJ m⁻² d⁻¹ above SUN_FROM
SUN_FROM = 4.0  # MJ m⁻² d⁻¹
FREEZING_SHARE = 0.35  # below 0 °C the latent heat of the soil's water holds the cold off


def soil_temperature(tmean: Floats, radiation: Floats) -> Floats:
    """Daily mean soil temperature at 5 cm, °C.

    tmean (°C, daily mean of the air above) and radiation (MJ m⁻² d⁻¹ at the ground) have shape
    (..., days), consecutive days, nothing missing: a NaN makes every later day NaN. The filter starts
    from the mean of its first five days, whose influence is under 2 % after ten days.

    Valid for bare moist soil in temperate climates. Knows no soil type, wetness, slope, mulch or snow.
    Expected error of a day about 1 to 2 °C (authorities/soil_temperature.md). Source: own form, memory.
    """
    drive = tmean + SUN_GAIN * np.maximum(radiation - SUN_FROM, 0.0)
    soil = _exponential_filter(drive, MEMORY_DAYS)
    return np.asarray(np.where(soil < 0.0, FREEZING_SHARE * soil, soil))


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
