"""Crops already in the ground, or fixed to be sown: what they will give and the ground they hold
(docs/design/season.md, 2 and 3)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName, WayName, ground_under
from evenpick.crops.crop import Crop
from evenpick.crops.ways import way_of
from evenpick.outlook.grow import grow
from evenpick.outlook.made_for import as_sown
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.ripening import Ripening, cleared, ripening
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import LONGEST_RAISING, UNSEEN, Seen, seed_day
from evenpick.plan.given import Given, together
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.luck import best_emerged, harvest_factors, stand_factors, timing_factors
from evenpick.plan.options import CLEARED_QUANTILE
from evenpick.plan.wanted import WantedItem


@dataclass(frozen=True, slots=True)
class Standing:
    """A sowing under way; days are day numbers, None where it was not said or has not happened.

    One whose sow day lies ahead is a planned sowing that the grower fixed.
    """

    id: str
    crop: str
    """catalogue key"""
    way: WayName
    cover: CoverName
    sow: int
    area: float
    """m²"""
    ground: str | None = None
    up: int | None = None
    planted_out: int | None = None
    first_picked: int | None = None
    left: float = 1.0
    """share that no loss has taken"""
    picked_kg: float | None = 0.0
    """None: picked, and not weighed"""
    item: str | None = None
    """the item it was sown for"""
    bought: bool = False
    """plants raised elsewhere, set out on the day `sow`"""

    @property
    def begun(self) -> int:
        """The day number from which weather bears on it: bought plants were raised before that."""
        return self.sow - LONGEST_RAISING if self.bought else self.sow


@dataclass(frozen=True, slots=True)
class Hold:
    """Ground, cover or bench taken from week `first` up to, not including, week `end` of the horizon."""

    row: str
    first: int
    end: int
    amount: float
    """m², or places on the bench"""


@dataclass(frozen=True, slots=True)
class GoodStand:
    """A standing sowing grown through the years of the ensemble as though its stand were good."""

    standing: Standing
    crop: Crop
    outcome: Outcome
    part: Ripening
    start: int
    """day number of the outcome's axis day 0"""
    past: int
    """weeks from there to the horizon's first Monday"""
    holds: tuple[Hold, ...]


@dataclass(frozen=True, slots=True)
class Grown:
    """What becomes of a standing sowing in every year of the ensemble.

    `year`, `ripe`, `last`, `kg` are entries as of a supply, weeks of the horizon; what was picked is not in.
    """

    standing: Standing
    crop: Crop
    outcome: Outcome
    start: int
    """day number of the outcome's axis day 0"""
    horizon: int
    """day number of the horizon's first Monday"""
    year: Ints
    ripe: Ints
    last: Ints
    kg: Floats
    holds: tuple[Hold, ...]


def grown(
    standing: Standing, crop: Crop, settings: Settings, horizon: Horizon, groups: Sequence[Ints], seed: int,
    best: float | None = None, farm: str = "",
) -> Grown:
    """Grow a sowing from its own day through the weather of `settings`, whose axis starts on a Monday not
    after it; `groups` as in `options.batches`; `best` and `farm` as in `stand_factors`, `best` its own day's
    if None."""
    return thinned(in_good_stand(standing, crop, settings, horizon, groups, seed), groups, seed, best, farm)


def in_good_stand(
    standing: Standing, crop: Crop, settings: Settings, horizon: Horizon, groups: Sequence[Ints], seed: int
) -> GoodStand:
    """Grow a sowing as of `grown`, whatever becomes of its stand."""
    start, way = settings.weather.start, way_of(crop, standing.way)
    settings = settings.raising(standing.bought)
    factor = timing_factors(crop, settings.weather.years, groups, seed)
    sow = np.array([standing.sow - start])
    if standing.bought:
        sow = seed_day(crop, way, settings.bench(way.bench), sow)
    ((crop, _),) = as_sown(crop, way, standing.cover, settings, sow)
    seen = _seen(standing, start, horizon.begin)
    outcome = grow(crop, way, standing.cover, settings, sow, factor, crop.purposes[0], seen)
    here, past = settings.cover(standing.cover), (horizon.start - start) // 7
    holds = _holds(standing, crop, outcome, cleared(outcome, here), past)
    return GoodStand(standing, crop, outcome, ripening(outcome, here, past + WEEKS), start, past, holds)


