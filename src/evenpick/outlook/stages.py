"""From a sow day to the days on which a crop is up, planted out, bolted and first picked.

Arrays have shape (years, n) for n sow days; a day is an index on the weather's axis, and `days`
(one past the last) stands for "not on this axis".
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.crops.clock import mean_between
from evenpick.crops.crop import Crop, Emergence, Way
from evenpick.crops.emergence import emerged_share
from evenpick.crops.signals import Bulbing, Cold, ColdHeading, LongDay
from evenpick.outlook.drying import Bare
from evenpick.outlook.setting import Setting

LONGEST_LYING = 25  # days from drill to light; seed that lies longer rots or is eaten (tuned; O22)
SLOW_SEED = 2.0  # times the days it takes MILD above its base: slow seed may lie longer (memory)
MILD = 15.0  # °C
LONGEST_WAIT_TO_SOW = 5  # days that a sower waits for warmer soil ahead (memory)
LONGEST_WAIT = 10  # days a raised plant may wait for warmth before it is planted regardless
FORECAST = 3  # days in which a grower knows of a frost to come (common practice, no source)
LEAST_LEAF = 0.3  # of a full bulb's leaf before bulbs can start (memory; O16)
NEXT_SUMMER = 120  # days after bulbs start: a longest day so far off is the next year's
KEEPING = 0.35  # h that the longest day has over what keeping kinds ask for: from 32° (bulbhours)
LONGEST_DAY = 0.02  # h: days within this of the longest stand for it
LONGEST_RAISING = 90  # days to planting out; older plants are past it (common practice, no source)
TENDER, ROOTED = 10.0, 3.0  # °C: crops whose seed needs so much; what rooted plants need less (memory)
SEEDLING_SHARE = 0.3  # of the thermal time: until then a plant is as tender as a seedling (memory)


@dataclass(frozen=True, slots=True)
class Start:
    """A sowing up and in its place."""

    up: Ints
    place: Ints
    """the day growth in its place begins: up, or planted out"""
    done: float
    """effective day-degrees already behind it (nursery less the shock)"""
    emerged: Floats
    warm: Bools
    """warm enough to sow, or to raise it and plant it out in good time"""


@dataclass(frozen=True, slots=True)
class Seen:
    """Days on which sowings under way were seen to be up and were planted out, (n,); `UNSEEN` where nobody
    said. What is under way was not too cold or too hot to start, whatever became of it."""

    up: Ints
    place: Ints
    first: Ints | None = None
    """day of the first picking"""
    alive: Ints | None = None
    """day on which they were alive: neither frost nor bolting had ended them"""


UNSEEN = -1


def start(
    crop: Crop, way: Way, here: Setting, bench: Setting | None, sow: Ints, seen: Seen | None = None,
    bare: Bare | None = None,
) -> Start:
    """Emergence in the ground, or on the bench and planting out (growth D3, E1, E2); what was seen goes
    before what is reckoned. In `bare` ground that nobody waters seed waits for rain."""
    if bench is None:
        return _in_place(crop, way, here, sow, seen, bare)
    return _raised(crop, way, here, bench, sow, seen)


def as_seen(reckoned: Ints, days: Ints | None) -> Ints:
    """The day it was seen, in every year, where it was."""
    return reckoned if days is None else np.asarray(np.where(days == UNSEEN, reckoned, days))


def seen_up(seen: Seen | None, sow: Ints) -> Bools:
    """Which sowings somebody saw above the ground; (n,)."""
    if seen is None:
        return np.zeros(sow.size, dtype=bool)
    several = [days for days in (seen.up, seen.place, seen.first) if days is not None]
    return np.asarray((np.stack(several) != UNSEEN).any(axis=0))


def behind(way: Way) -> float:
    """Effective day-degrees that a raised plant has behind it when it is set out."""
    return way.nursery - way.shock


def planted_out(way: Way, place: Ints) -> Start:
    """Plants raised elsewhere to the catalogue's size, set out on the days `place`."""
    return Start(place, place, behind(way), np.ones(place.shape), np.ones(place.shape, dtype=bool))


