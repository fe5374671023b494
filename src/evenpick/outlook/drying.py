"""Sowings whose drill dries out because nobody can water it (growth E3; docs/design/water.md, 20)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.climate.covers import UnderCover
from evenpick.climate.moist_air import Values
from evenpick.soil.reference_et import WIND_LEAST, as_measured, reference_et
from evenpick.soil.seedbed import DEADLY, bed_of, dries_untouched, open_ground, sprouted
from evenpick.soil.texture import Soil

if TYPE_CHECKING:
    from evenpick.outlook.setting import Setting

EVERY_DAY = slice(None)
LETS_RAIN_IN = ("open", "fleece", "cloche")


@dataclass(frozen=True, slots=True)
class Unwatered:
    """Ground whose open drills nobody waters."""

    soil: Soil
    height: float
    """m above the sea"""


def damp_and_wind(air: UnderCover, cover: CoverName, here: slice = EVERY_DAY) -> tuple[Floats, Values]:
    """Vapour pressure, kPa, and wind at 2 m, m s⁻¹, of days under a cover: as measured under open sky; under
    anything else nothing measured tells it, and the air is all but still (water.md, 6)."""
    ea, wind = as_measured(
        air.tmin[:, here], air.tmax[:, here], *(None if every is None else every[:, here]
                                                for every in (air.vapour_pressure, air.wind))
    )
    return ea, wind if cover == "open" else WIND_LEAST


def dries_out(
    here: Setting, cover: CoverName, ground: Unwatered, lat: float, day_of_year: Floats, depth: float,
    sow: Ints, up: Ints, alive: Ints,
) -> Bools:
    """Which sowings dry out when they have sprouted and before they are up, (years, n), of sow days (n,) and
    of days up (years, n); not before the day on which they were `alive` (years, n).

    The water of bare ground is followed once for a depth, so all sow days cost as much as one. Ground is
    taken to be full at the axis's start: drills of its first weeks look moister than they are.
    """
    key = ("bare ground", ground, depth)
    bed = bed_of(ground.soil, depth)
    upper: Floats = here.once(
        key, lambda: open_ground(here.air.rain, _et0(here, cover, ground, lat, day_of_year), bed)[0]
    )
    return dries_untouched(
        upper, DEADLY * bed.dry, np.maximum(sprouted(sow[None, :], up), alive), np.minimum(up, here.days)
    )


def _et0(here: Setting, cover: CoverName, ground: Unwatered, lat: float, day_of_year: Floats) -> Floats:
    air = here.air
    return here.once(("et0", ground.height), lambda: reference_et(
        air.tmin, air.tmax, air.radiation, lat, day_of_year, ground.height,
        *damp_and_wind(air, cover)))
