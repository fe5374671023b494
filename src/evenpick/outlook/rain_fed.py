"""What stands in ground that nobody can water: it draws what the rain has left there, and yields by that
(docs/design/water.md, 20a)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.crops.crop import Crop
from evenpick.outlook.drying import Unwatered, by_rain, et0_of
from evenpick.outlook.outcome import LONGEST_WAIT_FOR_CROP
from evenpick.outlook.setting import Setting, Settings
from evenpick.soil.crop_coefficients import (
    KCB_BARE,
    SHORTEST,
    CropWater,
    Growing,
    crop_water,
    curve,
    growing,
)
from evenpick.soil.texture import Soil
from evenpick.soil.water_balance import (
    canopy_cover,
    exposed_wetted,
    kc_max,
    total_available,
    total_evaporable,
)

LEAST_YIELD = 1 / 3
"""of what watered ground gives: what gives less is lost, as a drill that is left with less of its stand (own
choice)"""
BETWEEN_KCB, BETWEEN_HEIGHT = 0.5, 0.3
"""of ground between two sowings: crops and weeds stand on it half of the time (own choice)"""
YEAR = 365
USUAL_WIND, USUAL_DAMP = 2.0, 45.0
"""m s⁻¹ and %: the air that coefficients are tabled for"""


@dataclass(frozen=True, slots=True)
class Held:
    """Evening depletions below field capacity, mm: of the surface layer and of the root zone."""

    surface: Floats
    root: Floats


def yield_by_rain(
    crop: Crop, settings: Settings, cover: CoverName, begins: Ints, stands: Ints, end: Ints
) -> Floats | None:
    """Share of a watered yield that each sowing gives where only rain falls (allen1998, equation 90): sown or
    planted on axis day `begins`, above its ground from `stands` to `end`; (years, n) each. None of ground
    that is watered.
    """
    ground = by_rain(settings, cover)
    if ground is None:
        return None
    here, plant = settings.cover(cover), crop_water(crop.key)
    et0, before = et0_of(settings, here, cover, ground), between_crops(settings, cover, ground, plant)
    used, wanted = _used_of_wanted(here.air.rain, et0, plant, ground.soil, before, begins, stands, end)
    short = 1.0 - np.divide(used, wanted, out=np.ones_like(used), where=wanted > 0)
    return np.asarray(np.clip(1.0 - plant.response * short, 0.0, 1.0))


def between_crops(settings: Settings, cover: CoverName, ground: Unwatered, plant: CropWater) -> Held:
    """Ground that nobody waters, with neither this crop nor another in it, as deep as its roots go: on every
    evening of the axis; (years, days). Its first year is followed twice, so that a dry season at the axis's
    start is as dry as any other."""
    here, deep = settings.cover(cover), plant.roots_deep
    et0 = et0_of(settings, here, cover, ground)
    return here.once(("between crops", ground, deep, plant.p),
                     lambda: _between(here, et0, plant, ground.soil))


def _between(here: Setting, et0: Floats, plant: CropWater, soil: Soil) -> Held:
    from evenpick.outlook import rain_loops  # takes time to load, and most gardens are watered

    rain, held = here.air.rain, Held(np.empty(et0.shape), np.empty(et0.shape))
    kcb, height = np.array([BETWEEN_KCB]), np.array([BETWEEN_HEIGHT])
    rain_loops.standing(_own(rain), _own(et0), np.concatenate(_of_ground(kcb, height)), _known(plant, soil),
                        min(YEAR, here.days), held.surface, held.root)
    return held


def _used_of_wanted(
    rain: Floats, et0: Floats, plant: CropWater, soil: Soil, before: Held, begins: Ints, stands: Ints,
    end: Ints,
) -> tuple[Floats, Floats]:
    """ETc with and without want of water, mm, from the day after it stands to its end. Until it stands its
    ground is bare: nothing but the sun draws on it."""
    from evenpick.outlook import rain_loops

    up = np.minimum(stands, rain.shape[1] - 1).astype(np.int64)
    start = np.array(np.broadcast_to(np.minimum(begins, up), up.shape), dtype=np.int64)
    length = np.clip(end - up, 0, LONGEST_WAIT_FOR_CROP).astype(np.int64)
    kcb, height = _standing(plant, np.arange(rain_loops.STEPS + 1) / rain_loops.STEPS)
    used, wanted = np.zeros(up.shape), np.zeros(up.shape)
    rain_loops.seasons(_own(rain), _own(et0), np.array(_of_ground(kcb, height)), _known(plant, soil),
                       before.surface, before.root, start, up, length, used, wanted)
    return used, wanted


def _own(values: Floats) -> Floats:
    """As loops want them: whole, and nobody else's."""
    return np.array(values, dtype=np.float64, order="C")


def _known(plant: CropWater, soil: Soil) -> Floats:
    """TEW, REW, TAW and p."""
    taw = float(total_available(soil, plant.roots_deep))
    return np.array([float(total_evaporable(soil)), soil.readily_evaporable, taw, plant.p])


def _of_ground(kcb: Floats, height: Floats) -> tuple[Floats, Floats, Floats]:
    """Kcb, Kcmax and few in the air that coefficients are tabled for."""
    most = kc_max(USUAL_WIND, USUAL_DAMP, height, kcb)
    return kcb, most, exposed_wetted(canopy_cover(kcb, most, height))


def _standing(plant: CropWater, share: Floats) -> tuple[Floats, Floats]:
    """Kcb as tabled, and height, m, once a `share` of its time above the ground is gone; bare until then."""
    kcb, grown = curve(plant, share, plant.kcb_mid, plant.kcb_end)
    height = SHORTEST + (plant.height - SHORTEST) * grown
    return np.where(share > 0, kcb, KCB_BARE), np.where(share > 0, height, SHORTEST)


def left_to_rain(
    plant: CropWater, begin: Ints, up: Ints, end: Ints, days: int, kcb_mid: Floats, kcb_end: Floats
) -> Growing:
    """One sowing's coefficients as this module has them, on `days` days from before it is sown: as `growing`,
    with ground between crops up to that day and roots as deep from the first."""
    crop, at = growing(plant, up, up, end, days, kcb_mid, kcb_end), np.arange(days)[None, :]
    before = at <= begin[:, None]
    return Growing(
        np.where(before, BETWEEN_KCB, np.where(at == up[:, None], KCB_BARE, crop.kcb)),
        np.where(before, BETWEEN_HEIGHT, crop.height), np.full(crop.roots.shape, plant.roots_deep),
    )
