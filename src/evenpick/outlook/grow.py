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
from evenpick.crops.clock import mean_between
from evenpick.crops.crop import Crop, Purpose, Way
from evenpick.crops.hazards import heat_quality
from evenpick.outlook.drying import Bare, bare_ground
from evenpick.outlook.frosts import killed, picking_ends
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.season import (
    bolts_overgrown,
    fruiting_ends,
    fruiting_starts,
    grows_cool,
    has_frosts,
    midwinter,
)
from evenpick.outlook.setting import HEAT_DAYS, Setting, Settings
from evenpick.outlook.stages import (
    Seen,
    Start,
    as_seen,
    bolts,
    bulb_size,
    ripe,
    seen_up,
    start,
)
from evenpick.outlook.undersized import any_size, at_its_size

LEAST_HOLD = 2  # days that anything ripe can be picked, however hot (growth H1)
ENOUGH_HOLD = 7  # days of standing in which a whole sowing can be picked
LONGEST_WAIT_FOR_CROP = 420  # days from sowing; what takes longer is not a crop of this sowing
START_HEAT = 5.0  # °C over the mean at which the ripening crop loses half its quality (tuned)
STAND_HEAT = 2.0  # the same of weeks that fruit which is to set again and again stands through (tuned)
OVER = 0.5  # °C over the greatest mean it grows well in: half its quality is lost (tuned)
LEAST_STAND = 1 / 3  # of a drill that drought leaves: what is thinner is sown again (our choice)
NOTICED = 14  # days from coming up after which no word of a loss says that it did (our choice)
SPOILT = 0.5  # of its quality left by heat: less counts as spoilt
USUAL_SET_DAYS = 14  # from flower to picking (growth H3)
SET_AROUND = 8  # days either side of the flower that count (growth H3)
FLOWERS = 0.7  # of the thermal time: the flowers of the first pods open, three weeks before (memory; O10)
SPELLS = (1 / 6, 3 / 6, 5 / 6)  # of the growth made while it is picked: heat is judged at each


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
    days = np.broadcast_to(sow, (here.years, sow.size))
    bare = bare_ground(settings, way, cover, crop.spacing.depth)
    begun = start(crop, way, here, bench, days, seen, bare)
    return Begun(
        begun, bolts(crop, here, bench, begun), _hot_start(crop, here, days, way, begun) & (seen is None),
        begun.up.astype(np.int16), begun.place.astype(np.int16), begun.emerged.astype(np.float32),
    )


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
    full = _full_harvest(crop, here, first)
    eaten = picking_ends(crop, here, np.maximum(first, alive))
    last = np.minimum(np.minimum(full, bolt), np.minimum(eaten, _wilts(crop, here, first)))
    quality, best = _heat(crop, here, begun, first, np.maximum(last, first))
    living = _living(crop, bare, days, begun.up, alive, seen)
    fate = _fate(days, begun, common.hot, living < LEAST_STAND, first, frost, bolt, best, here.days)
    good = (fate == Fate.GOOD) | (fate == Fate.HEAT)
    last = np.where(good, np.maximum(last, first), first)
    part = _share(crop, here, first, last, full) * bulb_size(crop, here, begun) * size * living
    share = np.where(good, part, 0.0)
    return Outcome(
        crop, cover, way, purpose, here.days, sow,
        up=common.up, place=common.place, first=first.astype(np.int16),
        grown=np.maximum(full_grown, first).astype(np.int16), last=last.astype(np.int16),
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
    elif _flowers_on(crop, here):
        over = np.full_like(first, here.days)
    elif has_frosts(here):
        flowered = ripe(crop, here, begun, FLOWERS * thermal_time)
        over = np.where(first < filled, midwinter(here)[flowered], here.days)
    else:
        over = midwinter(here)[first]
    return np.asarray(np.where((over < filled) & (alive <= over), here.days, filled))


def _flowers_on(crop: Crop, here: Setting) -> bool:
    """Whether it stands in flower through the winter: pods that bear frost, where winters are mild (O10)."""
    return not crop.tender and not has_frosts(here)


def _full_harvest(crop: Crop, here: Setting, first: Ints) -> Ints:
    """The end of picking or standing if neither frost nor bolting cuts it short (growth H1)."""
    harvest = crop.harvest
    if harvest.profile == "picking":
        span = here.growth_clock(crop.development).reach(first, harvest.span)
        # shoots after cold fill in the cool; pods and fruits do not (growth, known failures)
        whole = crop.cold_heading is not None or _flowers_on(crop, here)
        return span if whole else np.minimum(span, fruiting_ends(crop, here)[first])
    if harvest.profile == "cut":
        if harvest.years:  # it is cut again each year: only frost and heat end it
            return np.full_like(first, here.days)
        cut = here.growth_clock(crop.development).reach(first, harvest.cuts * harvest.regrowth)
        return cut if crop.limits.fill_mean is None else np.minimum(cut, fruiting_ends(crop, here)[first])
    held = here.hold_clock().reach(first, harvest.stand)
    return np.asarray(np.minimum(np.maximum(held, first + LEAST_HOLD), here.days))


def _share(crop: Crop, here: Setting, first: Ints, last: Ints, full: Ints) -> Floats:
    """How much of a full harvest is had between first picking and the end."""
    harvest = crop.harvest
    if harvest.profile in ("single", "standing", "stored"):
        enough = np.clip(full - first, LEAST_HOLD, ENOUGH_HOLD)
        return np.asarray(np.clip((last - first) / enough, 0.0, 1.0))
    grown = here.growth_clock(crop.development).between(first, np.minimum(last, here.days))
    return picked_share(crop, grown)


def picked_share(crop: Crop, grown: Floats) -> Floats:
    """Share of a full harvest picked once `grown` EDD have passed since the first picking (growth H1)."""
    harvest = crop.harvest
    if harvest.profile == "picking":
        return smooth(np.clip(grown / harvest.span, 0.0, 1.0))
    cut = 1 + np.floor(np.clip(grown / harvest.regrowth, 0.0, harvest.cuts - 1))
    return np.asarray(cut / harvest.cuts)


def smooth(done: Floats) -> Floats:
    """3d² - 2d³: from 0 to 1, slow at both ends."""
    found, less = done**2, done.copy()
    np.power(done, 3, out=less, where=(done > 0.0) & (done < 1.0))  # slow, and mostly all or nothing is done
    found *= 3
    less *= 2
    found -= less
    return np.asarray(found)


def _heat(crop: Crop, here: Setting, begun: Start, first: Ints, last: Ints) -> tuple[Floats, Floats]:
    """Quality that heat leaves (growth H3), and its best; of what is picked over weeks, along them (O6)."""
    third, kept = (first - begun.place) // 3, np.where(_scorched(crop, here, begun, first), 0.0, 1.0)
    if not crop.sets_again:
        late = _heat_on(crop, here, first, third)
        quality = kept * np.minimum(late, _heat_along(crop, here, begun, first))
        return quality, quality
    clock = here.growth_clock(crop.development)
    grown = clock.between(first, last)
    spells = [_heat_on(crop, here, clock.reach(first, spell * grown), third) for spell in SPELLS]
    return kept * np.mean(spells, axis=0), kept * np.max(spells, axis=0)


def _scorched(crop: Crop, here: Setting, begun: Start, first: Ints) -> Bools:
    """Whether it stands through three weeks that are too hot for it: nothing good is picked after (O6)."""
    over = crop.limits.heat_mean + (STAND_HEAT if crop.sets_again else START_HEAT)
    too_hot = over if crop.limits.heat_stand is None else crop.limits.heat_stand
    return np.asarray(here.hot(too_hot, begun.place) <= first - HEAT_DAYS)


def _heat_along(crop: Crop, here: Setting, begun: Start, first: Ints) -> Floats:
    """Of what grows through heat and ripens in the cool: by the whole of its growth in its place (O6)."""
    whole = mean_between(here.totals("tmean"), begun.place, np.maximum(first, begun.place + 1))
    return heat_quality(whole, crop.limits.heat_mean + OVER)


def _heat_on(crop: Crop, here: Setting, day: Ints, third: Ints) -> Floats:
    """Of what is picked on `day`: by the last third of growth, or by the days on which its flowers set."""
    if crop.limits.set_tmax is not None:
        return flowers_spared(crop, here, day)
    return heat_quality(mean_between(here.totals("tmean"), day - third, day), crop.limits.heat_mean + OVER)


def flowers_spared(crop: Crop, here: Setting, day: Ints) -> Floats:
    """Share of what is picked on `day` (years, n) that heat spared when its flowers were to set, 0 to 1; all
    of it where none must set (O6)."""
    limits = crop.limits
    if limits.set_tmax is None:
        return np.ones(day.shape)
    flower = day - round(limits.set_days or USUAL_SET_DAYS)
    first, last = np.maximum(flower - SET_AROUND, 0), np.maximum(flower + SET_AROUND, 1)
    mean = mean_between(here.totals("tmean"), first, last)
    set_share = mean_between(here.flowers_setting(limits.set_tmax, limits.set_tmin), first, last)
    return heat_quality(mean, limits.heat_mean + OVER) * set_share


def _wilts(crop: Crop, here: Setting, first: Ints) -> Ints:
    """The day on which heat ends the cutting of leaf: the end of the first weeks too hot for it (O5)."""
    if crop.harvest.profile != "cut":
        return np.full_like(first, here.days)
    return np.minimum(here.hot(crop.limits.heat_mean + START_HEAT, first) + HEAT_DAYS, here.days)


def _hot_start(crop: Crop, here: Setting, sow: Ints, way: Way, begun: Start) -> Bools:
    """Whether the weeks from its day on, that of sowing or, raised in shade, of planting out, are hotter than
    young plants of the crop can be brought through (memory), or it can't be started, or raised in time, in
    weeks hotter than it grows well in: then it is not cold that stops it."""
    limits = crop.limits
    too_hot = limits.heat_mean + START_HEAT if limits.heat_start is None else limits.heat_start
    days = (sow, begun.place) if way.name == "raised" else (sow,)
    warmer = np.any([here.hot(limits.heat_mean, day) == day for day in days], axis=0)
    return np.asarray((here.hot(too_hot, days[-1]) == days[-1]) | (~begun.warm & warmer))


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
    fate = np.full(first.shape, Fate.GOOD, dtype=np.int8)
    for what, happens in (
        (Fate.HEAT, kept < SPOILT), (Fate.TOO_LATE, late), (Fate.BOLTED, bolted), (Fate.FROSTED, frosted),
        (Fate.DRIED, dried), (Fate.TOO_COLD, ~begun.warm), (Fate.TOO_HOT, hot),
    ):  # the last said is the first to happen  # fmt: skip
        fate[happens] = what
    return fate
