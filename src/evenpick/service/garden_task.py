"""One garden on its way to a plan: what is grown in it, what stands, and what its areas come to."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from evenpick import __version__
from evenpick.base.arrays import Floats
from evenpick.base.days import dated, day_date, day_number
from evenpick.base.language import tell, tell_n
from evenpick.climate.weather import WeatherYears
from evenpick.crops.crop import Crop
from evenpick.crops.packaged import packaged_files, packaged_thermal_times
from evenpick.garden.diary import SeedGot, SetUp
from evenpick.garden.garden import GROUND_COVERS, Garden
from evenpick.garden.record import Record
from evenpick.garden.tin import Tinned
from evenpick.plan.counts import Counts
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.limits import Parched
from evenpick.plan.options import Batch
from evenpick.plan.season_end import not_past_its_use
from evenpick.plan.standing import GoodStand, Grown
from evenpick.plan.task import Task, task
from evenpick.plan.wanted import WantedItem
from evenpick.service.growing import Split, grown_standing
from evenpick.service.left_dry import dry_spans, left_dry
from evenpick.service.packets import tin_now
from evenpick.service.plan_answer import GroundUse, MadeFrom, PlannedSowing, StandingSowing
from evenpick.service.plan_limits import in_tin, season_of
from evenpick.service.seed_year import seed_year
from evenpick.service.sowings import planned
from evenpick.service.standing import UnderWay
from evenpick.service.standing_sowings import fixed_sowings, listed, told


@dataclass(frozen=True, slots=True)
class GardenTask:
    """A garden with everything grown, and the planner's task that comes of it."""

    garden: Garden
    digest: str
    season: UnderWay
    horizon: Horizon
    wanted: tuple[WantedItem, ...]
    crops: Mapping[str, Crop]
    weather: WeatherYears
    split: Split
    made: Mapping[str, tuple[Batch, ...]]
    stood: Sequence[Grown]
    packets: tuple[Tinned, ...]
    """in the tin as the diary left it"""
    dry: tuple[Parched, ...]
    """spans in which nobody waters"""
    work: Task


@dataclass(frozen=True, slots=True)
class Taken:
    """What a garden's areas come to."""

    begins: date
    sowings: tuple[PlannedSowing, ...]
    standing: tuple[StandingSowing, ...]
    ground: tuple[GroundUse, ...]
    notes: tuple[str, ...]

    def first_year(self) -> list[PlannedSowing]:
        """Those that seed is bought for."""
        _, last = seed_year(self.begins)
        return [s for s in self.sowings if s.sow <= last]


def garden_task(
    garden: Garden, digest: str, season: UnderWay, horizon: Horizon, wanted: tuple[WantedItem, ...],
    crops: Mapping[str, Crop], weather: WeatherYears, split: Split,
    made: Mapping[str, tuple[Batch, ...]], well: Sequence[GoodStand],
    offered: Sequence[WantedItem] | None = None, portions: Floats | None = None,
) -> GardenTask:
    """The task of crops `made` in weather years, and of what stands, grown `well`.

    `offered`: the items with only the crops that may be sown in this garden, where those are fewer;
    `portions` as of `task`.
    """
    packets = tin_now(garden, season.record)
    stood = [not_past_its_use(one, wanted) for one in grown_standing(well, split, made, garden)]
    dry = dry_spans(garden.limits.away, weather)
    kept_to = season_of(garden, stood, wanted, season.decided, crops, horizon, weather.years, packets, dry)
    work = task(
        garden, wanted if offered is None else offered, made, split.seen, split.unseen, garden.plan.seed,
        kept_to, horizon.start, portions,
    )
    return GardenTask(
        garden, digest, season, horizon, wanted, crops, weather, split, made, stood, packets, dry, work
    )


