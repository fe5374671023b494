"""What frost ends: a sowing before its first picking, or the picking itself (outlook.md, O4 and O5)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.crops.crop import Crop
from evenpick.outlook.setting import Setting
from evenpick.outlook.stages import Start, seedling_until


def killed(
    crop: Crop, here: Setting, begun: Start, thermal_time: Floats, first: Ints, alive: Ints
) -> Ints:
    """The day a frost kills it before its first picking; past the axis where none does."""
    low = not crop.spacing.tall
    hardy = np.minimum(seedling_until(crop, here, begun, thermal_time), first)
    limits = crop.limits
    young = here.frost(limits.kill_seedling, np.maximum(begun.place, alive), limits.bud, low)
    older = here.frost(limits.kill_plant, np.maximum(hardy, alive), limits.bud, low)
    killed: Ints = np.where(young < hardy, young, older)
    lost: Ints = np.where(killed < first, killed, here.days)
    return lost


def picking_ends(crop: Crop, here: Setting, day: Ints) -> Ints:
    """The day from `day` (years, n) on which a frost ends the picking: of what is cut again the one that
    kills the plant, for leaf that a frost has taken grows anew from a crown that lives; of all else the one
    that spoils the part eaten."""
    limits, low = crop.limits, not crop.spacing.tall
    if crop.harvest.profile == "cut":
        return here.frost(limits.kill_plant, day, limits.bud, low)
    return here.frost(limits.kill_edible, day, low=low)
