"""What time of year a crop and purpose ask for: before growth stands still, or through the winter (H6)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Ints
from evenpick.base.trade import CoverName
from evenpick.crops.crop import EARLY, Crop
from evenpick.crops.hazards import next_frost
from evenpick.outlook.outcome import HARD_FREEZE, Outcome
from evenpick.outlook.setting import Setting
from evenpick.outlook.stages import SEEDLING_SHARE, Start, behind, days_for_keeping
from evenpick.outlook.usual_year import (
    FRUITING,
    HALF_YEAR,
    has_frosts,
    has_winter,
    midwinter,
    next_dark,
    next_fall,
    usual_mean,
    winter_standstill,
)

COOLER_FILLS = 4.0  # °C under a crop's own least mean for good growth and quality (our choice; O10)
BELOW_WARMEST = 1.0  # °C under the warmest weeks, of peas and beans that bear frost (our choice; O10)
LEAST_FILLS = 7.2  # °C: the least mean for peas' growth and quality (knott1997)
COOL = 14.5  # °C, 21-day mean: the season of what is for the winter begins below it
LESS = 3.0  # °C less than the warmest weeks, where that is cooler, as 14.5 is at 51.8° N (our choice)
STORING, WINTER_USE = "storing", "winter use"
SEASONAL = (WINTER_USE, STORING)
"""purposes that ask for the crop's season"""
LASTS = ("cut", "standing")
"""harvests that can be begun before the winter and go on after it"""
OVERWINTERING = "overwintering"
"""sown before the winter, picked after it, be it not for the first time"""
SOWN_BEFORE, PLANTED_BEFORE = 165, 120  # days before the coldest: earlier is too big by winter (memory)
COOL_ENOUGH_TO_ROOT = 10.0  # °C: 50 °F, garlic is planted sooner where autumn is so cool (common practice)
CHILLS = 15.0  # °C, the usual mean of the coldest weeks: over it no bulb is driven to seed (memory)
SHOOTS_BEFORE = 300  # the same of shoots that wait for cold: from spring on (O9; our choice)
LATEST_BEFORE = 45  # days before the coldest by which what overwinters is in the ground (memory)
STILL_PICKED = 45  # days after the coldest: what is there by then, if it was ready before winter (our choice)
LARGE_SEED = 10.0  # seeds a gram; fewer (peas, beans) may go in late (common practice, no source)
TROPICS = 13.5  # h: the longest day is shorter between the tropics
EQUAL = 12.0  # h, the day that is as long as its night
LONGER = 1.0  # h that the longest day has over what starts bulbs: from about 16° of latitude (our choice)


def fills_from(crop: Crop, here: Setting) -> float:
    """The usual mean under which its pods, fruits or roots no longer fill, °C: of what bears frost a little
    under the warmest weeks, where summers are hardly as warm as most fruit wants."""
    limits = crop.limits
    if limits.fill_mean is not None:
        return limits.fill_mean
    if not crop.tender:
        best = float(usual_mean(here).max())
        return min(FRUITING, max(best - BELOW_WARMEST, LEAST_FILLS))
    return FRUITING if limits.cool_mean is None else max(FRUITING, limits.cool_mean - COOLER_FILLS)


def fruiting_ends(crop: Crop, here: Setting) -> Ints:
    """For each day of the axis the first from it too cool for its pods and fruits to fill; (days + 1,)."""
    level = fills_from(crop, here)
    return here.once(("fruiting", level), lambda: next_frost(usual_mean(here)[None, :], level)[0])


def fruiting_starts(crop: Crop, here: Setting) -> Ints:
    """For each day of the axis the first from it warm enough for its pods and fruits to fill; (days + 1,)."""
    level = fills_from(crop, here)
    return here.once(("filling", level), lambda: next_frost(-usual_mean(here)[None, :], -level)[0])


def flowers_on(crop: Crop, here: Setting) -> bool:
    """Whether it stands in flower through the winter: pods that bear frost, where winters are mild (O10)."""
    return not crop.tender and not has_frosts(here)


def grows_cool(crop: Crop, here: Setting) -> Ints:
    """For each day of the axis the first after it on which the season turns too cool for it to fill; of a day
    that is too cool itself the coldest to come; past the axis where it never is; (days + 1,)."""
    level = fills_from(crop, here)
    return here.once(("cools", level), lambda: _cools(level, here))


def _cools(level: float, here: Setting) -> Ints:
    usual = usual_mean(here)
    falls = next_fall(usual, level)
    return np.minimum(falls, midwinter(here)) if usual.min() < level else falls


