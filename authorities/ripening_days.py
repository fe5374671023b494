"""Days to first picking with their spread, for the studies of bands and of measured trials."""

from __future__ import annotations

from functools import cache

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.crops.crop import Anchor, Crop
from evenpick.outlook.anchor_climate import anchor_settings
from evenpick.outlook.anchors import anchor_day
from evenpick.outlook.grow import bench_for, parameter_draws
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import planted_out, ripe, start

TENTHS = (10, 50, 90)
settings_at = cache(anchor_settings)


def days_by_year(crop: Crop, anchor: Anchor, settings: Settings, factor: Floats | float) -> Floats:
    """Days from the anchor's day to first picking in each weather year, lost or not; (years,)."""
    way, here = crop.way(anchor.way), settings.cover(anchor.cover)
    sow = np.full((here.years, 1), anchor_day(anchor, settings.weather.start), dtype=np.int64)
    if anchor.counted == "planting out":
        begun = planted_out(way, sow)
    else:
        begun = start(crop, way, here, bench_for(way, settings), sow)
    thermal = np.full((here.years, 1), crop.thermal_time) * factor
    return np.asarray((ripe(crop, here, begun, thermal) - sow)[:, 0], dtype=np.float64)


def band(crop: Crop, anchor: Anchor, settings: Settings) -> tuple[float, float, float]:
    """10, 50 and 90 % of the days over weather years and what is not known of the crop."""
    factor = parameter_draws(crop, settings.weather.years, DEFAULT_SEED)
    low, likely, high = np.percentile(days_by_year(crop, anchor, settings, factor), TENTHS)
    return float(low), float(likely), float(high)
