"""How good each sow day is, and what speaks against it (growth H4 to H7).

All results have shape (n,), one for each sow day, over all years of the ensemble.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.crops.crop import Crop, Way
from evenpick.outlook.first_frost import ended_by_frost, time_to_spare, too_near
from evenpick.outlook.outcome import FATE_WORDS, LEAST_SHARE, Fate, Outcome, fate_word
from evenpick.outlook.reach import quickest_in_reach
from evenpick.outlook.season import (
    LASTS,
    OVERWINTERING,
    SEASONAL,
    growth_comes_back,
    in_season,
    midwinter,
    served_without_early,
    sown_in_the_dark,
)
from evenpick.outlook.setting import Setting

MAY_WAIT = "waiting costs nothing"
TOO_DARK = "days too short"
CUT_SHORT, OUT_OF_SEASON = "cut short before much is picked", "out of season"
TOO_WET, UNDER_SNOW = "ground too wet", "ground under snow"
TOO_COOL = "too cool by the time it is ripe"
HEAT_TAKES = "heat takes part of it"
"""where few years or none are spoilt by it"""
LEAST_BULB = 0.55  # of it for bulbs, which nobody grows to be sets (tuned)
LEAST_PICKING = 0.25  # of it for what is picked or cut over weeks: growers sow on for a short one (memory)
LEAST_LEFT = 0.15  # of a harvest of pods and fruits that heat leaves, the years together (memory)
SHARE_POWER = 0.3  # of the share of a full harvest: a short picking is still worth sowing for (tuned)
SLOW = 0.008  # per extra day (growth H4)
TENDER_SLOW = 0.024  # the same of what frost kills: it sulks in the cold and is caught up (tuned)
RAISED_TENDER_SLOW = 0.016  # and where it is raised in warmth for part of its days (tuned)
BULB_SLOW = 0.005  # the same where long days set the time of picking (memory)
COLD_SLOW = 0.003  # and where cold does (memory)
BEST_AT_LEAST = 0.35
NEIGHBOURS = 60  # days either side: a sowing is held against those that could be made about then (O7; tuned)
OF_SEASON = 0.85  # of its season's best that what frost kills is held against too (O7; tuned)
VALLEY = 0.9  # of a sow day's worth: times that are worse part two seasons (tuned)
HALF_YEAR = 183
OFF_SEASON = 0.5  # of the year's best that the best about then must count as, at least (tuned)
WORTH = 0.65  # (tuned)
SUCCEEDS = 0.3  # of the years at least, not spoilt by heat: else no day is a good one (tuned)
RELIABLE = 0.55  # of the years: a crop that gives in as many wants no early kinds (our choice)
SUCCEEDS_IN_HASTE = 0.5  # the same where no sowing leaves time to spare before the season's end (our choice)
ROUND = 366  # days of a year of sow days
STAND_POWER = 0.5  # of the stand: where few come up a grower sows thicker (tuned)
LEVERAGE_DAYS = 24
LEVERAGE = (0.35, 2.5)  # (tuned)
WAITING_COSTS = 0.05  # of the years: waiting 24 days that loses more does cost something (our choice)
AGAINST = 0.5  # what speaks against a day and is no loss of years counts as one of so many (our choice)
TOLD = 0.1  # losses below it are not told (our choice)


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


def quantiles(days: Floats, least: float = 0.2) -> Mapping[int, Floats]:
    """10, 50 and 90 % of the years that count; NaN where fewer than `least` of them do."""
    ordered = np.sort(days, axis=0)  # NaN sorts last
    count = np.isfinite(days).sum(axis=0)
    enough = count >= max(1.0, least * days.shape[0])
    return {p: np.where(enough, _ranked(ordered, count, p / 100), np.nan) for p in (10, 50, 90)}


def _ranked(ordered: Floats, count: Ints, q: float) -> Floats:
    """Linear interpolation between order statistics of the first `count` of each column."""
    rank = q * np.maximum(count - 1, 0)
    low = np.floor(rank).astype(np.int64)
    high = np.minimum(low + 1, np.maximum(count - 1, 0))
    column = np.arange(ordered.shape[1])
    below, above = ordered[low, column], ordered[high, column]
    return np.asarray(below + (rank - low) * (above - below))


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
    quality, share = _mean_where(outcome.quality, lived), _mean_where(outcome.share, lived)
    success, sound, serving = (
        _share(years) if able is None else (able * years).mean(axis=0)
        for years in (lived, lived & (outcome.fate == Fate.GOOD), lived & timely)
    )
    stand = _stand(outcome)
    eaten = quality**SHARE_POWER if outcome.crop.sets_again else quality
    unhurried = serving * eaten * stand**STAND_POWER * share**SHARE_POWER
    slow = _patience(outcome, _waited(outcome, here, days[50]), serving, unhurried, year)
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
    end = _end(outcome.crop, here)
    taken = np.where(lived.any(axis=0), 1.0 - quality, 0.0)
    fates = _fates(outcome)
    spoilt = _spoilt(fates[Fate.HEAT], taken)
    losses = {
        TOO_DARK: 1.0 * sown_in_the_dark(outcome, here),
        **_lost(outcome, fates, lived, timely, able),
        FATE_WORDS[Fate.HEAT]: np.where(spoilt, taken, 0.0), HEAT_TAKES: np.where(spoilt, 0.0, taken),
        "slow growth": 1.0 - slow, "few come up": 1.0 - stand,
        MAY_WAIT: AGAINST * low, "each day's delay costs several": AGAINST * high, end: AGAINST * near,
    }
    matters = np.isfinite(asked) & ~(low | high)
    return Score(success, sound, quality, days, steep, relative, fit & ~low, matters, possible, fit,
                 _worst(losses), losses)


def _end(crop: Crop, here: Setting) -> str:
    """What a day too late is too near to."""
    if not crop.tender:
        return "too near winter"
    return "too near the first frost" if ended_by_frost(crop, here) else TOO_COOL


def _share(holds: Bools) -> Floats:
    """Share of the years; (years, n) → (n,)."""
    years = holds.shape[0]
    if years > np.iinfo(np.uint8).max:
        return np.asarray(holds.mean(axis=0))
    # counted in bytes, a good many at a time, and no year is turned into a float for it
    return np.asarray(np.add.reduce(holds.view(np.uint8), axis=0, dtype=np.uint8) / float(years))


def _fates(outcome: Outcome) -> Floats:
    """Share of the years with each fate; (fates, n)."""
    years, n = outcome.fate.shape
    cell = outcome.fate.astype(np.int64) * n + np.arange(n)
    return np.asarray(np.bincount(cell.ravel(), minlength=len(Fate) * n).reshape(-1, n) / years)


def best_about(raw: Floats, year: int | None, tender: bool) -> Floats:
    """The best of each sow day's neighbours: a June picking is not made good by a better one in October.
    Of what frost kills, a part of its season's best too."""
    round_it = _round_the_year(raw, year, NEIGHBOURS)
    around = np.lib.stride_tricks.sliding_window_view(round_it, 2 * NEIGHBOURS + 1).max(axis=1)
    most = float(raw.max(initial=0.0))
    best = np.maximum(around, max(OFF_SEASON * most, BEST_AT_LEAST))
    if tender:
        at = np.flatnonzero(best < OF_SEASON * most)
        turned = _round_the_year(raw, year, HALF_YEAR)
        season = best_of_season(turned, turned, at + HALF_YEAR)
        best[at] = np.maximum(best[at], OF_SEASON * season)
    return np.asarray(best)