def sown_in_the_dark(outcome: Outcome, here: Setting) -> Bools:
    """Sow days too short to grow in, of small seed in place anywhere but in a tunnel; (n,) (O23)."""
    if outcome.way.name != "direct" or outcome.cover == "tunnel" or not _small_seed(outcome.crop):
        return np.zeros(outcome.sow.shape, dtype=bool)
    return np.asarray(next_dark(here)[outcome.sow] == outcome.sow)


def _small_seed(crop: Crop) -> bool:
    return (crop.spacing.seeds_per_g or 0.0) >= LARGE_SEED


def _large_seed(crop: Crop) -> bool:
    """Sets, cloves and tubers have no number a gram."""
    return 0.0 < (crop.spacing.seeds_per_g or 0.0) < LARGE_SEED


def served_without_early(crop: Crop, here: Setting) -> bool:
    """Whether no early kinds are asked for: where nothing ends the season no kind is too late. Of bulbs they
    are those that a short or warm winter is enough for (types.md)."""
    return crop.bulbing is None and not has_winter(here)


def bolts_overgrown(crop: Crop, here: Setting, begun: Start, sow: Ints) -> Ints:
    """The usually coldest day, for bulbs too big by then to winter without running to seed; past the axis for
    the rest, and where winters are too warm to drive them to it (years, n)."""
    most = None if crop.bulbing is None else crop.bulbing.most_leaf
    if most is None or usual_mean(here).min() >= CHILLS:
        return np.full_like(begun.place, here.days)
    coldest = midwinter(here)[sow]
    leaf = here.growth_clock(crop.development).between(begun.place, np.maximum(coldest, begun.place))
    return np.asarray(np.where((begun.place < coldest) & (leaf + begun.done > most), coldest, here.days))


def _picked_after(outcome: Outcome, coldest: Ints) -> Bools:
    """Whether it is picked when winter is over; leaf that is cut again and what stands may be begun before
    it; (years, n) (O9)."""
    after = outcome.first > coldest
    if outcome.crop.harvest.profile in LASTS:
        after |= outcome.last > coldest + STILL_PICKED
    return np.asarray(after)


def _winters(outcome: Outcome, here: Setting, coldest: Ints) -> Bools:
    """What stands in the open on the usually coldest day is no seedling then, nor when cold stops growth
    before it, and of a kind for the winter where the crop has one; (years, n). Not asked where neither cold
    nor short days ever stop growth, nor, of large seed, how big it is; under cover only that nothing to be
    stored stands there (O21)."""
    crop, way, place = outcome.crop, outcome.way, outcome.place.astype(np.int64)
    if outcome.cover == "open" and crop.limits.kill_plant > HARD_FREEZE and has_frosts(here):  # our choice
        return np.asarray((outcome.up >= coldest) | (outcome.first <= coldest))
    for_winter = outcome.purpose.name in _for_winter(crop, outcome.cover, here)
    if for_winter and (outcome.cover != "open" or way.name == "planted" or not _small_seed(crop)):
        return np.ones(place.shape, dtype=bool)
    still = winter_standstill(crop.development, here)[outcome.sow]
    winter = np.minimum(still, next_dark(here)[outcome.sow]) <= coldest
    stands = (place < coldest) & (outcome.first > coldest) & (winter | (crop.bulbing is not None))
    if not for_winter:
        return np.asarray(~stands)
    done = behind(way) if way.name == "raised" else 0.0
    grown = here.growth_clock(crop.development).between(place, np.maximum(np.minimum(still, coldest), place))
    full = crop.thermal_time if crop.bulbing is None else crop.bulbing.leaf
    return np.asarray(~stands | (grown + done >= SEEDLING_SHARE * full))


def _has_its_winter(crop: Crop, here: Setting) -> bool:
    """Whether there is a winter to stand; for bulbs, days that are short in one half of the year and long
    enough to start them in the other."""
    if crop.bulbing is None:
        return has_winter(here)
    return crop.bulbing.hours is None or float(here.hours.max()) >= crop.bulbing.hours + LONGER


def bulbs_at_any_time(crop: Crop, here: Setting) -> bool:
    """Whether kinds of bulb for short days are set out at any time of the year: between the tropics, where no
    winter drives them to seed; onions of the rains beside those of the cool months (O9)."""
    no_chill = float(usual_mean(here).min()) >= CHILLS
    return crop.bulbing is not None and no_chill and float(here.hours.max()) <= TROPICS


