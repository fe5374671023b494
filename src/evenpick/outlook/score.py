"""How good each sow day is, and what speaks against it (growth H4 to H7).

All results have shape (n,), one for each sow day, over all years of the ensemble.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.crops.crop import Crop
from evenpick.outlook.against import (
    AGAINST,
    HEAT_TAKES,
    MAY_WAIT,
    TOO_DARK,
    lost_to,
    share_of_fates,
    spoilt_years,
    too_late_for,
    worst_of,
)
from evenpick.outlook.first_frost import time_to_spare, too_near
from evenpick.outlook.neighbours import best_about
from evenpick.outlook.outcome import FATE_WORDS, LEAST_SHARE, Fate, Outcome
from evenpick.outlook.over_years import mean_where, quantiles, share_of_years
from evenpick.outlook.patience import patience
from evenpick.outlook.season import (
    LASTS,
    OVERWINTERING,
    SEASONAL,
    bulbs_at_any_time,
    in_season,
    served_without_early,
    sown_in_the_dark,
)
from evenpick.outlook.setting import Setting
from evenpick.outlook.usual_year import growth_comes_back, midwinter, usual_mean

LEAST_BULB = 0.55  # of it for bulbs, which nobody grows to be sets (tuned)
LEAST_PICKING = 0.25  # of it for what is picked or cut over weeks: growers sow on for a short one (memory)
LEAST_LEFT = 0.15  # of a harvest of pods and fruits that heat leaves, the years together (memory)
SHARE_POWER = 0.3  # of the share of a full harvest: a short picking is still worth sowing for (tuned)
WORTH = 0.65  # (tuned)
SUCCEEDS = 0.3  # of the years at least, not spoilt by heat: else no day is a good one (tuned)
RELIABLE = 0.55  # of the years: a crop that gives in as many wants no early kinds (our choice)
SUCCEEDS_IN_HASTE = 0.5  # the same where no sowing leaves time to spare before the season's end (our choice)
STAND_POWER = 0.5  # of the stand: where few come up a grower sows thicker (tuned)
LEVERAGE_DAYS = 24
LEVERAGE = (0.35, 2.5)  # (tuned)
WAITING_COSTS = 0.05  # of the years: waiting 24 days that loses more does cost something (our choice)


@dataclass(frozen=True, slots=True)
class Score:
    """What the ensemble says of each sow day of one outcome."""

    success: Floats
    """share of years with at least 0.4 of a harvest, warm enough and the ground workable, in season or not"""
    sound: Floats
    """the same of years whose harvest heat does not spoil: what growers are told"""
    quality: Floats
    days: Mapping[int, Floats]
    """days to first picking at 10, 50 and 90 % of the years that succeed; NaN where fewer than 1 in 5"""
    leverage: Floats
    """d(first picking)/d(sow day); NaN where not to be told"""
    score: Floats
    worth: Bools
    matters: Bools
    """its day matters: waiting costs something, and a day does not cost several; no where it is not told"""
    possible: Bools
    """sound often enough and counts as much as a day worth it, in its good time or not"""
    nearly: Bools
    """worth it, or but for a leverage that is too low: a few weeks of such days part no window"""
    against: tuple[str, ...]
    """the commonest thing that speaks against each day"""
    losses: Mapping[str, Floats]
    """share of the years lost to each cause; of what is no loss of years, how much it weighs"""

    def reliable(self) -> bool:
        """Whether most years give a good harvest of some day worth sowing."""
        return bool((self.worth & (self.sound >= RELIABLE)).any())


def wants_early_kinds(crop: Crop, here: Setting, common: Iterable[Score]) -> bool:
    """Whether early kinds are worth growing: something ends the season, or no kind is too late, and on no day
    worth sowing do most years give a good harvest of the `common` ones."""
    return not served_without_early(crop, here) and not any(scored.reliable() for scored in common)


def succeeded(outcome: Outcome) -> Bools:
    """A harvest worth the name; (years, n)."""
    lived = (outcome.fate == Fate.GOOD) | (outcome.fate == Fate.HEAT)
    return np.asarray(lived & (outcome.share >= _least(outcome.crop)))


def _least(crop: Crop) -> float:
    """Share of a full harvest that is worth the name."""
    if crop.bulbing is not None:
        return LEAST_BULB
    return LEAST_PICKING if crop.harvest.profile in ("picking", "cut") else LEAST_SHARE


def days_to_first(outcome: Outcome, counted: Bools) -> Floats:
    """Days from sowing to first picking, NaN where not counted; (years, n)."""
    return np.where(counted, outcome.first.astype(np.float64) - outcome.sow, np.nan)


def leverage(first: Floats) -> Floats:
    """Slope over 24 days of the median day of first picking against consecutive sow days; (n,)."""
    return _risen(first) / np.maximum(_risen(np.arange(first.size)), 1)


def _risen(value: Floats | Ints) -> Floats:
    """Change of what is told for consecutive sow days over the 24 days about each; (n,)."""
    half = LEVERAGE_DAYS // 2
    after = np.minimum(np.arange(value.size) + half, value.size - 1)
    before = np.maximum(np.arange(value.size) - half, 0)
    return np.asarray(value[after] - value[before], dtype=np.float64)


def score(outcome: Outcome, here: Setting, ground: Floats | None, year: int | None = None) -> Score:
    """Score sow days that are consecutive; `ground` (years, days), how far it lets them be sown, where that
    counts; `year` the days after which they come round again, where they do: 1 January has neighbours in
    December."""
    lived, timely = succeeded(outcome), in_season(outcome, here)
    able = None if ground is None else ground[:, outcome.sow]
    days = quantiles(days_to_first(outcome, lived))
    quality, share = mean_where(outcome.quality, lived), mean_where(outcome.share, lived)
    success, sound, serving = (
        share_of_years(years) if able is None else (able * years).mean(axis=0)
        for years in (lived, lived & (outcome.fate == Fate.GOOD), lived & timely)
    )
    stand = _stand(outcome)
    eaten = quality**SHARE_POWER if outcome.crop.sets_again else quality
    unhurried = serving * eaten * stand**STAND_POWER * share**SHARE_POWER
    waited, together = _waited(outcome, here, days[50]), _pods_of_spring(outcome)
    slow = patience(outcome.crop, outcome.way, waited, serving, unhurried, year, together)
    raw = unhurried * slow
    relative = raw / best_about(raw, year, outcome.crop.tender)
    steep = leverage(outcome.sow + days[50])
    asked = steep if asks_leverage(outcome) else np.full_like(steep, np.nan)
    with np.errstate(invalid="ignore"):
        low, high = asked < LEVERAGE[0], asked > LEVERAGE[1]
    low &= _risen(serving) > -WAITING_COSTS
    enough = (relative >= WORTH) & (sound >= SUCCEEDS)
    possible = enough & (quality * share >= LEAST_LEFT) if outcome.crop.sets_again else enough
    good = enough & ~high
    spare = time_to_spare(outcome, here, days[50])
    near = too_near(outcome.crop, ~spare, good & (sound >= SUCCEEDS_IN_HASTE), ~low, relative)
    fit = good & ~near & possible
    end = too_late_for(outcome.crop, here)
    taken = np.where(lived.any(axis=0), 1.0 - quality, 0.0)
    fates = share_of_fates(outcome)
    spoilt = spoilt_years(fates[Fate.HEAT], taken)
    losses = {
        TOO_DARK: 1.0 * sown_in_the_dark(outcome, here),
        **lost_to(outcome, fates, lived, timely, able),
        FATE_WORDS[Fate.HEAT]: np.where(spoilt, taken, 0.0), HEAT_TAKES: np.where(spoilt, 0.0, taken),
        "slow growth": 1.0 - slow, "few come up": 1.0 - stand,
        MAY_WAIT: AGAINST * low, "each day's delay costs several": AGAINST * high, end: AGAINST * near,
    }
    never = np.zeros(outcome.sow.size)  # one for all that never strikes
    losses = {cause: share.copy() if share.any() else never for cause, share in losses.items()}
    matters = np.isfinite(asked) & ~(low | high)
    return Score(success, sound, quality, days, steep, relative, fit & ~low, matters, possible, fit,
                 worst_of(losses), losses)


def _stand(outcome: Outcome) -> Floats:
    """Share of the seed that comes up, of the best sow day's; (n,). Cold or hot ground thins the stand."""
    emerged = outcome.emerged.mean(axis=0, dtype=np.float64)
    return np.asarray(emerged / max(float(emerged.max()), 1e-9))


