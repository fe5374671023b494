"""The drill: does it dry before the seed is up, and what is watering worth? (docs/design/water.md, 8 to 15)

The evaporating layer (allen1998, equations 71 to 77, bare ground) is cut in two: the seed's own layer, with
the seed in its middle (twice the sowing depth), and what lies below it down to Ze. Wetting fills the upper
first; evaporation takes from both by what they hold, the nearer to the surface the more. The shallower the
seed, the thinner its store. Within a day equation 74 is integrated exactly: a step that began wet would
otherwise empty a thin store.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.soil.texture import EVAPORATING, Soil
from evenpick.soil.water_balance import total_evaporable

SHALLOWEST = 0.02
"""m: least thickness of the seed's layer; seed sown on top is pressed in and still has a centimetre"""
KC_BARE = 1.2
"""Kcmax over bare wet ground at 45 % and 2 m s⁻¹, where the height of a crop does not count (equation 72)"""
DRY_EVENINGS = 2
"""running, before it is up: swollen seed lives over one dry evening (common practice, no source)"""
LEAST_WATERING = 1.0
"""mm: less is not worth a can"""
SPROUTED = 0.5
"""of the warmth to coming up, after which the root is out: until then seed may dry and swell, from then on
it dies of it (hegarty1977; where the half lies: memory)"""
DEADLY = 0.5
"""of the water at wilting point: halfway to air-dry (own choice; the trial calls its drought severe)"""
MOIST = 0.75
"""of what the seed's layer holds: with so much after the day's rain an open drill wants no can, however dry
it is below (own choice)"""
AFTER = 14
"""days from coming up for which the drill is followed"""


class Watering(IntEnum):
    """How far the routine is followed; each step holds those before it."""

    NONE = 0
    DRILL = 1
    """the open drill is watered before sowing"""
    MOIST = 2
    """and kept moist until it is up"""
    ONE_MORE = 3
    """and watered once more when it is up"""


@dataclass(frozen=True, slots=True)
class Bed:
    """A seedbed's two stores, mm of evaporable water when full."""

    upper: float
    lower: float
    pull: tuple[float, float]
    """how strongly the surface draws on either: mean of 2 (1 - z/Ze) over its depths"""
    dry: float
    """what the upper store holds at wilting point"""
    readily: float
    """REW of both together"""

    @property
    def full(self) -> float:
        return self.upper + self.lower


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill day by day: mm poured on, and mm held in the seed's layer in the evening; (years, days)."""

    watered: Floats
    held: Floats
    dry: Bools
    """whether the seed's layer is at or below wilting point in the evening"""


def bed_of(soil: Soil, depth: float) -> Bed:
    """The stores of bare ground for seed at `depth` m."""
    thickness = min(max(2.0 * depth, SHALLOWEST), EVAPORATING)
    whole, share = float(total_evaporable(soil)), thickness / EVAPORATING
    upper = whole * share
    below_wilting = 1000.0 * 0.5 * soil.wilting_point * thickness
    return Bed(upper, whole - upper, (2.0 - share, 1.0 - share), below_wilting, soil.readily_evaporable)


def wetted(bed: Bed, upper: Floats, lower: Floats, mm: Floats) -> tuple[Floats, Floats]:
    """Both stores after mm of water from above; what neither can hold drains away."""
    filled = np.minimum(upper + mm, bed.upper)
    return filled, np.minimum(lower + np.maximum(upper + mm - bed.upper, 0.0), bed.lower)


