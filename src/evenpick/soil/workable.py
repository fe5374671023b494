"""When open ground can be worked (growth H7)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats

KEPT = 0.85  # share of surface wetness left after a day
TOO_WET = 8.0  # mm; 5 shut August at the Kapiti coast, when growers sow (authorities/calendars.md)
REACH = 5  # days either side of the wanted day


def surface_wetness(rain: Floats, et0: Floats) -> Floats:
    """Wetness of the surface, mm: A ← max(0, 0.85 A + rain − ET0); arrays (years, days) in mm d⁻¹.

    A rule of thumb, not a water balance; tuned on calendars in a prototype, not measured.
    """
    wet = np.empty_like(rain)
    state = np.zeros(rain.shape[0])
    for day in range(rain.shape[1]):
        state = np.maximum(0.0, KEPT * state + rain[:, day] - et0[:, day])
        wet[:, day] = state
    return wet


def workable(rain: Floats, et0: Floats) -> Bools:
    """Whether some day within five of each day was dry enough to sow; (years, days)."""
    dry = surface_wetness(rain, et0) < TOO_WET
    count = np.concatenate([np.zeros((dry.shape[0], 1)), np.cumsum(dry, axis=1)], axis=1)
    day = np.arange(dry.shape[1])
    last = np.minimum(day + REACH + 1, dry.shape[1])
    found: Bools = count[:, last] > count[:, np.maximum(day - REACH, 0)]
    return found