def asks_leverage(outcome: Outcome) -> bool:
    """Not of what waits for cold, long days, a season or the winter's end: it ripens together whenever it was
    sown (growth H5)."""
    crop = outcome.crop
    seasonal = crop.season is not None and outcome.purpose.name in SEASONAL
    waits = crop.cold_heading is not None or crop.bulbing is not None or seasonal
    return not waits and outcome.purpose.name != OVERWINTERING


def _pods_of_spring(outcome: Outcome) -> bool:
    """Peas and beans sown before the winter: their pods wait for the same warm days."""
    return outcome.purpose.name == OVERWINTERING and outcome.crop.harvest.profile == "picking"


def _waited(outcome: Outcome, here: Setting, days: Floats) -> Floats:
    """Days until it is picked: what overwinters is not wanted before the winter's end, and leaf that was cut
    before it is cut again when growth comes back; (n,). Bulbs that are set out at any time wait for the cool
    months' end alone where the rest of the year is warmer than they grow best."""
    if outcome.purpose.name != OVERWINTERING:
        return days
    if bulbs_at_any_time(outcome.crop, here) and usual_mean(here).max() <= outcome.crop.development.optimum:
        return days
    lasts = outcome.crop.harvest.profile in LASTS
    over = growth_comes_back(outcome.crop.development, here) if lasts else midwinter(here)
    return np.asarray(np.maximum(days, over[outcome.sow] - outcome.sow))