def dried(bed: Bed, upper: Floats, lower: Floats, et0: Floats) -> tuple[Floats, Floats]:
    """Both stores after a day's evaporation (equations 71 and 74, integrated over the day).

    A wet upper store over a dry lower one loses what it would as a layer of its own: by the whole layer's
    equation a shower on dry ground would last too long (the skin of Allen and others 2005, memory).
    """
    demand = KC_BARE * et0
    whole = _evaporated(upper + lower, bed.full, bed.readily, demand)
    alone = _evaporated(upper, bed.upper, bed.readily * bed.upper / bed.full, demand)
    lost = np.maximum(whole, alone)
    near, far = bed.pull[0] * upper, bed.pull[1] * lower
    share = np.divide(near, near + far, out=np.ones_like(near), where=near + far > 0)
    # what one store cannot give the other must
    from_upper = np.maximum(np.minimum(lost * share, upper), lost - lower)
    return upper - from_upper, lower - (lost - from_upper)


def open_ground(rain: Floats, et0: Floats, bed: Bed) -> tuple[Floats, Floats]:
    """Both stores of bare ground in the morning of every day and after the last; each (years, days + 1).

    rain and et0 (years, days). Ground is full at the start; some weeks of run-up make that forgotten.
    """
    years, days = rain.shape
    upper, lower = np.empty((years, days + 1)), np.empty((years, days + 1))
    upper[:, 0], lower[:, 0] = bed.upper, bed.lower
    for day in range(days):
        state = wetted(bed, upper[:, day], lower[:, day], rain[:, day])
        upper[:, day + 1], lower[:, day + 1] = dried(bed, *state, et0[:, day])
    return upper, lower


def drying(
    rain: Floats,
    et0: Floats,
    sow: Ints,
    up: Ints,
    soil: Soil,
    depth: float,
    watering: Watering = Watering.NONE,
) -> Bools:
    """Whether each sowing dries before it is up, in every year; (years, n).

    rain, et0 (years, days) mm d⁻¹, nothing missing; sow (n,) and up (years, n) are day indices of that axis
    (an `up` past its end is followed to the end); depth in m. A drill dries where its seed's layer is at or
    below wilting point on two evenings running. Sow days some weeks from the axis's start have forgotten it.

    Valid for bare ground without mulch. Knows no water rising from below (loam and silt over moist ground
    stay moist longer), no crust, no shade. It says how often a drill wants water, not how much seed is lost:
    seed in ground dry from the first only waits. Its dry days have not been held against real seedbeds.
    """
    bed = bed_of(soil, depth)
    upper, lower = open_ground(rain, et0, bed)
    if watering == Watering.NONE:
        return dries_untouched(upper, bed.dry, sow, up)
    start = upper[:, sow], lower[:, sow]
    return _follow(rain, et0, sow, up, bed, watering, start)


def routine(
    rain: Floats, et0: Floats, sow: Ints, up: Ints, bed: Bed, watering: Watering, alone: Bools | None = None
) -> Drill:
    """One sowing's drill on every day of the axis, watered as far as `watering` goes; sow and up (years,).
    On days `alone` (days,) what it wants is told and not given."""
    years, days = rain.shape
    made = Drill(np.zeros((years, days)), np.empty((years, days)), np.empty((years, days), dtype=bool))
    upper, lower = np.full(years, bed.upper), np.full(years, bed.lower)
    for day in range(days):
        given = _watering(bed, upper, lower, rain[:, day], et0[:, day], day - sow, up - sow, watering)
        poured = 0.0 if alone is not None and alone[day] else given
        state = wetted(bed, upper, lower, rain[:, day] + poured)
        upper, lower = dried(bed, *state, et0[:, day])
        made.watered[:, day], made.held[:, day], made.dry[:, day] = given, upper, upper <= bed.dry
    return made


def dry_spell(dry: Bools, first: Ints, last: Ints) -> Bools:
    """Whether `DRY_EVENINGS` running are dry from day `first` up to, not including, `last`; all (years,)."""
    days = np.arange(dry.shape[1])[None, :]
    counted = dry & (days >= first[:, None]) & (days < last[:, None])
    return np.asarray((counted[:, 1:] & counted[:, :-1]).any(axis=1))


