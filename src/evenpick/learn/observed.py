"""From the diary to records of timing and yield (learning.md, 2 and 3)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.crops.crop import Crop
from evenpick.crops.ways import way_of
from evenpick.garden.record import Sowing
from evenpick.learn.shrinking import Evidence
from evenpick.outlook.drying import bare_ground
from evenpick.outlook.grow import bench_for
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import UNSEEN, Seen, seed_day, start

LEAST_DAYS = 10
"""between standing in its place and first picking: less is a slip of the pen or another use"""
LARGEST_RATIO = 3.0
"""observed over expected, either way: beyond it the record is of something else"""


def timing(crop: Crop, sowings: Sequence[Sowing], settings: Settings) -> list[Evidence]:
    """One record for each sowing with a first picking, of one crop, way and cover.

    y is the logarithm of the thermal time it took over the catalogue's; its sd is what the weather years
    differ by where the season was not measured. Bulbs and what waits for cold have none, for their timing
    is not theirs alone; nor has what ripened outside 10 days and three times the expected.
    """
    if crop.bulbing is not None or crop.cold_heading is not None or not sowings:
        return []
    way, here = way_of(crop, sowings[0].fact.way), settings.cover(sowings[0].cover)
    begin = settings.weather.start
    sow = np.broadcast_to(sow_days(crop, sowings, settings), (here.years, len(sowings)))
    bare = bare_ground(settings, way, sowings[0].cover, crop.spacing.depth)
    begun = start(crop, way, here, bench_for(way, settings), sow, seen_days(sowings, begin), bare)
    first = np.array([s.pickings[0].day - begin for s in sowings])
    grown = here.growth_clock(crop.development).between(begun.place, np.maximum(first, begun.place))
    took: Floats = np.maximum(grown + begun.done, 1.0) / crop.thermal_time
    likely = [bool(each) for each in (first - begun.place).min(axis=0) >= LEAST_DAYS]
    return [
        record for i, sowing in enumerate(sowings) if likely[i]
        for record in _kept(sowing, np.log(took[:, i]), float((first - begun.place)[:, i].mean()))
    ]


def sow_days(crop: Crop, sowings: Sequence[Sowing], settings: Settings) -> Ints:
    """Axis days of sowing, (n,), of one crop, way and cover; of plants that were bought the day on which seed
    would have been sown on a bench here for their size, so that they go on as plants raised here do."""
    days = np.array([sowing.day - settings.weather.start for sowing in sowings], dtype=np.int64)
    bought = np.array([sowing.fact.bought for sowing in sowings])
    if not bought.any():
        return days
    way = way_of(crop, "raised")
    return np.asarray(np.where(bought, seed_day(crop, way, settings.bench(way.bench), days), days))


def seen_days(sowings: Sequence[Sowing], begin: int) -> Seen:
    """When the diary saw them up and planted out, as days from day number `begin`."""
    return Seen(_days(sowings, "up", begin), _days(sowings, "planted_out", begin))


def _days(sowings: Sequence[Sowing], name: str, begin: int) -> Ints:
    days = [getattr(sowing, name) for sowing in sowings]
    return np.array([UNSEEN if day is None else day - begin for day in days], dtype=np.int64)


def _kept(sowing: Sowing, logs: Floats, days: float) -> Iterable[Evidence]:
    y = float(logs.mean())
    if abs(y) <= np.log(LARGEST_RATIO):
        fact = sowing.fact
        yield Evidence(fact.crop, fact.variety, sowing.cover, y, float(logs.std()), sowing.id, days)


def yields(crop: Crop, sowings: Iterable[Sowing], shares: dict[str, float]) -> list[Evidence]:
    """One record for each sowing that is cleared and whose every picking was weighed: ln of kg per m² left to
    pick, over the catalogue's yield times the share of a harvest that its season gave (`shares`).

    Not weighed is not nil: one picking without its weight leaves the sowing out.
    """
    return [
        record for sowing in sowings
        if sowing.cleared is not None and sowing.pickings and not sowing.unweighed
        for record in _yield(crop, sowing, shares.get(sowing.id, 1.0))
    ]


def _yield(crop: Crop, sowing: Sowing, share: float) -> Iterable[Evidence]:
    area = sowing.area * sowing.left
    if area <= 0 or sowing.picked_kg <= 0 or share <= 0:
        return
    y = float(np.log(sowing.picked_kg / area / (crop.produce.kg_per_m2 * share)))
    yield Evidence(sowing.fact.crop, sowing.fact.variety, sowing.cover, y, 0.0, sowing.id)