def _has_keeping_kinds(crop: Crop, here: Setting) -> bool:
    """Whether days grow long enough for its own kinds of bulb, those that keep; nearer the equator kinds for
    short days stand in for them, and where those have no season either, on its cool heights, each country has
    its own (O9)."""
    if crop.bulbing is None or days_for_keeping(crop.bulbing, here):
        return True
    others = (crop.grown_for(purpose) for purpose in crop.purposes if purpose.type is not None)
    return not any(_has_its_winter(one, here) or bulbs_at_any_time(one, here) for one in others)


def _for_winter(crop: Crop, cover: CoverName, here: Setting) -> set[str]:
    """Purposes for which it stands the winter: in the open overwintering, where there is a winter, else a
    season's, else any; under cover, and leaf, heads, peas and beans where winters are mild, any but
    storing."""
    own = {purpose.name for purpose in crop.purposes}
    if cover != "open" or (_stands_mild_winters(crop) and not has_frosts(here)):
        return own - {STORING}
    if not _has_its_winter(crop, here):
        own -= {OVERWINTERING}
    return own & {OVERWINTERING} or own & set(SEASONAL) or own


def _stands_mild_winters(crop: Crop) -> bool:
    """Leaf and heads, roots that have a season to be stored, and what is sown of large seed."""
    return crop.harvest.profile in LASTS or crop.season is not None or _large_seed(crop)


def in_season(outcome: Outcome, here: Setting) -> Bools:
    """Sown in enough light, and ready at the time of year that crop and purpose ask for; (years, n)."""
    return np.asarray(_timely(outcome, here) & ~sown_in_the_dark(outcome, here))


def _timely(outcome: Outcome, here: Setting) -> Bools:
    crop, first = outcome.crop, outcome.first.astype(np.int64)
    wait = midwinter(here)[outcome.sow] - outcome.sow
    early = wait > (PLANTED_BEFORE if outcome.way.name == "planted" else SOWN_BEFORE)
    if outcome.purpose.name == OVERWINTERING:
        if bulbs_at_any_time(crop, here):
            return np.ones(first.shape, dtype=bool)
        if not _has_its_winter(crop, here):
            return np.zeros(first.shape, dtype=bool)
        begun, coldest = outcome.place if outcome.way.name == "raised" else outcome.sow, outcome.sow + wait
        kept = _picked_after(outcome, coldest) & ~early & (coldest - begun >= _latest_before(outcome, here))
        return np.asarray(kept & _winters(outcome, here, coldest))
    if not _has_keeping_kinds(crop, here):
        return np.zeros(first.shape, dtype=bool)
    if crop.bulbing is not None and crop.bulbing.cold_days:
        early &= usual_mean(here)[outcome.sow] > COOL_ENOUGH_TO_ROOT
        return np.broadcast_to(_garlic_time(outcome, here, wait, early), first.shape)
    if crop.cold_heading is not None:
        # what is sown later than that stands the winter after
        spring = (wait <= SHOOTS_BEFORE) & (wait >= LATEST_BEFORE)
        return np.asarray(spring & _winters(outcome, here, outcome.sow + wait))
    if crop.bulbing is not None or crop.season is None or outcome.purpose.name not in SEASONAL:
        return _winters(outcome, here, outcome.sow + wait)
    cool = next_fall(usual_mean(here), _cool(here))[outcome.sow]
    # where it is never so warm, or never so cool, nothing is past its best before the winter
    earliest = np.where(cool < outcome.never, cool - crop.season.early_days, 0)
    timely = first <= winter_standstill(crop.development, here)[outcome.sow]
    return np.asarray(timely & (first >= earliest))


def _garlic_time(outcome: Outcome, here: Setting, wait: Ints, early: Bools) -> Bools:
    """Not while summer lasts; kinds of warm winters before they are half over, or little leaf is behind the
    bulb. Near the equator there is no summer to wait for."""
    if float(here.hours.max()) < EQUAL + LONGER:
        return np.ones_like(early)
    late = wait > HALF_YEAR * 2
    return np.asarray(~early | (late & (outcome.purpose.name != EARLY)))


def _latest_before(outcome: Outcome, here: Setting) -> int:
    """Days before the usually coldest by which what overwinters is in the ground; young onions are set out
    until that day where winters are mild (boyhan2009, kvkkapurthala), and beans whose seed may lie long in
    the cold are sown until it everywhere (winterbeans)."""
    if _large_seed(outcome.crop) and outcome.crop.emergence.lies is not None:
        return 0
    set_out = outcome.crop.bulbing is not None and outcome.way.name == "raised"
    return 0 if set_out and not has_frosts(here) else LATEST_BEFORE


def _cool(here: Setting) -> float:
    """The usual mean, °C, below which the season of what is for the winter begins."""
    return min(COOL, float(usual_mean(here).max()) - LESS)
