"""What stands in ground that nobody can water: it draws what the rain has left there, and yields by that
(docs/design/water.md, 20a)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.crops.crop import Crop
from evenpick.outlook.drying import LETS_RAIN_IN, et0_of
from evenpick.outlook.outcome import LONGEST_WAIT_FOR_CROP
from evenpick.outlook.setting import Setting, Settings
from evenpick.soil.crop_coefficients import CropWater, crop_water, curve
from evenpick.soil.texture import Soil
from evenpick.soil.water_balance import (
    canopy_cover,
    depletion_share,
    evaporation_coefficient,
    evaporation_reduction,
    exposed_wetted,
    kc_max,
    stress,
    total_available,
    total_evaporable,
)

LEAST_DRAWN = 1 / 3
"""of the water it could use: what draws less is lost, as a drill that is left with less of its stand (own
choice)"""
BETWEEN_KCB, BETWEEN_HEIGHT = 0.5, 0.3
"""of ground between two sowings: crops and weeds stand on it half of the time (own choice)"""
YEAR = 365
USUAL_WIND, USUAL_DAMP = 2.0, 45.0
"""m s⁻¹ and %: the air that coefficients are tabled for"""


@dataclass(frozen=True, slots=True)
class _Held:
    """Evening depletions below field capacity, mm: of the surface layer and of the root zone."""

    surface: Floats
    root: Floats


def drawn_of_wanted(
    crop: Crop, settings: Settings, cover: CoverName, stands: Ints, end: Ints
) -> Floats | None:
    """Share of the water it could use, ΣKs Kcb ET0 over ΣKcb ET0, that each sowing draws from the day it
    stands in its ground to `end`, (years, n) axis days; None of ground that is watered.

    Yield falls by about the same share (allen1998, equation 90, with Ky 1).
    """
    ground = settings.unwatered
    if ground is None or cover not in LETS_RAIN_IN:
        return None
    here, plant = settings.cover(cover), crop_water(crop.key)
    et0 = et0_of(settings, here, cover, ground)
    deep = plant.roots_deep
    before = here.once(("between crops", ground, deep, plant.p),
                       lambda: _between(here, et0, plant.p, ground.soil, deep))
    return _share_drawn(here.air.rain, et0, plant, ground.soil, before, stands, end)


def _between(here: Setting, et0: Floats, p: float, soil: Soil, deep: float) -> _Held:
    """Ground between sowings on every evening, (years, days): its first year is followed twice, so that a dry
    season at the axis's start is as dry as any other."""
    rain, held = here.air.rain, _Held(np.zeros(here.years), np.zeros(here.years))
    kcb, height = np.array(BETWEEN_KCB), np.array(BETWEEN_HEIGHT)
    for day in range(min(YEAR, here.days)):
        held, _ = _evening(held, rain[:, day], et0[:, day], kcb, height, p, soil, deep)
    made = _Held(np.empty(rain.shape), np.empty(rain.shape))
    for day in range(here.days):
        held, _ = _evening(held, rain[:, day], et0[:, day], kcb, height, p, soil, deep)
        made.surface[:, day], made.root[:, day] = held.surface, held.root
    return made


def _share_drawn(
    rain: Floats, et0: Floats, plant: CropWater, soil: Soil, before: _Held, stands: Ints, end: Ints
) -> Floats:
    year, days = np.arange(rain.shape[0])[:, None], rain.shape[1]
    start = np.minimum(stands, days - 1).astype(np.int64)
    length = np.clip(end - start, 0, LONGEST_WAIT_FOR_CROP)
    held = _Held(before.surface[year, start], before.root[year, start])
    drew, wanted = np.zeros(start.shape), np.zeros(start.shape)
    for day in range(1, int(length.max(initial=0)) + 1):
        at, grows = np.minimum(start + day, days - 1), day <= length
        kcb, grown = curve(plant, day / np.maximum(length, 1), plant.kcb_mid, plant.kcb_end)  # as tabled
        fell, air = rain[year, at], et0[year, at]
        held, drawn = _evening(held, fell, air, kcb, plant.height * grown, plant.p, soil, plant.roots_deep)
        drew += np.where(grows, drawn, 0.0)
        wanted += np.where(grows, kcb * air, 0.0)
    return np.divide(drew, wanted, out=np.ones_like(drew), where=wanted > 0)


def _evening(
    held: _Held, rain: Floats, et0: Floats, kcb: Floats, height: Floats, p: float, soil: Soil, deep: float
) -> tuple[_Held, Floats]:
    """A day on (equations 71 to 88, as `water_balance.balance` of a root zone that stays `deep`, m), and what
    plants drew, mm."""
    tew, taw = float(total_evaporable(soil)), float(total_available(soil, deep))
    surface, root = np.maximum(held.surface - rain, 0.0), np.maximum(held.root - rain, 0.0)
    most = kc_max(USUAL_WIND, USUAL_DAMP, height, kcb)
    few = exposed_wetted(canopy_cover(kcb, most, height))
    ke = evaporation_coefficient(evaporation_reduction(surface, tew, soil.readily_evaporable), most, kcb, few)
    left = taw - root
    drawn = np.minimum(stress(root, taw, depletion_share(p, (kcb + ke) * et0)) * kcb * et0, left)
    gone = np.minimum(np.minimum(ke * et0, left - drawn), (tew - surface) * few)
    return _Held(surface + gone / few, root + drawn + gone), drawn
