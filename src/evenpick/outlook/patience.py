"""What it costs a sowing that others are quicker (outlook.md, O7)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.crops.crop import Crop, Way
from evenpick.outlook.neighbours import HALF_YEAR, ROUND, most_of_season, round_the_year
from evenpick.outlook.reach import quickest_in_reach

SLOW = 0.008  # per extra day (growth H4)
TENDER_SLOW = 0.024  # the same of what frost kills: it sulks in the cold and is caught up (tuned)
RAISED_TENDER_SLOW = 0.016  # and where it is raised in warmth for part of its days (tuned)
BULB_SLOW = 0.005  # the same where long days set the time of picking (memory)
COLD_SLOW = 0.003  # and where cold does (memory)
WINTER_PODS_SLOW = 0.006  # and of pods of autumn sowings, where the warmth of spring does (our choice)


def patience(
    crop: Crop, way: Way, days: Floats, serving: Floats, unhurried: Floats, year: int | None,
    together: bool = False,
) -> Floats:
    """Each day longer than the quickest sowing costs a little; less for crops that wait for a season, and for
    pods that ripen `together` in spring whenever they were sown before; (n,).
    What frost kills, sown in place, is held against the sowings that can catch it up: not those that come
    when it is long picked, after a time that is worse `unhurried`, as heat makes it."""
    usable = (serving >= 0.5) & np.isfinite(days)
    if not usable.any():
        return np.ones_like(serving)
    quickest = np.where(usable, days, np.inf)
    least = np.full_like(days, quickest.min())
    if crop.tender and way.name != "raised":
        worth, sooner = (round_the_year(each, year, HALF_YEAR) for each in (unhurried, -quickest))
        season = -most_of_season(sooner, worth, np.arange(days.size) + HALF_YEAR)
        near = np.minimum(season, quickest_in_reach(quickest, days, ROUND))
        least = np.where(np.isfinite(near), np.maximum(near, least), least)
    extra = np.nan_to_num(np.maximum(days - least, 0.0))
    return np.asarray(np.exp(-(WINTER_PODS_SLOW if together else _slow(crop, way)) * extra))


def _slow(crop: Crop, way: Way) -> float:
    if crop.tender:
        return RAISED_TENDER_SLOW if way.name == "raised" else TENDER_SLOW
    return COLD_SLOW if crop.cold_heading else BULB_SLOW if crop.bulbing else SLOW
