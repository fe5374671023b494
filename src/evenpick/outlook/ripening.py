"""What a square metre of each sowing gives, week by week, and until when each week's part is good.

Weeks are counted from the axis's day 0, which must be a Monday (docs/design/days.md).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.crops.clock import at_days
from evenpick.crops.crop import Crop
from evenpick.outlook.heat import flowers_spared
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.picking import picked_share, smooth
from evenpick.outlook.setting import Setting

SPREAD = 0.12  # of the days from sowing to picking over which one sowing's plants ripen (memory)
SPREAD_DAYS = (4.0, 21.0)
LONGEST_KEPT = 2  # weeks that fresh produce without a store is kept once picked (common practice, no source)
LEAST_PART = 0.01  # of a harvest: a smaller part of a week is left out, the rest scaled to keep the sum


@dataclass(frozen=True, slots=True)
class Ripening:
    """Entries: `share` of the full yield of sowing `n` in year `y` is ripe in week `ripe`, good to `last`."""

    sowing: Ints
    year: Ints
    ripe: Ints
    last: Ints
    share: Floats


def ripening(outcome: Outcome, here: Setting, weeks: int) -> Ripening:
    """Every week's part of every sowing's harvest within the first `weeks` weeks."""
    first, last = outcome.first.astype(np.int64), outcome.last.astype(np.int64)
    alive = _alive(outcome)
    part, whole = _parts(outcome, here, first, last, weeks)
    total = (outcome.share * outcome.quality).astype(np.float64)
    part *= np.where(alive, total / np.maximum(whole, 1e-9), 0.0)[:, :, None]
    year, sowing, week = np.nonzero(part > LEAST_PART)
    share = part[year, sowing, week]
    kept = np.bincount(year * first.shape[1] + sowing, share, first.size).reshape(first.shape)
    share = share * (part.sum(axis=2) / np.maximum(kept, 1e-9))[year, sowing]
    good_to = _good_to(outcome, here, last, year, sowing, week)
    return Ripening(sowing, year, week, np.minimum(good_to, weeks - 1), share)


def cleared(outcome: Outcome, here: Setting) -> Ints:
    """The day a sowing's ground is free again; (years, n)."""
    last = outcome.last.astype(np.int64)
    if outcome.crop.harvest.profile == "stored":
        first = outcome.first.astype(np.int64)
        return np.minimum(last, first + np.ceil(_spread(outcome, first)).astype(np.int64) + 7)
    return last


def _alive(outcome: Outcome) -> Bools:
    return np.asarray((outcome.fate == Fate.GOOD) | (outcome.fate == Fate.HEAT))


def _spread(outcome: Outcome, first: Ints) -> Floats:
    return np.asarray(np.clip(SPREAD * (first - outcome.sow), *SPREAD_DAYS))


