"""Which sowings are worth considering: crop, cover, way and day, with what each would give."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.crops.clock import hasten
from evenpick.crops.crop import Crop, Way
from evenpick.crops.here import AsHere, as_catalogued
from evenpick.garden.garden import Garden
from evenpick.outlook.grow import begin, grow
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.ripening import Ripening, cleared, ripening
from evenpick.outlook.score import Score, asks_leverage, score, wants_early_kinds
from evenpick.outlook.season import SEASONAL
from evenpick.outlook.setting import Settings
from evenpick.outlook.undersized import any_size
from evenpick.outlook.windows import asked
from evenpick.plan.hands import HERE, Hands, idle
from evenpick.plan.horizon import SOWING_WEEKS, WEEKS, Horizon
from evenpick.plan.luck import best_emerged, harvest_factors, stand_factors, timing_factors
from evenpick.plan.pots import in_pots

LEAST_SCORE = 0.5
LEAST_SUCCESS = 0.5
STILL = 0.8
"""of both: so good a day must still be on which the plan before has a sowing; weather years drawn anew may
tip a day that hangs in the balance, and what is planned is not to move for that (our choice)"""
CLEARED_QUANTILE = 0.8
"""the ground is reckoned free when four years in five have cleared it"""


Kind: TypeAlias = tuple[str, str, str, str]
"""of a sowing: catalogue key and name of its crop, way, cover"""
NO_PLAN: Mapping[Kind, Sequence[int]] = {}


@dataclass(frozen=True, slots=True)
class Batch:
    """All sow days considered of one crop, way and cover, one a week."""

    crop: Crop
    way: Way
    cover: CoverName
    days: Ints
    """(n,) axis days"""
    outcome: Outcome
    """on those days"""
    score: Score
    """on every axis day from 0"""
    ripening: Ripening
    """share of a full yield; sowings are numbered as in `days`"""
    stand: Floats
    """(years, n) factor on the yield, 1 a good stand"""
    harvest: Floats
    """(years, 1) factor on the yield of the year"""
    from_week: Ints
    to_week: Ints
    """(n,) weeks in which it holds its ground, half open"""


@dataclass(frozen=True, slots=True)
class Option:
    """One candidate sowing: a sow day of a batch for one item."""

    item: int
    batch: Batch
    index: int
    """place of its sow day in the batch"""
    farm: int = 0
    """on which farm of a cooperative"""
    wanted_to: int = WEEKS
    """the week from which nobody wants what it still gives: it is cleared by then"""

    @property
    def day(self) -> int:
        return int(self.batch.days[self.index])

    @property
    def held(self) -> range:
        """Weeks in which it holds its ground."""
        first, end = int(self.batch.from_week[self.index]), int(self.batch.to_week[self.index])
        return range(first, max(min(end, self.wanted_to), first + 1))

    @property
    def gives_to(self) -> int:
        """The week from which it gives no more, cleared before it is over; else past the horizon."""
        return self.wanted_to if self.wanted_to < int(self.batch.to_week[self.index]) else WEEKS


def covers_for(crop: Crop, garden: Garden) -> Iterator[CoverName]:
    """Covers this garden has, less those that nobody would spend on such a crop; the open comes first."""
    if garden.area("open") > 0:
        yield "open"
    if _earns_no_cover(crop):
        return
    if garden.area("open") > 0 and not crop.spacing.tall:
        if garden.fleece > 0:
            yield "fleece"
        if garden.cloche > 0:
            yield "cloche"
    if garden.area("tunnel") > 0:
        yield "tunnel"


def _earns_no_cover(crop: Crop) -> bool:
    """Crops that mostly stand into winter, go to store or wait for spring (common practice, no source). Of
    beetroot some is stored: the first of it is sown under a cover."""
    seasonal = crop.season is not None and crop.purposes[0].name in SEASONAL
    return seasonal or crop.harvest.profile == "stored" or crop.cold_heading is not None


def batches(
    crops: Sequence[Crop], garden: Garden, settings: Settings, ground: Floats, horizon: Horizon,
    groups: Sequence[Ints], seed: int, as_here: AsHere = as_catalogued, hands: Hands = HERE,
    meanwhile: Callable[[], object] = idle, sparing: bool = True,
    planned: Mapping[Kind, Sequence[int]] = NO_PLAN,
) -> Mapping[str, tuple[Batch, ...]]:
    """Every batch with at least one sow day worth considering, by crop key, types of a crop after each other.
    Crops share the `hands`; this process does something else `meanwhile`.

    `groups`: members of the ensemble that are used together (to plan on, to measure on); what is drawn
    at random is spread evenly within each. `as_here`: each crop as it grows here under a cover. `sparing`:
    no cover on days on which the open would do. `planned`: axis days of the plan before, none before the
    horizon begins, which stay worth considering while they are nearly so, whatever day of the week they are.
    """
    here = Grounding(garden, settings, ground, horizon, tuple(groups), seed, as_here, sparing, planned)
    most_first = sorted(range(len(crops)), key=lambda n: -_effort(crops[n]))  # nobody waits long for the last
    grown = hands.map(of_crop, here, [crops[n] for n in most_first], meanwhile)
    made: dict[str, tuple[Batch, ...]] = {crop.key: () for crop in crops}
    for n, found in sorted(zip(most_first, grown, strict=True), key=lambda one: one[0]):
        made[crops[n].key] += found
    return made


def _effort(crop: Crop) -> int:
    """About how much there is to grow of it."""
    return len(crop.ways) * len(crop.own_purposes)


@dataclass(frozen=True, slots=True)
class Grounding:
    """What the crops of a garden are grown in; as of `batches`."""

    garden: Garden
    settings: Settings
    ground: Floats
    horizon: Horizon
    groups: tuple[Ints, ...]
    seed: int
    as_here: AsHere
    sparing: bool
    planned: Mapping[Kind, Sequence[int]]

    def days(self, crop: Crop, way: Way, cover: CoverName) -> Bools:
        """Sow days on which the plan before has such a sowing."""
        found = np.zeros(SOWING_WEEKS * 7, dtype=bool)
        days = np.array(self.planned.get((crop.key, crop.name, way.name, cover), ()), dtype=np.int64)
        found[days[(days >= 0) & (days < found.size)]] = True
        return found


def of_crop(where: Grounding, crop: Crop) -> tuple[Batch, ...]:
    """Every batch of one crop. What earns no cover has the tunnel where the open never gives it."""
    hasten()  # 0.07 s to load, and of fifteen crops a half second less of four
    made = _under(where, crop, tuple(covers_for(crop, where.garden)))
    if made or not _earns_no_cover(crop) or where.garden.area("tunnel") <= 0:
        return made
    return _under(where, crop, ("tunnel",))


def _under(where: Grounding, crop: Crop, covers: Sequence[CoverName]) -> tuple[Batch, ...]:
    here = {cover: in_pots(where.as_here(crop, cover), cover, where.garden) for cover in covers}
    return tuple(
        batch
        for way in crop.ways
        for batch in _under_each_cover(where, here, way)
    )


def _under_each_cover(where: Grounding, here: Mapping[CoverName, Crop], way: Way) -> Iterator[Batch]:
    """Sparing, a cover is spent only on days on which the same sowing is not worth making in the open; a day
    serves the first of the crop's purposes that it is good for."""
    bare = np.ones(SOWING_WEEKS * 7, dtype=bool)
    for cover, crop in here.items():
        several = list(_for_each_purpose(where, crop, way, cover))
        for (outcome, scored), good in zip(several, _good_days(where, several, bare), strict=True):
            days = np.union1d(where.horizon.sow_days(), np.flatnonzero(where.days(crop, way, cover)))
            days = days[good[days]]
            if days.size:
                yield _batch(outcome.at(days), scored, where)
        if cover == "open" and where.sparing:
            for _, scored in several:
                bare = bare & ~scored.worth


