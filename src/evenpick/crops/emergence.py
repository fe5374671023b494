"""From seed to seedling (growth E1, E2; fitted to harrington1954).

Valid for moist seedbeds of 5 °C to the crop's optimum; a drill that dries is a thing apart. Expected error
(RMS against harrington1954) 0.6 d median over 18 crops, 2.3 to 3.0 d for parsnip, cauliflower and onion;
onion 6.5 d short at 5 °C. Near 0 °C far too slow, above the optimum flat where the real rate falls
(tests/crops/test_emergence.py).
"""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.crops.crop import Emergence


def emergence_rate(soil: Floats, emergence: Emergence) -> Floats:
    """°C d per day towards emergence: min(soil, optimum) − base, not below nought (E1)."""
    return np.asarray(np.clip(np.minimum(soil, emergence.optimum) - emergence.base, 0.0, None))


def emerged_share(days: Floats, soil_mean: Floats, emergence: Emergence) -> Floats:
    """Share of viable seed that comes up, 0 to 1: exp(−k·days)·√clip((ceiling − soil)/5, 0, 1) (E2)."""
    warmth = np.sqrt(np.clip((emergence.ceiling - soil_mean) / 5.0, 0.0, 1.0))
    return np.asarray(np.exp(-emergence.loss_per_day * days) * warmth)
