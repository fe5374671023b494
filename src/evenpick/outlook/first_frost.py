"""Is there time for it before the frost? How long before the usual first frost a crop is to be ripe (O18).

Counting back from the first frost is how planting calendars set their last dates: the days to harvest, the
period it is picked over, and two weeks more (fallformula). The days to harvest are the outlook's, which grow
longer in autumn by themselves.
"""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.unbroken import unbroken
from evenpick.crops.crop import Crop, Purpose
from evenpick.outlook.outcome import HARD_FREEZE, Outcome
from evenpick.outlook.season import OVERWINTERING, SEASONAL
from evenpick.outlook.setting import Setting
from evenpick.outlook.usual_year import has_frosts, midwinter, next_fall, usual_mean

FROST, SEVERE_FREEZE = 0.0, -4.4  # °C at the screen (severefreeze)
LIGHT_FREEZE = -1.0  # °C: 1 to 3 colder at the plant (frostlists); heads and pods are hurt (frostdamage)
HALF_HARDY = -5.0  # °C: a crop whose part eaten bears less is ended by that
HARDY = -12.0  # °C: one whose part eaten bears more is ended by a severe freeze (tuned), others by a hard one
PICKED_OVER, PICKED_FOR_WEEKS = 14, 28  # days of harvest of one sowing; of pods and fruits (memory)
TO_SPARE = 14  # days (fallformula)
SKINS_SET = 14  # days from full grown until tubers are lifted to keep (common practice, no source)
STANDS_ALL = -15.0  # °C: what bears so much on the part eaten is picked out of the snow (our choice)
COOL = 9.0  # °C, mean of 21 days: what bears frost stands through those of milder weeks (tuned)
WARM = 15.0  # °C, mean of 21 days: what frost kills bears until it is cooler where none is usual (tuned)
BELOW_BEST = 1.0  # °C under the warmest 21 days: the end where summers are hardly warm enough for it (tuned)
HALF = 0.5  # of the years
SUMMER = 150  # days either side within which the warmest day is the summer's
FEW_SPARED = 14  # days: fewer of them with time to spare are no season to sow in (our choice)
FEW_FOR_TUBERS = 28  # days: the same of what is lifted before a frost at the size it has (our choice)
BREAK = 7  # days: a shorter break parts no seasons
YEAR = 365
UNTIL = 300  # days after the warmest within which a frost is that winter's


def races_frost(crop: Crop, purpose: Purpose) -> bool:
    """Whether it is to be ripe before winter; not what waits for cold or long days, or has its season, or
    stands all that winters usually bring."""
    seasonal = crop.season is not None and purpose.name in SEASONAL
    waits = crop.cold_heading is not None or crop.bulbing is not None
    stands = purpose.name == OVERWINTERING or crop.limits.kill_edible <= STANDS_ALL
    return not (seasonal or waits or stands)


def time_to_spare(outcome: Outcome, here: Setting, median_days: Floats) -> Bools:
    """Sow days whose median sowing is ripe and picked two weeks before the usual first frost, or grows
    through the winter and is picked after it; (n,). What bears frost has until it grows cool, and no end
    where winters are mild: it is picked between frosts. What frost kills has until it grows cool there. True
    where there is no harvest to tell it by."""
    if not races_frost(outcome.crop, outcome.purpose) or not (outcome.crop.tender or has_frosts(here)):
        return np.ones(outcome.sow.size, dtype=bool)
    end = season_ends(outcome.crop, here)[outcome.sow]
    if ripens_to_keep(outcome.crop):
        median_days = np.median(outcome.grown, axis=0) - outcome.sow
    with np.errstate(invalid="ignore"):
        first = outcome.sow + median_days
        late = first + harvest_days(outcome.crop) + TO_SPARE > end
        return np.asarray(~late | (first > _winter_over(here, end)) | (end == here.days))


def too_near(crop: Crop, near: Bools, hasty: Bools, costs: Bools, relative: Floats) -> Bools:
    """Sow days too near the season's end; of a season of good `hasty` ones that has few with time to spare
    only what comes after the best. Of potatoes nothing where few of those are days on which waiting `costs`
    something: there they are lifted at the size they have."""
    late, tubers = near.copy(), hardy_tuber(crop)
    for season in seasons(hasty):
        if tubers and (~near & costs)[season].sum() < FEW_FOR_TUBERS:
            late[season] = False
        elif (~near[season]).sum() < FEW_SPARED:
            late[season[: int(relative[season].argmax()) + 1]] = False
    return late