def _good_days(where: Grounding, several: Sequence[tuple[Outcome, Score]], bare: Bools) -> Sequence[Bools]:
    """Days that each of a crop's purposes under a cover is considered on; then planned ones that none is, on
    which one is good enough still. `bare`: days on which the open would not do."""
    found, taken = list[Bools](), np.zeros_like(bare)
    planned = [where.days(outcome.crop, outcome.way, outcome.cover) for outcome, _ in several]
    for (outcome, scored), before in zip(several, planned, strict=True):
        found.append(considered(outcome, scored) & (bare | before) & ~taken)
        taken = taken | found[-1]
    for number, ((_, scored), before) in enumerate(zip(several, planned, strict=True)):
        still = before & _still(scored) & ~taken
        found[number] = found[number] | still
        taken = taken | still
    return found


def _for_each_purpose(
    where: Grounding, crop: Crop, way: Way, cover: CoverName
) -> Iterator[tuple[Outcome, Score]]:
    """What becomes of every day of the crop's own varieties, what grows alike grown once; then of its early
    kinds, if on no day worth sowing most years give a good harvest of the common ones."""
    settings, days, here = where.settings, np.arange(SOWING_WEEKS * 7), where.settings.cover(cover)
    common: list[Score] = []
    for kind in (one for one in (crop, crop.early()) if one is not None):
        asked_for = kind is crop or wants_early_kinds(crop, here, common)
        if not asked_for and not where.days(kind, way, cover).any():
            return
        factor = timing_factors(kind, settings.weather.years, where.groups, where.seed)
        alike: dict[bool, Outcome] = {}
        begun = begin(kind, way, cover, settings, days)
        for purpose in (one for one in kind.whole_purposes if one.type is None):
            small = any_size(kind, purpose)
            if small not in alike:
                alike[small] = grow(kind, way, cover, settings, days, factor, purpose, shared=begun)
            outcome = replace(alike[small], purpose=purpose)
            scored = score(outcome, here, asked(where.ground, way, cover))
            common.append(scored)
            yield outcome, scored