def seed_day(crop: Crop, way: Way, bench: Setting, place: Ints) -> Ints:
    """The day on which seed went into the module of plants that are of the size to set out on the days
    `place` (n,), had they been raised on the bench: the middle of the years; (n,)."""
    ready = np.broadcast_to(place, (bench.years, place.size))
    up = np.maximum(bench.growth_clock(crop.development).back(ready, way.nursery) - 1, 0)
    sow = bench.soil_clock(crop.emergence).back(up, crop.emergence.thermal_time)
    return np.asarray(np.median(sow, axis=0), dtype=np.int64)


def _emerge(crop: Crop, setting: Setting, sow: Ints) -> tuple[Ints, Floats]:
    up = setting.soil_clock(crop.emergence).reach(sow, crop.emergence.thermal_time)
    soil = mean_between(setting.totals("soil"), sow, up + 1)
    return up, emerged_share((up - sow + 1).astype(np.float64), soil, crop.emergence)


def longest_lying(emergence: Emergence) -> float:
    """Days that seed may lie before it comes up (O22)."""
    if emergence.lies is not None:
        return emergence.lies
    return max(LONGEST_LYING, SLOW_SEED * emergence.thermal_time / MILD)


def _in_place(crop: Crop, way: Way, here: Setting, sow: Ints, seen: Seen | None, bare: Bare | None) -> Start:
    """How long it may lie, and what rots, is asked as of moist ground: dry seed keeps (water.md, 20)."""
    up, emerged = _emerge(crop, here, sow)
    warm = here.warm(crop.limits.soil_min, sow) <= sow + LONGEST_WAIT_TO_SOW
    if way.name == "planted":
        emerged = np.ones_like(emerged)
    if way.name != "planted" or crop.emergence.lies is not None:
        warm &= up - sow <= longest_lying(crop.emergence)
    if bare is not None:
        up = bare.clock(crop.emergence).reach(sow, crop.emergence.thermal_time)
    up = as_seen(up, None if seen is None else seen.up)
    if seen is not None:
        warm = np.ones_like(warm)
    return Start(up, np.minimum(up + 1, here.days), 0.0, emerged, warm)


def _raised(
    crop: Crop, way: Way, here: Setting, bench: Setting, sow: Ints, seen: Seen | None
) -> Start:
    up, emerged = _emerge(crop, bench, sow)
    up = as_seen(up, None if seen is None else seen.up)
    ready = bench.growth_clock(crop.development).reach(np.minimum(up + 1, bench.days), way.nursery)
    warm_day = here.warm(_warm_enough_to_plant(crop), ready)
    able = warm_day <= ready + LONGEST_WAIT
    fit_day = here.spared(crop.limits.kill_seedling, FORECAST, warm_day) if crop.tender else warm_day
    place = np.minimum(fit_day, np.minimum(ready + LONGEST_WAIT, here.days))
    able &= place - sow <= LONGEST_RAISING
    if seen is not None:
        place, able = as_seen(place, seen.place), np.ones_like(able)
    return Start(up, place, behind(way), emerged, able)


def _warm_enough_to_plant(crop: Crop) -> float:
    """What a seed of a tender crop needs a rooted plant can do with less of."""
    least = crop.limits.soil_min
    return least - ROOTED if least >= TENDER else least


def ripe(crop: Crop, here: Setting, begun: Start, thermal_time: Floats) -> Ints:
    """First picking if nothing goes wrong; thermal_time (years, 1) in effective day-degrees."""
    if crop.cold_heading is not None:
        return _after_cold(crop, crop.cold_heading, here, begun, thermal_time)
    if crop.bulbing is not None:
        return _bulbed(crop, crop.bulbing, here, begun, thermal_time)
    need = np.maximum(thermal_time - begun.done, 1.0)
    return here.growth_clock(crop.development).reach(begun.place, need)


def _after_cold(
    crop: Crop, rule: ColdHeading, here: Setting, begun: Start, thermal_time: Floats
) -> Ints:
    """Grown through its youth, then cold enough for long enough, then to picking (growth D6)."""
    growth = here.growth_clock(crop.development)
    grown = growth.reach(begun.place, max(rule.juvenile - begun.done, 0.0))
    chilled = here.cold_clock(rule.below).reach(grown, rule.days)
    return growth.reach(chilled, thermal_time)


def _bulbed(crop: Crop, rule: Bulbing, here: Setting, begun: Start, thermal_time: Floats) -> Ints:
    """From the day that bulbs start, the thermal time (growth D6)."""
    growth = here.growth_clock(crop.development)
    return growth.reach(_bulbs_start(crop, rule, here, begun), thermal_time)