def counts_of(part: GardenTask) -> tuple[Counts, ...]:
    """The limits on how many. Crops of which the diary got seed within a year are counted among those that
    may be bought until that year is over: a plan made anew allows no more than the one before did."""
    horizon, limits = part.horizon, part.garden.limits
    weeks = [(day_number(sowing.sow) - horizon.start) // 7 for sowing in part.season.decided.fixed]
    day = day_date(horizon.begin)
    have = {
        (key, crop.name): in_tin(crop, part.packets, part.garden.kept, day) or 0.0
        for key, crop in part.crops.items()
    }
    for sowing in part.season.decided.fixed:
        if sowing.sow <= seed_year(day)[1]:
            kind = sowing.crop, sowing.name
            have[kind] = have.get(kind, 0.0) - (sowing.seeds or sowing.plants or 0)
    whole = Counts(
        limits.sowings_a_week, np.bincount([w for w in weeks if 0 <= w < WEEKS], minlength=WEEKS),
        limits.buying.packets or None, have,
    )
    got = _got_within_a_year(part.season.record, horizon.begin)
    if whole.packets is None or not got:
        return (whole,)
    left = max(whole.packets - len(got), 0)
    until = min(got.values()) + 7 * YEAR_WEEKS - horizon.start
    return whole, Counts(packets=left, have=have, until=min(until, whole.until))


def _got_within_a_year(record: Record, begin: int) -> Mapping[str, int]:
    """Crops of which seed came in by the diary, the grower's own left out, with the day number of the
    first."""
    found: dict[str, int] = {}
    for entry in sorted(record.entries, key=lambda each: each.day):
        fact = entry.fact
        if isinstance(fact, SeedGot) and not fact.saved and begin - 7 * YEAR_WEEKS < entry.day <= begin:
            found.setdefault(fact.crop, entry.day)
    return found


def taken(part: GardenTask, work: Task, areas: Floats) -> Taken:
    """Sowings, what stands, ground taken, of the garden's own task as it was kept to."""
    decided = part.season.decided
    to_come = {sowing.id for sowing in decided.fixed}
    fixed = [one for one in part.stood if one.standing.id in to_come]
    sowings = listed(planned(work, areas, part.horizon), fixed_sowings(decided.fixed, fixed), part.season)
    standing = tuple(told(one, part.wanted) for one in part.stood if one.standing.id not in to_come)
    dry = left_dry(part.dry, sowings, standing)
    ground = _ground(part.garden, work, areas, part.stood)
    return Taken(day_date(part.horizon.begin), sowings, standing, ground,
                 (*_raising(part, work, areas), *_left_to_rain(part), *dry))


def _ground(
    garden: Garden, work: Task, areas: Floats, stood: Sequence[Grown]
) -> tuple[GroundUse, ...]:
    """What is taken of each cover's ground, by what stands and what is planned."""
    ground = work.request.grounds
    load, free = ground.used(areas), ground.limit.copy()
    for hold in (hold for one in stood for hold in one.holds):
        for figures in (load, free):
            figures[ground.names.index(hold.row), hold.first : hold.end] += hold.amount
    rows = {name: ground.names.index(name) for name in GROUND_COVERS}
    return tuple(GroundUse(name, garden.area(name), tuple(float(m2) for m2 in load[row]))
                 for name, row in rows.items() if free[row].max() > 0)


def _raising(part: GardenTask, work: Task, areas: Floats) -> Iterable[str]:
    """What was taken for granted of the bench where none is told."""
    if part.garden.bench is not None:
        return
    ground = work.request.grounds
    load = ground.used(areas)[ground.names.index("bench")]
    if load.max() > 0:
        monday = day_date(part.horizon.start + 7 * int(load.argmax()))
        yield tell_n("No raising bench is told, so room and warmth for raising were not limited: this "
                     "plan raises up to {n:,} module at a time (week of {week}). Write "
                     "how many you have room for, and how warm it is, as the bench in the garden file.",
                     "No raising bench is told, so room and warmth for raising were not limited: this "
                     "plan raises up to {n:,} modules at a time (week of {week}). Write "
                     "how many you have room for, and how warm it is, as the bench in the garden file.",
                     round(load.max()), week=dated(monday))


def _left_to_rain(part: GardenTask) -> Iterable[str]:
    """What a plan for ground that nobody waters reckons with."""
    if not part.garden.watered:
        yield tell("Nobody can water the open ground, says the garden file: what stands there is reckoned "
                   "to yield by what the rain leaves it, at worst, and to be lost where that is under a "
                   "third of a watered yield. What is raised is taken to be watered until it is planted "
                   "out.")


def made_from(part: GardenTask) -> MadeFrom:
    weather, split = part.weather, part.split
    return MadeFrom(
        part.digest, digest_of(each.tobytes() for each in (weather.tmin, weather.tmax, weather.rain)),
        catalogue_digest(), part.garden.plan.seed, int(split.seen.size), int(split.unseen.size), __version__,
        part.season.records, diary_digest(part.season.record),
    )


def diary_digest(record: Record) -> str:
    """What the diary said when the plan was made."""
    return digest_of(repr(entry).encode() for entry in record.entries if not isinstance(entry.fact, SetUp))


def catalogue_digest() -> str:
    """What the crops were when the plan was made: their files and their solved thermal times."""
    times = repr(sorted(packaged_thermal_times().items()))
    return digest_of(text.encode() for text in (*(text for _, text in packaged_files()), times))


def digest_of(parts: Iterable[bytes]) -> str:
    found = hashlib.sha256()
    for each in parts:
        found.update(each)
    return found.hexdigest()[:16]
