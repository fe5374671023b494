"""What is taken whole and not full grown when growth stands still, or a frost would end it, is picked at the
size it has (O19)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.crops.crop import Crop, Purpose
from evenpick.outlook.outcome import LEAST_SHARE
from evenpick.outlook.season import SEASONAL
from evenpick.outlook.setting import Setting
from evenpick.outlook.stages import Start
from evenpick.outlook.usual_year import standstill

SIZE_POWER = 4.0  # of the share of the thermal time that was had: the weight (brewster2008, table 4.8; O19)
LIFTED_AHEAD = 7  # days before the frost that would kill it: a forecast's reach (common practice, no source)


def any_size(crop: Crop, purpose: Purpose) -> bool:
    """Whether it is good at any size: roots, leeks and heads for the winter, tubers, and peanuts, whose first
    nuts are ripe long before the last."""
    tuber = any(way.name == "planted" for way in crop.ways) and crop.bulbing is None
    winter = crop.season is not None and purpose.name in SEASONAL and crop.harvest.profile == "standing"
    return tuber or winter or crop.underground


def at_its_size(
    crop: Crop, here: Setting, begun: Start, sow: Ints, thermal_time: Floats, due: Ints, killed: Ints
) -> tuple[Ints, Floats]:
    """First picking, and the share of a full crop that it then is, 0 to 1; both (years, n).

    `due`: first picking at full size; `killed`: the day a frost would kill it before that; thermal_time
    (years, 1). What is not full grown at the standstill, or a week before that frost, is picked then, if it
    is 0.4 of a full crop by weight; what is smaller grows on to its full size in spring, or dies.
    Valid for what is taken whole and good at any size (leeks, roots, potatoes, peanuts). Left out: what it
    gains in winter. The weight is measured on leeks alone, 69 and 26 t/ha after 1,091 and 850 effective
    day-degrees, an exponent of 3.9; roots, cabbages and sprouts take it over: expect their size to be off by
    a third.
    """
    ends = np.maximum(np.minimum(standstill(crop.development, here)[sow], killed - LIFTED_AHEAD), begun.place)
    grown = here.growth_clock(crop.development).between(begun.place, ends)
    size = np.clip((grown + begun.done) / thermal_time, 0.0, 1.0) ** SIZE_POWER
    picked = (due > ends) & (ends < here.days) & (size >= LEAST_SHARE)
    return np.where(picked, ends, due), np.where(picked, size, 1.0)
