"""How fast a crop grows: day-degrees, effective day-degrees, cold, day length (growth D1, D2, D5, D6).

Arrays have shape (years, days). Valid for temperatures of -40 to 50 °C. Left out: drought, nutrition,
crowding; expected error of a date is that of its thermal time, about 27 % before learning (O17).
"""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.crops.clock import hastened
from evenpick.crops.crop import Development
from evenpick.crops.signals import LongDay

# Eight equal steps through the day's temperature cosine fall on four temperatures, each met twice.
COSINE_STEPS = np.cos((np.arange(4) + 0.5) * np.pi / 4)


def day_degrees(tmin: Floats, tmax: Floats, growth: Development) -> Floats:
    """Day-degrees above `base`, none below it: rising to `optimum`, falling to nought at `ceiling`; where
    that is infinite they stay at their best.

    °C d per day; mean over eight points of a cosine between the day's minimum and maximum (D1).
    """
    mean, half = (tmin + tmax) / 2, (tmax - tmin) / 2
    peak, fall = _slopes(growth)
    total, at, falling = np.zeros_like(mean), np.empty_like(mean), np.full_like(mean, peak)
    for step in COSINE_STEPS:
        np.add(mean, np.multiply(half, step, out=at), out=at)
        if fall:
            np.multiply(np.subtract(growth.ceiling, at, out=falling), fall, out=falling)
        at -= growth.base
        total += np.maximum(np.minimum(at, falling, out=at), 0.0, out=at)
    total /= COSINE_STEPS.size
    return total


def _slopes(growth: Development) -> tuple[float, float]:
    """Most degrees that count, and how fast they fall from the optimum to the ceiling."""
    peak = growth.optimum - growth.base
    return peak, peak / (growth.ceiling - growth.optimum)


def growth_rate(tmin: Floats, tmax: Floats, radiation: Floats, growth: Development) -> Floats:
    """Effective day-degrees of each day: `effective` of its `day_degrees`."""
    loops = hastened()
    if loops is None:
        return effective(day_degrees(tmin, tmax, growth), radiation, growth.light)
    (peak, fall), found = _slopes(growth), np.empty(tmin.shape)
    given = (np.require(values, np.float64, ("C", "A", "W")) for values in (tmin, tmax, radiation))
    loops.growth(*given, growth.base, peak, growth.ceiling, fall, growth.light, COSINE_STEPS[None, :], found)
    return found


def effective(day_degrees: Floats, radiation: Floats, light: float) -> Floats:
    """Effective day-degrees: 1/EDD = 1/DD + b/R (scaife1987; growth D2); radiation MJ m⁻² d⁻¹ at the crop.

    No light, no growth: EDD is nought where R is.
    """
    denominator = radiation + light * day_degrees
    return np.divide(
        day_degrees * radiation, denominator, out=np.zeros_like(day_degrees), where=denominator > 0
    )


def long_day_weight(day_length: Floats, rule: LongDay) -> Floats:
    """How strongly the day's length drives bolting, `floor` to 1; shape (days,) (growth D5)."""
    return np.asarray(np.clip((day_length - rule.low) / (rule.high - rule.low), rule.floor, 1.0))


def cold_weight(tmean: Floats, below: float) -> Floats:
    """How far a day counts as cold: 1 at `below` − 1 °C and colder, 0 at `below` + 3 °C (growth D5)."""
    return np.asarray(np.clip((below + 3.0 - tmean) / 4.0, 0.0, 1.0))
