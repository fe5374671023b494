"""One crop through the weather of one cover, for every sow day and year at once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.chance import stream
from evenpick.base.trade import CoverName
from evenpick.crops.crop import Crop, Purpose, Way
from evenpick.outlook.drying import Bare, bare_ground
from evenpick.outlook.frosts import killed, picking_ends
from evenpick.outlook.heat import hot_start, left_by_heat, wilts
from evenpick.outlook.outcome import LONGEST_WAIT_FOR_CROP, Fate, Outcome
from evenpick.outlook.picking import full_harvest, share_had
from evenpick.outlook.rain_fed import LEAST_YIELD, yield_by_rain
from evenpick.outlook.season import bolts_overgrown, fills_from, flowers_on, fruiting_starts, grows_cool
from evenpick.outlook.setting import HEAT_DAYS, Setting, Settings
from evenpick.outlook.stages import Seen, Start, as_seen, bolts, bulb_size, ripe, seen_up, start
from evenpick.outlook.undersized import any_size, at_its_size
from evenpick.outlook.usual_year import has_frosts, midwinter

LEAST_STAND = 1 / 3  # of a drill that drought leaves: what is thinner is sown again (our choice)
NOTICED = 14  # days from coming up after which no word of a loss says that it did (our choice)
SPOILT = 0.5  # of its quality left by heat: less counts as spoilt
FLOWERS = 0.7  # of the thermal time: the flowers of the first pods open, three weeks before (memory; O10)


def parameter_draws(crop: Crop, years: int, seed: int) -> Floats:
    """Factors on the thermal time, one a year: the spread of what is not known of the crop (growth D7).

    Stratified normal draws, shuffled, so that few years still hold the whole spread; shape (years, 1).
    """
    shuffled = stream(seed, "thermal time", crop.key).permutation(_levels(years))
    return np.asarray(np.exp(crop.thermal_time_sd * shuffled)[:, None])


@cache
def _levels(years: int) -> Floats:
    """The middles of so many equal parts of a normal distribution."""
    normal = NormalDist()
    return np.array([normal.inv_cdf((i + 0.5) / years) for i in range(years)])


def bench_for(way: Way, settings: Settings) -> Setting | None:
    return settings.bench(way.bench) if way.name == "raised" else None


@dataclass(frozen=True, slots=True)
class Begun:
    """Sowings as far as all purposes share it that the same seed is sown for, at one depth and
    with the same limits (years, n)."""

    start: Start
    bolt: Ints
    """day it runs to seed by the crop's own rules"""
    hot: Bools
    """too hot to start"""
    up: NDArray[np.int16]
    place: NDArray[np.int16]
    emerged: NDArray[np.float32]
    """of the start, as outcomes keep it"""


def begin(
    crop: Crop, way: Way, cover: CoverName, settings: Settings, sow: Ints, seen: Seen | None = None
) -> Begun:
    """How sowings on the axis days `sow` (n,) begin, whatever they are grown for; `seen` as of `grow`."""
    here, bench = settings.cover(cover), bench_for(way, settings)
    days = np.tile(sow, (here.years, 1))  # laid out whole, as the many searches from them want it
    bare = bare_ground(settings, way, cover, crop.spacing.depth)
    begun = start(crop, way, here, bench, days, seen, bare)
    return Begun(
        begun, bolts(crop, here, bench, begun), hot_start(crop, here, days, way, begun) & (seen is None),
        begun.up.astype(np.int16), begun.place.astype(np.int16), _emerged(way, begun),
    )


def _emerged(way: Way, begun: Start) -> NDArray[np.float32]:
    """As outcomes keep it: where sets and cloves are planted one number stands for all."""
    if way.name == "planted":
        return np.broadcast_to(np.float32(1.0), begun.emerged.shape)
    return begun.emerged.astype(np.float32)