def _still(scored: Score) -> Bools:
    return (scored.score >= STILL * LEAST_SCORE) & (scored.success >= STILL * LEAST_SUCCESS)


def considered(outcome: Outcome, scored: Score) -> Bools:
    """Sow days that a plan may use: good enough, and neither too early nor too late to matter."""
    good = (scored.score >= LEAST_SCORE) & (scored.success >= LEAST_SUCCESS)
    return good & scored.matters if asks_leverage(outcome) else good


def _batch(outcome: Outcome, scored: Score, where: Grounding) -> Batch:
    here, crop = where.settings.cover(outcome.cover), outcome.crop
    from_week, to_week = holds(outcome, cleared(outcome, here))
    return Batch(
        crop, outcome.way, outcome.cover, outcome.sow, outcome, scored, ripening(outcome, here, WEEKS),
        stand_factors(outcome, where.settings.weather.start, where.groups, where.seed, best_emerged(outcome),
                      where.garden.farm),
        harvest_factors(crop, where.settings.weather.years, where.groups, where.seed), from_week, to_week,
    )


def holds(outcome: Outcome, clear: Ints) -> tuple[Ints, Ints]:
    """Weeks in which the ground is taken: from sowing or planting out to clearing."""
    start = outcome.place.min(axis=0) if outcome.way.name == "raised" else outcome.sow
    alive = outcome.share > 0
    day = np.where(alive, clear, outcome.place)
    end = np.quantile(day, CLEARED_QUANTILE, axis=0, method="higher")
    first = np.minimum(start // 7, WEEKS - 1).astype(np.int64)
    return first, np.clip(-(-end.astype(np.int64) // 7), first + 1, WEEKS)