def thinned(
    one: GoodStand, groups: Sequence[Ints], seed: int, best: float | None = None, farm: str = ""
) -> Grown:
    """What it gives as it stands; as of `grown`."""
    standing, crop, outcome, part, past = one.standing, one.crop, one.outcome, one.part, one.past
    stand = _stand(one, groups, seed, best, farm)
    good = stand * harvest_factors(crop, outcome.first.shape[0], groups, seed)[:, 0]
    kg = part.share * good[part.year] * crop.produce.kg_per_m2 * standing.area * standing.left
    year, ripe, last = part.year, part.ripe - past, part.last - past
    kg = _less_picked(standing.picked_kg, year, ripe, kg)
    keep = (last >= 0) & (kg > 0)
    return Grown(
        standing, crop, outcome, one.start, one.start + 7 * past, year[keep], np.maximum(ripe, 0)[keep],
        last[keep], kg[keep], one.holds,
    )


def _seen(standing: Standing, start: int, begin: int) -> Seen | None:
    """What was seen of it; no word of a loss is a word that it lives."""
    if standing.sow >= begin and not standing.bought:
        return None
    days = [standing.up, standing.planted_out, standing.first_picked]
    up, place, first = (np.array([UNSEEN if day is None else day - start]) for day in days)
    return Seen(up, place, first, np.array([begin - start]))


def _stand(
    one: GoodStand, groups: Sequence[Ints], seed: int, best: float | None, farm: str
) -> Floats:
    """Factor on the yield of a good stand, (years,); a good one where it was seen up and no loss was told."""
    standing, outcome = one.standing, one.outcome
    if standing.up is None and standing.planted_out is None and standing.first_picked is None:
        return stand_factors(outcome, one.start, groups, seed, best or best_emerged(outcome), farm)[:, 0]
    return np.ones(outcome.first.shape[0])


def _less_picked(picked: float | None, year: Ints, ripe: Ints, kg: Floats) -> Floats:
    """What is left of each entry: what was picked is taken off in the order of ripening.

    None was picked and not weighed: all that was ripe before the horizon counts as picked.
    """
    if picked is None:
        return np.where(ripe < 0, 0.0, kg)
    left = kg.copy()
    for y in np.unique(year) if picked > 0 else ():
        mine = np.flatnonzero(year == y)
        mine = mine[np.argsort(ripe[mine], kind="stable")]
        heap = np.cumsum(kg[mine])
        left[mine] = np.minimum(kg[mine], np.maximum(heap - picked, 0.0))
    return left


def _holds(
    standing: Standing, crop: Crop, outcome: Outcome, clear: Ints, past: int
) -> tuple[Hold, ...]:
    """Its ground from now, or from planting out, to when four years in five have cleared it; until planting
    out its places on the bench."""
    place = outcome.place[:, 0].astype(np.int64)
    day = np.where(outcome.share[:, 0] > 0, clear[:, 0], place)
    end = -(-int(np.quantile(day, CLEARED_QUANTILE, method="higher")) // 7) - past
    sown = max(int(outcome.sow[0]) // 7 - past, 0)
    raising = standing.way == "raised" and standing.planted_out is None
    first = max(int(place.min()) // 7 - past, 0) if raising else sown
    last = min(max(end, first + 1), WEEKS)
    rows: list[str] = [ground_under(standing.cover)]
    rows += [standing.cover] if standing.cover in ("fleece", "cloche") else []
    held = [Hold(row, first, last, standing.area * standing.left) for row in rows]
    if raising:
        places = standing.area * standing.left / (crop.spacing.in_row * crop.spacing.row)
        held.append(Hold("bench", sown, first + 1, places))
    return tuple(hold for hold in held if hold.first < WEEKS)


def given_by(several: Sequence[Grown], wanted: Sequence[WantedItem]) -> Given:
    """What standing sowings give to the items wanted, years numbered as in the ensemble.

    Each serves the item it was sown for, or else the one that wants most in its weeks; none where no item
    wants its crop.
    """
    parts = [(item, each) for each in several if (item := serves(each, wanted)) is not None]
    return together(
        Given(np.full(each.kg.size, item, dtype=np.int64), each.year, each.ripe, each.last, each.kg)
        for item, each in parts
    )


def serves(one: Grown, wanted: Sequence[WantedItem]) -> int | None:
    """The number of the item that a standing sowing serves."""
    able = [number for number, item in enumerate(wanted) if one.crop.key in item.crops]
    named = [number for number in able if wanted[number].name == one.standing.item]
    if named or not able:
        return named[0] if named else None
    weeks = np.zeros(WEEKS, dtype=bool)
    for ripe, last in set(zip(one.ripe.tolist(), one.last.tolist(), strict=True)):
        weeks[ripe : last + 1] = True
    return max(able, key=lambda number: float(wanted[number].kg[weeks].sum()))
