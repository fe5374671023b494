"""Whether an open drill wants water today (docs/design/water.md; record.md, R12)."""

from __future__ import annotations

import numpy as np

from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.crops.crop import Crop
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.setting import Settings
from evenpick.soil.reference_et import WIND_UNKNOWN, reference_et
from evenpick.soil.seedbed import Watering, bed_of, routine
from evenpick.soil.texture import soil_named

RUN_UP = 20
"""days of bare ground before the sowing, after which its start is forgotten"""
BAND = 0.15
"""m: strip along a drill that a can wets (common practice, no source)"""
WIND_UNDER_COVER = 0.5
"""m s⁻¹: the least that equation 6 should be used with (allen1998, memory)"""


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
    air, here = settings.cover(cover).air, slice(begin, today + 1)
    wind = np.full_like(air.tmin[:, here], WIND_UNKNOWN if cover == "open" else WIND_UNDER_COVER)
    et0 = reference_et(
        air.tmin[:, here], air.tmax[:, here], air.radiation[:, here], settings.weather.lat,
        settings.day_of_year[here], site.height_m or 0.0, wind=wind,
    )
    bed = bed_of(soil_named(soil), crop.spacing.depth)
    starts = np.full(up.size, sow - begin)
    made = routine(air.rain[:, here], et0, starts, up - begin, bed, Watering.MOIST).watered[:, -1]
    due = (made > 0) & (up > today)
    litres = float(np.median(made[due])) * min(BAND, crop.spacing.row) if due.any() else 0.0
    return float(due.mean()), litres
