"""How long a harvest goes on, and how much of a full one is had (growth H1)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.crops.crop import Crop
from evenpick.outlook.season import flowers_on, fruiting_ends
from evenpick.outlook.setting import Setting

LEAST_HOLD = 2  # days that anything ripe can be picked, however hot (growth H1)
ENOUGH_HOLD = 7  # days of standing in which a whole sowing can be picked


def full_harvest(crop: Crop, here: Setting, first: Ints) -> Ints:
    """The end of picking or standing if neither frost nor bolting cuts it short (growth H1)."""
    harvest = crop.harvest
    if harvest.profile == "picking":
        span = here.growth_clock(crop.development).reach(first, harvest.span)
        # shoots after cold fill in the cool; pods and fruits do not (growth, known failures)
        whole = crop.cold_heading is not None or flowers_on(crop, here)
        return span if whole else np.minimum(span, fruiting_ends(crop, here)[first])
    if harvest.profile == "cut":
        if harvest.years:  # it is cut again each year: only frost and heat end it
            return np.full_like(first, here.days)
        cut = here.growth_clock(crop.development).reach(first, harvest.cuts * harvest.regrowth)
        return cut if crop.limits.fill_mean is None else np.minimum(cut, fruiting_ends(crop, here)[first])
    held = here.hold_clock().reach(first, harvest.stand)
    return np.asarray(np.minimum(np.maximum(held, first + LEAST_HOLD), here.days))


def share_had(crop: Crop, here: Setting, first: Ints, last: Ints, full: Ints) -> Floats:
    """How much of a full harvest is had between first picking and the end."""
    harvest = crop.harvest
    if harvest.profile in ("single", "standing", "stored"):
        enough = np.clip(full - first, LEAST_HOLD, ENOUGH_HOLD)
        return np.asarray(np.clip((last - first) / enough, 0.0, 1.0))
    grown = here.growth_clock(crop.development).between(first, np.minimum(last, here.days))
    return picked_share(crop, grown)


def picked_share(crop: Crop, grown: Floats) -> Floats:
    """Share of a full harvest picked once `grown` EDD have passed since the first picking (growth H1)."""
    harvest = crop.harvest
    if harvest.profile == "picking":
        return smooth(np.clip(grown / harvest.span, 0.0, 1.0))
    cut = 1 + np.floor(np.clip(grown / harvest.regrowth, 0.0, harvest.cuts - 1))
    return np.asarray(cut / harvest.cuts)


def smooth(done: Floats) -> Floats:
    """3d² - 2d³: from 0 to 1, slow at both ends."""
    found, less = done**2, done.copy()
    np.power(done, 3, out=less, where=(done > 0.0) & (done < 1.0))  # slow, and mostly all or nothing is done
    found *= 3
    less *= 2
    found -= less
    return np.asarray(found)
