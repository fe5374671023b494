"""Crops for a season, not full grown when growth stands still, are picked at the size they have (O19)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.crops.crop import Crop, Purpose
from evenpick.outlook.season import SEASONAL, standstill
from evenpick.outlook.setting import Setting
from evenpick.outlook.stages import Start

SIZE_POWER = 4.0  # of the share of the thermal time that was had: the weight (brewster2008, table 4.8; O19)
LEAST_SIZE = 0.4  # of a full crop: what is smaller is left to grow on


def at_its_size(
    crop: Crop, purpose: Purpose, here: Setting, begun: Start, sow: Ints, thermal_time: Floats, due: Ints
) -> tuple[Ints, Floats]:
    """First picking, and the share of a full crop that it then is, 0 to 1; both (years, n).

    `due`: first picking at full size; thermal_time (years, 1). What is not full grown at the standstill is
    picked then, if it is 0.4 of a full crop by weight; what is smaller grows on to its full size in spring.
    Valid for what is taken whole and good at any size (leek, roots). Left out: what it gains in winter. The
    weight is measured on leeks alone, 69 and 26 t/ha after 1,091 and 850 effective day-degrees, an exponent
    of 3.9; roots, cabbages and sprouts take it over, so expect their size to be off by a third.
    """
    full = np.ones(due.shape)
    if crop.season is None or purpose.name not in SEASONAL or crop.harvest.profile != "standing":
        return due, full
    still = np.broadcast_to(standstill(crop.development, here)[sow], due.shape)
    grown = here.growth_clock(crop.development).between(begun.place, np.maximum(still, begun.place))
    size = np.clip((grown + begun.done) / thermal_time, 0.0, 1.0) ** SIZE_POWER
    picked = (due > still) & (still < here.days) & (size >= LEAST_SIZE)
    return np.where(picked, still, due), np.where(picked, size, full)