def seasons(good: Bools) -> list[Ints]:
    """The days of each run of good ones, breaks that are noise bridged; what is good at both ends is one
    season round the New Year."""
    joined: list[tuple[int, int]] = []
    for first, last in unbroken(good):
        if joined and first - joined[-1][1] <= BREAK:
            first = joined.pop()[0]
        joined.append((first, last))
    found = [np.arange(first, last + 1) for first, last in joined]
    if len(found) > 1 and found[0][0] == 0 and found[-1][-1] == good.size - 1:
        found = [np.concatenate([found[-1], found[0]]), *found[1:-1]]
    return found


def ended_by_frost(crop: Crop, here: Setting) -> bool:
    """Whether frost is what usually ends the crop, here; where summer parts two seasons of what it kills, a
    frost of mild winters does."""
    frosty = has_frosts(here) or _parts_seasons(crop, here)
    return crop.tender and frosty and bool(usual_frosts(here, FROST)[0] < here.days)


def _parts_seasons(crop: Crop, here: Setting) -> bool:
    """Whether summer's best is past the crop's optimum, and so parts two seasons."""
    return float(usual_mean(here).max()) > crop.development.optimum


def season_ends(crop: Crop, here: Setting) -> Ints:
    """For each day of the axis the next on which the season of what races the frost is over; (days + 1,)."""
    if crop.tender and not ended_by_frost(crop, here):
        level = _warm_enough(crop, here)
        return here.once(("grows cool", level), lambda: next_fall(usual_mean(here), level))
    return usual_frosts(here, level_of(crop), once_cool=not crop.tender)


def _warm_enough(crop: Crop, here: Setting) -> float:
    """The usual mean at which the season of what frost kills ends where none is usual, °C: the crop's own
    (knott1997), or a little under the best there is. Where that is past the crop's optimum, summer parts two
    seasons, and the second may be as cool as any crop's."""
    own = crop.limits.cool_mean
    if own is None or _parts_seasons(crop, here):
        return WARM
    return max(WARM, min(own, float(usual_mean(here).max()) - BELOW_BEST))


def _winter_over(here: Setting, end: Ints) -> Ints:
    """The later of the season's end and its winter's coldest day, which mild winters have before a frost."""
    coldest = midwinter(here)[np.maximum(end - SUMMER, 0)]
    before_the_axis = coldest > end + SUMMER
    return np.where(before_the_axis, end, np.maximum(end, coldest))


def level_of(crop: Crop) -> float:
    if crop.tender:
        return FROST
    bears = crop.limits.kill_edible
    return SEVERE_FREEZE if bears <= HARDY else HARD_FREEZE if bears <= HALF_HARDY else LIGHT_FREEZE


def hardy_tuber(crop: Crop) -> bool:
    """Potatoes: lifted before a hard frost at whatever size they have."""
    return crop.bulbing is None and not crop.tender and any(way.name == "planted" for way in crop.ways)


def ripens_to_keep(crop: Crop) -> bool:
    """Potatoes that are full grown and have set their skins when they are lifted to keep."""
    return hardy_tuber(crop) and crop.harvest.profile == "stored"


def harvest_days(crop: Crop) -> int:
    if ripens_to_keep(crop):
        return SKINS_SET
    if crop.underground:
        return 0  # lifted in one go, and safe under tops that a frost has killed
    return PICKED_FOR_WEEKS if crop.harvest.profile == "picking" else PICKED_OVER


def usual_frosts(here: Setting, level: float, once_cool: bool = False) -> Ints:
    """For each day of the axis the next on which half of the years have had frost since summer; (days + 1,).
    `once_cool`: and on which it has grown cool as well, where it does before the next summer.

    Past the axis where fewer than half of the winters bring one.
    """
    return here.once(("usual frost", level, once_cool), lambda: _usual_frosts(here, level, once_cool))


def _usual_frosts(here: Setting, level: float, once_cool: bool) -> Ints:
    usual = usual_mean(here)
    around = np.lib.stride_tricks.sliding_window_view(
        np.pad(usual, SUMMER, constant_values=-np.inf), 2 * SUMMER + 1
    )
    frosts: set[int] = set()
    for warmest in np.flatnonzero(usual >= around.max(axis=1)):
        winter = slice(warmest, warmest + UNTIL)
        frost = np.quantile(_first(here.air.tmin[:, winter] < level, here.days), HALF, method="higher")
        cool = _first(usual[None, winter] < COOL, 0)[0] if once_cool else 0
        day = int(warmest + max(frost, cool))
        # one year's winter is as likely as the next's: the axis may begin after its own summer
        frosts |= {day, day - YEAR} if day < here.days else set()
    following = np.full(here.days + 1, here.days)
    for day in sorted((day for day in frosts if day >= 0), reverse=True):
        following[: day + 1] = day
    return following


def _first(holds: Bools, never: int) -> Ints:
    """The first day on which each row holds, else `never`; (rows, days) → (rows,)."""
    return np.where(holds.any(axis=1), holds.argmax(axis=1), never)
