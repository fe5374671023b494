"""What heat takes: the quality of what is picked, leaf that wilts, sowings not begun (growth H3; O6)."""

from __future__ import annotations

from functools import reduce

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.crops.clock import mean_between
from evenpick.crops.crop import Crop, Way
from evenpick.crops.hazards import heat_quality
from evenpick.outlook.setting import HEAT_DAYS, Setting
from evenpick.outlook.stages import Start

START_HEAT = 5.0  # °C over the mean at which the ripening crop loses half its quality (tuned)
STAND_HEAT = 2.0  # the same of weeks that fruit which is to set again and again stands through (tuned)
OVER = 0.5  # °C over the greatest mean it grows well in: half its quality is lost (tuned)
USUAL_SET_DAYS = 14  # from flower to picking (growth H3)
SET_AROUND = 8  # days either side of the flower that count (growth H3)
SPELLS = (1 / 6, 3 / 6, 5 / 6)  # of the growth made while it is picked: heat is judged at each


def left_by_heat(crop: Crop, here: Setting, begun: Start, first: Ints, last: Ints) -> tuple[Floats, Floats]:
    """Quality that heat leaves (growth H3), and its best; of what is picked over weeks, along them (O6)."""
    third, kept = (first - begun.place) // 3, np.where(_scorched(crop, here, begun, first), 0.0, 1.0)
    if not crop.sets_again:
        late = _heat_on(crop, here, first, third)
        quality = kept * np.minimum(late, _heat_along(crop, here, begun, first))
        return quality, quality
    clock = here.growth_clock(crop.development)
    grown = clock.between(first, last)
    spells = [_heat_on(crop, here, clock.reach(first, spell * grown), third) for spell in SPELLS]
    return kept * (reduce(np.add, spells) / len(spells)), kept * reduce(np.maximum, spells)


def _scorched(crop: Crop, here: Setting, begun: Start, first: Ints) -> Bools:
    """Whether it stands through three weeks that are too hot for it: nothing good is picked after (O6)."""
    over = crop.limits.heat_mean + (STAND_HEAT if crop.sets_again else START_HEAT)
    too_hot = over if crop.limits.heat_stand is None else crop.limits.heat_stand
    return np.asarray(here.hot(too_hot, begun.place) <= first - HEAT_DAYS)


def _heat_along(crop: Crop, here: Setting, begun: Start, first: Ints) -> Floats:
    """Of what grows through heat and ripens in the cool: by the whole of its growth in its place (O6)."""
    whole = mean_between(here.totals("tmean"), begun.place, np.maximum(first, begun.place + 1))
    return heat_quality(whole, crop.limits.heat_mean + OVER)


def _heat_on(crop: Crop, here: Setting, day: Ints, third: Ints) -> Floats:
    """Of what is picked on `day`: by the last third of growth, or by the days on which its flowers set."""
    if crop.limits.set_tmax is not None:
        return flowers_spared(crop, here, day)
    return heat_quality(mean_between(here.totals("tmean"), day - third, day), crop.limits.heat_mean + OVER)


def flowers_spared(crop: Crop, here: Setting, day: Ints) -> Floats:
    """Share of what is picked on `day` (years, n) that heat spared when its flowers were to set, 0 to 1; all
    of it where none must set (O6)."""
    limits = crop.limits
    if limits.set_tmax is None:
        return np.ones(day.shape)
    flower = day - round(limits.set_days or USUAL_SET_DAYS)
    first, last = np.maximum(flower - SET_AROUND, 0), np.maximum(flower + SET_AROUND, 1)
    mean = mean_between(here.totals("tmean"), first, last)
    set_share = mean_between(here.flowers_setting(limits.set_tmax, limits.set_tmin), first, last)
    return heat_quality(mean, limits.heat_mean + OVER) * set_share


def wilts(crop: Crop, here: Setting, first: Ints) -> Ints:
    """The day on which heat ends the cutting of leaf: the end of the first weeks too hot for it (O5)."""
    if crop.harvest.profile != "cut":
        return np.full_like(first, here.days)
    return np.minimum(here.hot(crop.limits.heat_mean + START_HEAT, first) + HEAT_DAYS, here.days)


def hot_start(crop: Crop, here: Setting, sow: Ints, way: Way, begun: Start) -> Bools:
    """Whether the weeks from its day on, that of sowing or, raised in shade, of planting out, are hotter than
    young plants of the crop can be brought through (memory), or it can't be started, or raised in time, in
    weeks hotter than it grows well in: then it is not cold that stops it."""
    limits = crop.limits
    too_hot = limits.heat_mean + START_HEAT if limits.heat_start is None else limits.heat_start
    days = (sow, begun.place) if way.name == "raised" else (sow,)
    warmer = reduce(np.logical_or, [here.hot(limits.heat_mean, day) == day for day in days])
    return np.asarray((here.hot(too_hot, days[-1]) == days[-1]) | (~begun.warm & warmer))