def _parts(outcome: Outcome, here: Setting, first: Ints, last: Ints, weeks: int) -> tuple[Floats, Floats]:
    """What ripens in each of the first `weeks` weeks (years, n, weeks), and what that comes to in the end."""
    if not outcome.crop.sets_again:
        released = _released(outcome, here, first, last, weeks)
        return _steps(released), _whole(outcome, here, first, last)
    every = -(-here.days // 7)
    part = _steps(_released(outcome, here, first, last, every))
    part *= _spared(outcome.crop, here, every)[:, None, :]
    return part[:, :, :weeks], part.sum(axis=2)


def _steps(released: Floats) -> Floats:
    """What each week adds; (years, n, weeks)."""
    part = released.copy()
    part[:, :, 1:] -= released[:, :, :-1]
    return part


def _spared(crop: Crop, here: Setting, weeks: int) -> Floats:
    """Share of each week's pods and fruits whose flowers set; (years, weeks)."""
    middle = np.minimum(_week_ends(weeks) - 4, here.days)
    return flowers_spared(crop, here, np.broadcast_to(middle, (here.years, weeks)))


def _week_ends(weeks: int) -> Ints:
    return (np.arange(weeks) + 1) * 7


def _released(outcome: Outcome, here: Setting, first: Ints, last: Ints, weeks: int) -> Floats:
    """Share of the harvest that has become ripe by each week's end; (years, n, weeks)."""
    ends = _week_ends(weeks)[None, None, :]
    harvest = outcome.crop.harvest
    if harvest.profile in ("picking", "cut"):
        return _grown_share(outcome.crop, here, first, last, weeks)
    done = (ends - first[:, :, None]) / _spread(outcome, first)[:, :, None]
    return smooth(np.clip(done, 0.0, 1.0, out=done))


def _grown_share(crop: Crop, here: Setting, first: Ints, last: Ints, weeks: int) -> Floats:
    """By the growth made since the first picking, not past the last."""
    growth = here.growth_clock(crop.development)
    ends = np.minimum(_week_ends(weeks), growth.days)
    at_end = growth.total[:, ends][:, None, :]
    at_first, at_last = (at_days(growth.total, day)[:, :, None] for day in (first, last))
    grown = np.clip(np.minimum(at_end, at_last) - at_first, 0.0, None)
    if crop.harvest.profile == "picking":
        return picked_share(crop, grown)
    return np.where(ends[None, None, :] > first[:, :, None], _leaf_share(crop, grown), 0.0)


def _leaf_share(crop: Crop, grown: Floats) -> Floats:
    """The first cut at once, the others as they grow again (a picker takes outer leaves week by week)."""
    again = np.clip(grown / ((crop.harvest.cuts - 1) * crop.harvest.regrowth), 0.0, 1.0)
    return np.asarray((1 + (crop.harvest.cuts - 1) * again) / crop.harvest.cuts)


def _whole(outcome: Outcome, here: Setting, first: Ints, last: Ints) -> Floats:
    """What `released` comes to in the end, so that the parts sum to the outcome's share; (years, n)."""
    crop = outcome.crop
    if crop.harvest.profile not in ("picking", "cut"):
        return np.ones(first.shape)
    grown = here.growth_clock(crop.development).between(first, last)
    return picked_share(crop, grown) if crop.harvest.profile == "picking" else _leaf_share(crop, grown)


def _good_to(
    outcome: Outcome, here: Setting, last: Ints, year: Ints, sowing: Ints, week: Ints
) -> Ints:
    """The last week in which each part can be used."""
    harvest, kept = outcome.crop.harvest, keeps(outcome.crop)
    if harvest.profile == "stored":
        return np.asarray(week + kept)
    if harvest.profile == "picking":
        return np.asarray(week + kept)
    if harvest.profile == "cut":
        stands = np.minimum(_leaf_stands(outcome.crop, here, year, week), last[year, sowing] // 7)
        return np.maximum(week, stands) + kept
    standing = np.maximum(last[year, sowing] // 7, week)
    return np.asarray(standing + kept)


def keeps(crop: Crop) -> int:
    """Weeks for which it is good once picked or lifted."""
    harvest = crop.harvest
    fresh = round(min(harvest.keep_weeks, LONGEST_KEPT))
    return fresh if harvest.profile in ("picking", "cut") else max(round(harvest.store_weeks), fresh)


def lies(crop: Crop) -> int:
    """Weeks of those in which it is good that it must have been picked for; what goes to store may be lifted
    later."""
    return 0 if crop.harvest.profile == "stored" else keeps(crop)


def _leaf_stands(crop: Crop, here: Setting, year: Ints, week: Ints) -> Ints:
    """The week to which leaf of a week stays fit to cut, or to which no frost takes it."""
    hold = here.hold_clock()
    ends = np.minimum(np.arange(hold.days // 7 + 1) * 7, hold.days)
    day = np.broadcast_to(ends, (here.years, ends.size))
    frost = here.frost(crop.limits.kill_edible, day, low=not crop.spacing.tall)
    until = np.minimum(hold.reach(day, crop.harvest.stand), frost) // 7
    return np.asarray(until[year, np.minimum(week, ends.size - 1)])