def grow(
    crop: Crop,
    way: Way,
    cover: CoverName,
    settings: Settings,
    sow: Ints,
    thermal_factor: Floats,
    purpose: Purpose,
    seen: Seen | None = None,
    shared: Begun | None = None,
) -> Outcome:
    """What becomes of sowings on the axis days `sow` (n,) in every year; thermal_factor (years, 1).

    `seen` are days on which they were up, planted out, picked or alive; they go before what is reckoned.
    `shared`: how they begin, where that is known from another purpose.
    """
    here, common = settings.cover(cover), shared or begin(crop, way, cover, settings, sow, seen)
    begun, days = common.start, np.broadcast_to(sow, (here.years, sow.size))
    thermal_time = crop.thermal_time * purpose.thermal_share * thermal_factor
    bare = bare_ground(settings, way, cover, crop.spacing.depth)
    alive = _alive_on(seen, days)
    full_grown = _filled(crop, here, begun, thermal_time, alive)
    due, size = full_grown, np.ones(full_grown.shape)
    if any_size(crop, purpose):
        dies = killed(crop, here, begun, thermal_time, full_grown, alive)
        due, size = at_its_size(crop, here, begun, sow, thermal_time, full_grown, dies)
    first = as_seen(due, None if seen is None else seen.first)
    size = np.where(first == due, size, 1.0)  # what was picked was of a size to pick
    bolt = np.minimum(common.bolt, bolts_overgrown(crop, here, begun, days))
    bolt = np.where(bolt < alive, here.days, bolt)
    frost = killed(crop, here, begun, thermal_time, first, alive)
    full = full_harvest(crop, here, first)
    eaten = picking_ends(crop, here, np.maximum(first, alive))
    last = np.minimum(np.minimum(full, bolt), np.minimum(eaten, wilts(crop, here, first)))
    quality, best = left_by_heat(crop, here, begun, first, np.maximum(last, first))
    living = _living(crop, bare, days, begun.up, alive, seen)
    by_rain = _by_rain(crop, way, settings, cover, days, begun, first, last)
    parched = (by_rain < LEAST_YIELD) & (first > alive)
    fate = _fate(days, begun, common.hot, living < LEAST_STAND, parched, first, frost, bolt, best, here.days)
    good = (fate == Fate.GOOD) | (fate == Fate.HEAT)
    last = np.where(good, np.maximum(last, first), first)
    part = share_had(crop, here, first, last, full) * bulb_size(crop, here, begun) * size * living * by_rain
    share, day = np.where(good, part, 0.0), first.astype(np.int16)
    grown = day if first is full_grown else np.maximum(full_grown, first).astype(np.int16)
    return Outcome(
        crop, cover, way, purpose, here.days, sow,
        up=common.up, place=common.place, first=day, grown=grown, last=last.astype(np.int16),
        fate=fate, share=share.astype(np.float32), quality=quality.astype(np.float32),
        emerged=common.emerged,
    )


def _alive_on(seen: Seen | None, days: Ints) -> Ints:
    """The day up to which nothing can have ended a sowing; (years, n)."""
    return days if seen is None or seen.alive is None else np.maximum(days, seen.alive)


def _filled(crop: Crop, here: Setting, begun: Start, thermal_time: Floats, alive: Ints) -> Ints:
    """First picking: pods and fruits that are due in the cold wait for warmth, if the plant lives; not where
    it flowered before a midwinter with frosts, or, of what frost kills, ripened before a mild one, to no
    avail, nor, of what needs more warmth than most, from before the season became too cool for it (O10); but
    where it was seen `alive` past that."""
    first = ripe(crop, here, begun, thermal_time)
    warm = crop.limits.fill_mean is not None
    if not warm and (crop.harvest.profile != "picking" or crop.cold_heading is not None):
        return first
    filled = fruiting_starts(crop, here)[first]
    if warm:
        over = grows_cool(crop, here)[begun.place]
    elif flowers_on(crop, here):
        over = np.full_like(first, here.days)
    elif has_frosts(here):
        flowered = ripe(crop, here, begun, FLOWERS * thermal_time)
        over = np.where(first < filled, midwinter(here)[flowered], here.days)
        if not crop.tender:
            pods = _from_flower(crop, here, flowered, thermal_time)
            filled = np.where(over < filled, filled, np.maximum(filled, pods))
    else:
        over = midwinter(here)[first]
    return np.asarray(np.where((over < filled) & (alive <= over), here.days, filled))


