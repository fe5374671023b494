"""What reaches and leaves a drill's ground, and how often the drill dries (docs/design/water.md)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.crops.crop import Crop
from evenpick.garden.garden import Seedbed
from evenpick.outlook.drying import LETS_RAIN_IN, Unwatered, as_followed, damp_and_wind
from evenpick.outlook.grow import LEAST_STAND
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.setting import Settings
from evenpick.soil.reference_et import reference_et
from evenpick.soil.seedbed import DEADLY, Watering, bed_of, routine
from evenpick.soil.texture import Soil, soil_named

RUN_UP = 20
"""days of bare ground before the sowing, after which its start is forgotten"""
BAND = 0.15
"""m: strip along a drill that a can wets (common practice, no source)"""
SOAKED = 300.0
"""mm: more than any root zone here holds"""


def unwatered(site: Site, seedbed: Seedbed) -> Unwatered | None:
    """The ground whose drills nobody waters; None where they can be watered."""
    return None if seedbed.watered else Unwatered(soil_named(seedbed.soil), site.height_m or 0.0)


def nobody_waters(seedbed: Seedbed, cover: CoverName) -> bool:
    """Whether the garden says so of ground under that cover; a tunnel is watered or is no tunnel."""
    return not seedbed.watered and cover in LETS_RAIN_IN


def drill_dries(outcome: Outcome, settings: Settings, site: Site, soil: str) -> tuple[float, float]:
    """Share of the years in which the first drill of an outcome is lost to drought (water.md, 20): not
    watered at all, and watered by the routine."""
    untouched, routinely = (
        lost_dry(outcome.crop, outcome.cover, int(outcome.sow[0]), settings, site, soil_named(soil), step)
        for step in (Watering.NONE, Watering.MOIST)
    )
    return untouched, routinely


def lost_dry(
    crop: Crop, cover: CoverName, sow: int, settings: Settings, site: Site, soil: Soil, step: Watering
) -> float:
    """Share of the years in which a drill of axis day `sow`, watered as far as `step` goes, is lost: by the
    reckoning of the fate, on ground followed from some weeks before the sowing."""
    here, emergence = settings.cover(cover), crop.emergence
    days = np.full((here.years, 1), sow)
    moist = here.soil_clock(emergence).reach(days, emergence.thermal_time)
    begin = max(sow - RUN_UP, 0)
    rain, et0 = drawn(settings, cover, site, slice(begin, here.days), sow)
    bed = bed_of(soil, crop.spacing.depth)
    held = routine(rain, et0, days[:, 0] - begin, moist[:, 0] - begin, bed, step).held
    dry = np.zeros((here.years, here.days), dtype=bool)
    dry[:, begin:] = held <= DEADLY * bed.dry
    drill = as_followed(here, ("a drill", soil, crop.spacing.depth, sow, step), dry)
    up = moist  # a drill kept moist comes up on its day: one dry evening does no harm
    if step < Watering.MOIST:
        up = drill.clock(emergence).reach(days, emergence.thermal_time)
    return float((drill.living(emergence, days, up) < LEAST_STAND).mean())


def drawn(
    settings: Settings, cover: CoverName, site: Site, here: slice, begin: Ints | int
) -> tuple[Floats, Floats]:
    """Rain and reference evapotranspiration of some axis days under a cover, mm; (years, days) each. No rain
    falls in a tunnel: its bed is taken to have been soaked on the day before axis day `begin` of each year,
    on which it is sown or planted; never where that is past those days."""
    air = settings.cover(cover).air
    et0 = reference_et(
        air.tmin[:, here], air.tmax[:, here], air.radiation[:, here], settings.weather.lat,
        settings.day_of_year[here], site.height_m or 0.0, *damp_and_wind(air, cover, here),
    )
    rain = air.rain[:, here].copy()
    if cover == "tunnel":
        day = np.broadcast_to(np.maximum(begin - here.start - 1, 0), rain.shape[:1])
        year = np.flatnonzero(day < rain.shape[1])
        rain[year, day[year]] = SOAKED
    return rain, et0