def _round_the_year(raw: Floats, year: int | None, days: int) -> Floats:
    """The sow days with so many before and after; worth nothing where days do not come round."""
    if year is None:
        return np.pad(raw, days)
    return np.concatenate([raw[year - days : year], raw, raw[raw.size - year :][:days]])


def best_of_season(raw: Floats, best: Floats, at: Ints) -> Floats:
    """The most of `best` that can be had by sowing sooner or later than on the days `at` with no time between
    that is worse by `raw`; (n,) of them."""
    days, here = np.pad(raw, 1, constant_values=-np.inf), at[:, None] + 1
    worse = days < VALLEY * days[here]
    column = np.arange(days.size)
    until = (worse & (column > here)).argmax(axis=1)
    since = days.size - 1 - (worse & (column < here))[:, ::-1].argmax(axis=1)
    had = np.pad(best, 1, constant_values=-np.inf)
    return np.asarray(np.maximum.reduceat(had, np.stack([since + 1, until], axis=1).ravel())[::2])


def _stand(outcome: Outcome) -> Floats:
    """Share of the seed that comes up, of the best sow day's; (n,). Cold or hot ground thins the stand."""
    emerged = outcome.emerged.mean(axis=0, dtype=np.float64)
    return np.asarray(emerged / max(float(emerged.max()), 1e-9))