def _from_flower(crop: Crop, here: Setting, flowered: Ints, thermal_time: Floats) -> Ints:
    """First pods of plants that flower while it is usually too cool to fill any: they have all their growth
    to make from the middle of the year's own first three weeks that are warm enough (O10)."""
    ahead = here.hot(fills_from(crop, here), np.maximum(flowered - HEAT_DAYS // 2, 0)) + HEAT_DAYS // 2
    cold = fruiting_starts(crop, here)[flowered] > flowered
    opened = np.where(cold, np.minimum(np.maximum(ahead, flowered), here.days), flowered)
    return here.growth_clock(crop.development).reach(opened, (1.0 - FLOWERS) * thermal_time)


def _living(
    crop: Crop, bare: Bare | None, sow: Ints, up: Ints, alive: Ints, seen: Seen | None,
    by: int | None = None,
) -> Floats:
    """Share of its stand that the drought of ground that nobody waters leaves a sowing in place, `by` a day
    or in the end; all of one that was seen above the ground, or should long be up with no word of a loss up
    to the day on which it was `alive`."""
    if bare is None:
        return np.ones(up.shape)
    known = seen_up(seen, sow[0])[None, :] | (up + NOTICED <= alive)
    until = up if by is None else np.minimum(up, by)
    return np.where(known, 1.0, bare.living(crop.emergence, sow, until))


def _by_rain(
    crop: Crop, way: Way, settings: Settings, cover: CoverName, sow: Ints, begun: Start, first: Ints,
    last: Ints,
) -> Floats:
    """Share of a watered yield, all where somebody waters; (years, n)."""
    end = drinks_until(crop, first, last)
    begins = begun.place if way.name == "raised" else sow
    found = yield_by_rain(crop, settings, cover, begins, begun.place, end)
    return np.ones(first.shape) if found is None else found


def drinks_until(crop: Crop, first: Ints, last: Ints) -> Ints:
    """The day to which water makes its yield: its last picking, or the first of what only stands after it."""
    return last if crop.harvest.profile in ("picking", "cut") else first


def dried_by(
    day: int, crop: Crop, way: Way, cover: CoverName, settings: Settings, sow: Ints, seen: Seen
) -> Floats:
    """Share of years in which sowings under way had dried out by an axis day, nobody watering; (n,)."""
    here, days = settings.cover(cover), np.broadcast_to(sow, (settings.weather.years, sow.size))
    bare = bare_ground(settings, way, cover, crop.spacing.depth)
    if bare is None:
        return np.zeros(sow.size)
    up = start(crop, way, here, None, days, seen, bare).up
    living = _living(crop, bare, days, up, _alive_on(seen, days), seen, day)
    return np.asarray((living < LEAST_STAND).mean(axis=0))


def _fate(
    sow: Ints,
    begun: Start,
    hot: Bools,
    dried: Bools,
    parched: Bools,
    first: Ints,
    frost: Ints,
    bolt: Ints,
    kept: Floats,
    never: int,
) -> np.ndarray[tuple[int, ...], np.dtype[np.int8]]:
    """The first thing that happens decides; see Fate."""
    frosted = (frost < first) & (frost <= bolt)
    bolted = (bolt < first) & ~frosted
    late: Bools = (first >= never) | (first - sow > LONGEST_WAIT_FOR_CROP)
    fate = np.full(first.shape, int(Fate.GOOD), dtype=np.int8)
    for what, happens in (
        (Fate.HEAT, kept < SPOILT), (Fate.PARCHED, parched), (Fate.TOO_LATE, late), (Fate.BOLTED, bolted),
        (Fate.FROSTED, frosted), (Fate.DRIED, dried), (Fate.TOO_COLD, ~begun.warm), (Fate.TOO_HOT, hot),
    ):  # the last said is the first to happen  # fmt: skip
        np.copyto(fate, int(what), where=happens)
    return fate
