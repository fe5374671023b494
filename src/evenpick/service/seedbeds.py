"""Whether an open drill wants water today (docs/design/water.md; record.md, R12)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.crops.crop import Crop
from evenpick.garden.garden import Seedbed
from evenpick.outlook.drying import Unwatered
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.setting import Settings
from evenpick.soil.reference_et import WIND_UNKNOWN, reference_et
from evenpick.soil.seedbed import DEADLY, Watering, bed_of, dry_spell, routine, sprouted
from evenpick.soil.texture import soil_named

RUN_UP = 20
"""days of bare ground before the sowing, after which its start is forgotten"""
BAND = 0.15
"""m: strip along a drill that a can wets (common practice, no source)"""
SOAKED = 300.0
"""mm: more than any root zone here holds"""
WIND_UNDER_COVER = 0.5
"""m s⁻¹: the least that equation 6 should be used with (allen1998, memory)"""


def unwatered(site: Site, seedbed: Seedbed) -> Unwatered | None:
    """The ground whose drills nobody waters; None where they can be watered."""
    return None if seedbed.watered else Unwatered(soil_named(seedbed.soil), site.height_m or 0.0)


def drill_dries(outcome: Outcome, settings: Settings, site: Site, soil: str) -> tuple[float, float]:
    """Share of the years in which the first drill of an outcome dries out when its seed has sprouted: not
    watered at all, and watered by the routine. A tunnel's bed is taken to have been soaked the day before."""
    sow, up, cover = int(outcome.sow[0]), outcome.up[:, 0].astype(np.int64), outcome.cover
    begin = max(sow - RUN_UP, 0)
    here = slice(begin, min(int(up.max()) + 1, outcome.never))
    rain, et0 = _drawn(settings, cover, site, here)
    if cover == "tunnel":
        rain[:, sow - begin - 1] = SOAKED
    bed = bed_of(soil_named(soil), outcome.crop.spacing.depth)
    starts = np.full(up.size, sow - begin)
    since = sprouted(starts, up - begin)

    def share(step: Watering) -> float:
        held = routine(rain, et0, starts, up - begin, bed, step).held
        return float(dry_spell(held <= DEADLY * bed.dry, since, up - begin).mean())

    return share(Watering.NONE), share(Watering.MOIST)


def _drawn(settings: Settings, cover: CoverName, site: Site, here: slice) -> tuple[Floats, Floats]:
    """Rain and reference evapotranspiration of some days under a cover; (years, days) each."""
    air = settings.cover(cover).air
    wind = np.full_like(air.tmin[:, here], WIND_UNKNOWN if cover == "open" else WIND_UNDER_COVER)
    et0 = reference_et(
        air.tmin[:, here], air.tmax[:, here], air.radiation[:, here], settings.weather.lat,
        settings.day_of_year[here], site.height_m or 0.0, wind=wind,
    )
    return air.rain[:, here].copy(), et0


def thirst(
    crop: Crop, cover: CoverName, outcome: Outcome, i: int, settings: Settings, site: Site, soil: str,
    today: int,
) -> tuple[float, float]:
    """Share of the years in which a drill that is kept moist wants water on axis day `today`, and litres on a
    metre of it in the middle one of those; nought both where it is up in every year, or sown long ago."""
    sow, up = int(outcome.sow[i]), outcome.up[:, i].astype(np.int64)
    begin = max(sow - RUN_UP, 0)
    if not (up > today).any() or sow > today:
        return 0.0, 0.0
    rain, et0 = _drawn(settings, cover, site, slice(begin, today + 1))
    bed = bed_of(soil_named(soil), crop.spacing.depth)
    starts = np.full(up.size, sow - begin)
    made = routine(rain, et0, starts, up - begin, bed, Watering.MOIST).watered[:, -1]
    due = (made > 0) & (up > today)
    litres = float(np.median(made[due])) * min(BAND, crop.spacing.row) if due.any() else 0.0
    return float(due.mean()), litres
