"""What reaches and leaves a drill's ground, and how often the drill dries (docs/design/water.md)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.garden.garden import Seedbed
from evenpick.outlook.drying import Unwatered, damp_and_wind
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.setting import Settings
from evenpick.soil.reference_et import reference_et
from evenpick.soil.seedbed import DEADLY, Watering, bed_of, dry_spell, routine, sprouted
from evenpick.soil.texture import soil_named

RUN_UP = 20
"""days of bare ground before the sowing, after which its start is forgotten"""
BAND = 0.15
"""m: strip along a drill that a can wets (common practice, no source)"""
SOAKED = 300.0
"""mm: more than any root zone here holds"""


def unwatered(site: Site, seedbed: Seedbed) -> Unwatered | None:
    """The ground whose drills nobody waters; None where they can be watered."""
    return None if seedbed.watered else Unwatered(soil_named(seedbed.soil), site.height_m or 0.0)


def drill_dries(outcome: Outcome, settings: Settings, site: Site, soil: str) -> tuple[float, float]:
    """Share of the years in which the first drill of an outcome dries out when its seed has sprouted: not
    watered at all, and watered by the routine."""
    sow, up, cover = int(outcome.sow[0]), outcome.up[:, 0].astype(np.int64), outcome.cover
    begin = max(sow - RUN_UP, 0)
    here = slice(begin, min(int(up.max()) + 1, outcome.never))
    rain, et0 = drawn(settings, cover, site, here, sow)
    bed = bed_of(soil_named(soil), outcome.crop.spacing.depth)
    starts = np.full(up.size, sow - begin)
    since = sprouted(starts, up - begin)

    def share(step: Watering) -> float:
        held = routine(rain, et0, starts, up - begin, bed, step).held
        return float(dry_spell(held <= DEADLY * bed.dry, since, up - begin).mean())

    return share(Watering.NONE), share(Watering.MOIST)


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
