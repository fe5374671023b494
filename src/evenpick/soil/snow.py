"""What snow keeps from the cold: the nights that a bud at the ground feels under it (covers.md, 11)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats

DEPTH = 0.4  # cm of lying snow a mm of its water, at 250 kg m⁻³ (sturm2010)
DEEP = 15.0  # cm: more than this shelters no better (wofost)
LEAST, MORE = 0.2, 0.5  # of the air's frost: what comes to a crown under deep snow, and without (wofost)


def night_under_snow(tmin: Floats, water: Floats, height: float) -> Floats:
    """The day's minimum, °C, as bare air would have to be to chill a bud as it is chilled there; arrays
    (years, days).

    Under `water` mm lying as snow, the bud `height` m above the ground: what snow stands over it counts.
    Frost at the crown is the air's × (0.2 + 0.5 (1 − depth/15 cm)²); kill temperatures are of bare ground,
    where 0.7 of it comes there. Left out: ice, drifting, settling, how long the cold lasts, and rot.
    """
    over = np.clip(DEPTH * water - 100.0 * height, 0.0, DEEP) / DEEP
    reaches = (LEAST + MORE * (1.0 - over) ** 2) / (LEAST + MORE)
    return np.asarray(np.where(tmin < 0.0, tmin * reaches, tmin))