def days_moist(dry: Bools, first: Ints, most: int) -> Ints:
    """Days from day `first` (years,) to the first dry evening, at most `most`; (years,)."""
    days = np.arange(dry.shape[1])[None, :]
    stop = (dry & (days >= first[:, None])) | (days >= first[:, None] + most)
    return np.asarray(np.where(stop.any(axis=1), stop.argmax(axis=1), dry.shape[1]) - first)


def _evaporated(water: Floats, full: float, readily: float, demand: Floats) -> Floats:
    """mm lost in a day: at full demand down to REW, from there by equation 74 as it goes on falling."""
    slow = full - readily
    at_once = np.minimum(np.maximum(water - slow, 0.0), demand)
    return np.asarray(at_once - (water - at_once) * np.expm1((at_once - demand) / slow))


def _watering(
    bed: Bed, upper: Floats, lower: Floats, rain: Floats, et0: Floats, age: Ints, up: Ints, watering: Watering
) -> Floats:
    """mm for a morning; age and up in days from sowing. What today's rain will do counts as known."""
    given = np.zeros_like(upper)
    if not ((age == 0) | ((age > 0) & (age <= up))).any():  # nothing before sowing nor once it is up
        return given
    short = bed.full - upper - lower - rain
    deep = np.where(short > bed.readily, short, 0.0)
    dry = np.where(upper + rain < MOIST * bed.upper, deep, 0.0)
    if watering >= Watering.DRILL:
        given = np.where(age == 0, dry, given)
    if watering >= Watering.MOIST:
        light = np.maximum(bed.upper - upper, LEAST_WATERING)
        room = short >= LEAST_WATERING  # or the rain fills it, and more would drain away
        wants = room & (age > 0) & (age < up) & _dry_by_evening(bed, upper, lower, rain, et0)
        lasts = ~_dry_by_evening(bed, upper, lower, rain + light, et0)
        given = np.where(wants, np.where(lasts, light, np.maximum(deep, light)), given)
    if watering >= Watering.ONE_MORE:
        given = np.where((age == up) & (age > 0), dry, given)
    return given


def _dry_by_evening(bed: Bed, upper: Floats, lower: Floats, wet: Floats, et0: Floats) -> Bools:
    evening, _ = dried(bed, *wetted(bed, upper, lower, wet), et0)
    return np.asarray(evening <= bed.dry)


def dries_untouched(upper: Floats, level: float, since: Ints, up: Ints) -> Bools:
    """From one balance for all sow days: two evenings running on which the seed's layer holds no more than
    `level` mm, the first on day `since` ((n,) or (years, n)) or later, the second before it is up."""
    dry = upper[:, 1:] <= level
    days = dry.shape[1]
    spells = np.zeros((dry.shape[0], days + 1), dtype=np.int64)
    np.cumsum(dry[:, 1:] & dry[:, :-1], axis=1, out=spells[:, 2:])
    first = np.minimum(np.broadcast_to(since, up.shape) + 1, days)
    last = np.clip(up, first, days)
    return np.asarray(np.take_along_axis(spells, last, axis=1) > np.take_along_axis(spells, first, axis=1))


def _follow(
    rain: Floats, et0: Floats, sow: Ints, up: Ints, bed: Bed, watering: Watering, start: tuple[Floats, Floats]
) -> Bools:
    """Every sow day's own drill, all at once, day by day from its sowing."""
    days = rain.shape[1]
    upper, lower = start
    run = np.zeros(upper.shape, dtype=np.int64)
    found = np.zeros(upper.shape, dtype=bool)
    for age in range(int((np.minimum(up, days) - sow).max(initial=0))):
        at = np.minimum(sow + age, days - 1)
        given = _watering(bed, upper, lower, rain[:, at], et0[:, at], np.array(age), up - sow, watering)
        upper, lower = dried(bed, *wetted(bed, upper, lower, rain[:, at] + given), et0[:, at])
        run = np.where(upper <= bed.dry, run + 1, 0)
        found |= (run >= DRY_EVENINGS) & (sow + age < np.minimum(up, days))
    return found
