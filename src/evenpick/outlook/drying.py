"""Sowings whose drill dries out because nobody can water it (growth E3; docs/design/water.md, 20)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.soil.reference_et import as_measured, reference_et
from evenpick.soil.seedbed import DEADLY, bed_of, dries_untouched, open_ground, sprouted
from evenpick.soil.texture import Soil

if TYPE_CHECKING:
    from evenpick.outlook.setting import Setting

LETS_RAIN_IN = ("open", "fleece", "cloche")


@dataclass(frozen=True, slots=True)
class Unwatered:
    """Ground whose open drills nobody waters."""

    soil: Soil
    height: float
    """m above the sea"""


def dries_out(
    here: Setting, ground: Unwatered, lat: float, day_of_year: Floats, depth: float, sow: Ints, up: Ints
) -> Bools:
    """Which sowings dry out when they have sprouted and before they are up, (years, n), of sow days (n,) and
    of days up (years, n).

    The water of bare ground is followed once for a depth, so all sow days cost as much as one. Ground is
    taken to be full at the axis's start: drills of its first weeks look moister than they are.
    """
    key = ("bare ground", ground, depth)
    bed = bed_of(ground.soil, depth)
    upper: Floats = here.once(
        key, lambda: open_ground(here.air.rain, _et0(here, ground, lat, day_of_year), bed)[0]
    )
    return dries_untouched(
        upper, DEADLY * bed.dry, sprouted(sow[None, :], up), np.minimum(up, here.days)
    )


def _et0(here: Setting, ground: Unwatered, lat: float, day_of_year: Floats) -> Floats:
    air = here.air
    return here.once(("et0", ground.height), lambda: reference_et(
        air.tmin, air.tmax, air.radiation, lat, day_of_year, ground.height,
        *as_measured(air.tmin, air.tmax, air.vapour_pressure, air.wind)))