def _mean_where(values: NDArray[np.float32], counted: Bools) -> Floats:
    """Mean over the years that count, nought where none does; (years, n) → (n,)."""
    count = counted.sum(axis=0)
    total = np.where(counted, values, 0.0).sum(axis=0)
    return np.asarray(total / np.maximum(count, 1))


def asks_leverage(outcome: Outcome) -> bool:
    """Not of what waits for cold, long days, a season or the winter's end: it ripens together whenever it was
    sown (growth H5)."""
    crop = outcome.crop
    seasonal = crop.season is not None and outcome.purpose.name in SEASONAL
    waits = crop.cold_heading is not None or crop.bulbing is not None or seasonal
    return not waits and outcome.purpose.name != OVERWINTERING


def _waited(outcome: Outcome, here: Setting, days: Floats) -> Floats:
    """Days until it is picked: what overwinters is not wanted before the winter's end, and leaf that was cut
    before it is cut again when growth comes back; (n,)."""
    if outcome.purpose.name != OVERWINTERING:
        return days
    lasts = outcome.crop.harvest.profile in LASTS
    over = growth_comes_back(outcome.crop.development, here) if lasts else midwinter(here)
    return np.asarray(np.maximum(days, over[outcome.sow] - outcome.sow))


def _patience(
    outcome: Outcome, days: Floats, serving: Floats, unhurried: Floats, year: int | None
) -> Floats:
    """Each day longer than the quickest sowing costs a little; least for crops that wait for a season. What
    frost kills is held against the sowings that can catch it up: not those that come when it is long picked,
    after a time that is worse `unhurried`, as heat makes it."""
    usable = (serving >= 0.5) & np.isfinite(days)
    if not usable.any():
        return np.ones_like(serving)
    quickest = np.where(usable, days, np.inf)
    least = np.full_like(days, quickest.min())
    if outcome.crop.tender:
        worth, sooner = (_round_the_year(each, year, HALF_YEAR) for each in (unhurried, -quickest))
        season = -best_of_season(worth, sooner, np.arange(days.size) + HALF_YEAR)
        near = np.minimum(season, quickest_in_reach(quickest, days, ROUND))
        least = np.where(np.isfinite(near), np.maximum(near, least), least)
    extra = np.nan_to_num(np.maximum(days - least, 0.0))
    return np.asarray(np.exp(-_slow(outcome.crop, outcome.way) * extra))


def _slow(crop: Crop, way: Way) -> float:
    if crop.tender:
        return RAISED_TENDER_SLOW if way.name == "raised" else TENDER_SLOW
    return COLD_SLOW if crop.cold_heading else BULB_SLOW if crop.bulbing else SLOW


def _lost(
    outcome: Outcome, fates: Floats, lived: Bools, timely: Bools, able: Floats | None
) -> dict[str, Floats]:
    """Share of the years lost to each cause, on each sow day."""
    never = np.zeros(outcome.sow.size)
    good = (outcome.fate == Fate.GOOD) | (outcome.fate == Fate.HEAT)
    return {
        **{fate_word(outcome.crop, fate): fates[fate]
           for fate in (Fate.FROSTED, Fate.BOLTED, Fate.TOO_LATE, Fate.TOO_COLD, Fate.TOO_HOT, Fate.DRIED)},
        CUT_SHORT: _share(good & ~lived),
        OUT_OF_SEASON: _share(lived & ~timely),
        TOO_WET: never if able is None else _share(lived & timely & (able < 1.0) & (able > 0.0)),
        UNDER_SNOW: never if able is None else _share(lived & timely & (able == 0.0)),
    }


def _spoilt(years: Floats, taken: Floats) -> Bools:
    """Whether what heat takes of a sow day, (n,), is told as years spoilt by it: where the share of these
    makes up half of that. A reason told has struck in some year."""
    return np.asarray(2.0 * years >= taken)


def _worst(losses: Mapping[str, Floats]) -> tuple[str, ...]:
    """The greatest loss of each sow day, in words; empty where nothing much speaks against it."""
    names, table = [*losses, ""], np.stack(list(losses.values()))
    most = np.where(table.max(axis=0) > TOLD, table.argmax(axis=0), len(losses)).tolist()
    return tuple(names[index] for index in most)