def _bulbs_start(crop: Crop, rule: Bulbing, here: Setting, begun: Start) -> Ints:
    """Enough leaf, enough cold, days near the longest."""
    growth = here.growth_clock(crop.development)
    least = LEAST_LEAF * rule.leaf if rule.least_leaf is None else rule.least_leaf
    able = growth.reach(begun.place, max(least - begun.done, 0.0))
    if rule.cold_days:
        able = np.maximum(able, here.cold_clock(rule.cold).reach(begun.place, rule.cold_days))
    return here.next_long_day(_offset(rule, here))[able]


def days_for_keeping(rule: Bulbing, here: Setting) -> bool:
    """Whether days grow long enough for kinds of bulb that keep; nearer the equator they do not (O9, O16)."""
    return rule.keeping_hours is None or float(here.hours.max()) >= rule.keeping_hours + KEEPING


def _of_low_latitudes(rule: Bulbing, here: Setting) -> bool:
    """Whether the kinds of a type are those of low latitudes here (O16)."""
    return rule.low_hours is not None and not days_for_keeping(rule, here)


def _offset(rule: Bulbing, here: Setting) -> float:
    """Hours short of the longest day from which bulbs start here; a type that asks for longer days than the
    longest here starts on that day."""
    if rule.hours is None:
        return rule.offset
    low = rule.low_hours
    own = rule.hours if low is None or days_for_keeping(rule, here) else low
    return max(float(here.hours.max()) - own, LONGEST_DAY)


def bulb_size(crop: Crop, here: Setting, begun: Start) -> Floats:
    """Leaf made by the longest day, as a share of the leaf a full bulb wants (memory; O16).

    What starts its bulbs after that day, sown too late, is only as big as the leaf it has then; kinds of low
    latitudes, whose days are long enough after it too, as big as what they have when they do.

    Where the days are always long enough (towards the equator) day length limits nothing.
    """
    rule = crop.bulbing
    if rule is None or float(here.hours.max() - here.hours.min()) <= _offset(rule, here):
        return np.ones(begun.place.shape)
    longest, starts = here.next_long_day(LONGEST_DAY)[begun.up], _bulbs_start(crop, rule, here, begun)
    late = (starts > longest) & _of_low_latitudes(rule, here)
    trigger = np.where((longest - starts > NEXT_SUMMER) | late, starts, longest)
    grown = here.growth_clock(crop.development).between(begun.place, np.maximum(trigger, begun.place))
    # still on the bench on the longest day: bulbs start in the module, on the leaf made so far
    raised = np.clip((trigger - begun.up) / np.maximum(begun.place - begun.up, 1), 0.0, 1.0)
    return np.asarray(np.clip((grown + begun.done * raised) / rule.leaf, 0.0, 1.0))


def seedling_until(crop: Crop, here: Setting, begun: Start, thermal_time: Floats) -> Ints:
    """The day from which a plant is as hardy as it gets."""
    need = np.maximum(SEEDLING_SHARE * thermal_time - begun.done, 0.0)
    return here.growth_clock(crop.development).reach(begun.place, need)


def bolts(crop: Crop, here: Setting, bench: Setting | None, begun: Start) -> Ints:
    """The day it runs to seed, by whichever of its rules comes first (growth D5)."""
    day = np.full_like(begun.up, here.days)
    for rule in crop.bolting:
        if isinstance(rule, LongDay):
            day = np.minimum(day, _long_day_bolt(crop, rule, here, bench, begun))
        else:
            day = np.minimum(day, _cold_bolt(crop, rule, here, begun))
    return day


def _long_day_bolt(
    crop: Crop, rule: LongDay, here: Setting, bench: Setting | None, begun: Start
) -> Ints:
    need: Floats | float = rule.total
    if bench is not None:
        on_bench = bench.long_day_clock(crop.development, rule).between(begun.up, begun.place)
        need = np.maximum(rule.total - on_bench, 1.0)
    return here.long_day_clock(crop.development, rule).reach(begun.place, need)


def _cold_bolt(crop: Crop, rule: Cold, here: Setting, begun: Start) -> Ints:
    growth = here.growth_clock(crop.development)
    grown = growth.reach(begun.place, max(rule.juvenile - begun.done, 0.0))
    chilled = here.cold_clock(rule.below).reach(grown, rule.days)
    return growth.reach(chilled, rule.then)
