"""The main job: from a garden file to a plan held against weather it did not see."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from importlib.resources import as_file, files
from pathlib import Path

import numpy as np

from evenpick import __version__
from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.days import day_date, day_number
from evenpick.climate.ensemble import split_unseen
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue, packaged_files, packaged_thermal_times
from evenpick.crops.crop import Crop
from evenpick.crops.here import AsHere
from evenpick.garden.garden import Garden, WeatherChoice
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import workable_ground
from evenpick.plan.amounts import rounded
from evenpick.plan.counts import Counts, keep_to_counts
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.interval_rule import Rule, rules
from evenpick.plan.kept import plan_cost
from evenpick.plan.make import Effort, News, Plan
from evenpick.plan.make import make_plan as solve
from evenpick.plan.mend import mended
from evenpick.plan.options import Batch, batches, best_emerged
from evenpick.plan.standing import Grown, Standing, grown
from evenpick.plan.task import Task, task
from evenpick.plan.wanted import wanted_items, while_there
from evenpick.service.answers import GroundUse, MadeFrom, PlanAnswer, PlannedSowing
from evenpick.service.binding import given_up, holding
from evenpick.service.changes import changed
from evenpick.service.ground import in_beds
from evenpick.service.impossible import too_much, what_would_mend
from evenpick.service.learning import as_kept
from evenpick.service.measures import measure, measured, pickings, summary
from evenpick.service.mending import areas_before
from evenpick.service.out_of_reach import out_of_reach
from evenpick.service.plan_limits import hours_used, in_tin, season_of
from evenpick.service.plan_weather import plan_weather
from evenpick.service.setups import garden_of, setup_text
from evenpick.service.sowings import planned, seed_needs
from evenpick.service.standing import UnderWay, fixed_standing, under_way
from evenpick.service.standing_sowings import fixed_sowings, listed, told
from evenpick.service.store_plan import garden_digest, save_plan, saved_plan
from evenpick.service.variety import short_of

__all__ = ["demo_plan", "garden_site", "make_plan", "save_plan", "saved_plan"]

Progress = Callable[[str, float], None]
SMALL = 700
"""candidate sowings of a small garden"""
TYPICAL_SECONDS = 30.0
"""for the progress bar alone"""


@dataclass(frozen=True, slots=True)
class Split:
    """Ensemble members to plan on and to measure on."""

    seen: Ints
    unseen: Ints
    notes: tuple[str, ...]


def make_plan(
    garden: Path,
    today: date | None = None,
    progress: Progress | None = None,
    seconds: float | None = None,
    season: UnderWay | None = None,
    mend: bool = False,
) -> PlanAnswer:
    """Plan the garden of a file from `today` on; from its own start day if that is later, or no day is given.

    `season` is what stands, what was decided and the plan before; None reads the garden's book and the plan
    kept in it. `seconds` bounds the search; the best plan so far is handed over with its proven gap. With
    `mend` the plan before is bettered in a second or two instead, and nothing is proven.
    Raises BadGarden with every fault of the file, BadWeatherFile, UnknownPlace, BadBook.
    """
    text = setup_text(garden)
    described = garden_of(garden, text)
    begin = first_day(described, today)
    so_far = under_way(garden, begin) if season is None else season
    answer = _plan(described, garden_digest(text), begin, so_far, progress, seconds, mend)
    return in_beds(described, answer, so_far.record)


def demo_plan(progress: Progress | None = None) -> PlanAnswer:
    """The plan of the demo's garden."""
    with as_file(files("evenpick").joinpath("data", "demo", "garden.toml")) as path:
        return make_plan(path, None, progress, None, UnderWay())


def garden_site(garden: Path) -> tuple[Site, WeatherChoice]:
    """Where a garden is and which weather it asks for."""
    described = garden_of(garden)
    return described.site, described.weather


def split_members(weather: WeatherYears, years: int) -> Split:
    """Members to plan on, at most `years`, and members that the plan never sees.

    A record is split in blocks so that no day is shared; generated members are independent.
    """
    if weather.labels[0].isdecimal():
        seen_weather, unseen_weather, notes = _split_record(weather)
        place = {label: number for number, label in enumerate(weather.labels)}
        seen = np.array([place[label] for label in seen_weather.labels])
        unseen = np.array([place[label] for label in unseen_weather.labels])
    else:
        half = weather.years // 2
        seen, unseen = np.arange(half), np.arange(half, weather.years)
        notes = (f"{half} made weather years to plan on, {weather.years - half} unseen.",)
    if seen.size > years:
        seen = seen[np.linspace(0, seen.size - 1, years).round().astype(np.int64)]
    return Split(seen, unseen, notes)


def _split_record(weather: WeatherYears) -> tuple[WeatherYears, WeatherYears, tuple[str, ...]]:
    """One long block of unseen years: members two years long share days across every block's edge."""
    return split_unseen(weather, block=max(1, weather.years // 3))


def _plan(
    garden: Garden, digest: str, begin: int, season: UnderWay, progress: Progress | None,
    seconds: float | None, mend: bool,
) -> PlanAnswer:
    watch = _Watch(progress)
    horizon = Horizon(begin, garden.plan.sowing_weekday)
    watch.stage("weather", 0.0)
    made_before = [standing.sow for standing in season.standing]
    since, weather = plan_weather(garden, horizon, min(made_before, default=None), season.readings)
    split = split_members(weather, garden.plan.years)
    watch.stage("growing every crop in every year", 0.05)
    crops = wished_crops(garden)
    wanted = while_there(
        wanted_items(garden.wishes, horizon, stored(crops.values())), garden.limits.away, horizon
    )
    made = grown_crops(garden, crops, weather, split, horizon, as_kept(season.learned))
    stood = grown_standing(season, since, horizon, split, made, garden.plan.seed)
    work = task(
        garden, wanted, made, split.seen, split.unseen, garden.plan.seed,
        season_of(garden, stood, wanted, season.decided, crops, horizon, weather.years), horizon.start,
    )
    watch.stage("planning", 0.2)
    counts = _counts(garden, crops, season.decided.fixed, horizon)
    work, areas, gap = _solved(work, season.before if mend else None, horizon, watch, seconds, counts)
    watch.stage("measuring on unseen years", 0.95)
    rule = min(rules(work), key=lambda each: _misfit(work, each))
    to_come = {sowing.id for sowing in season.decided.fixed}
    fixed = [one for one in stood if one.standing.id in to_come]
    sowings = listed(planned(work, areas, horizon), fixed_sowings(season.decided.fixed, fixed), season)
    standing = tuple(told(one, wanted) for one in stood if one.standing.id not in to_come)
    first_year = [s for s in sowings if (s.sow - day_date(horizon.start)).days < 7 * YEAR_WEEKS]
    likely = measure(work, areas, work.request.supply, work.request.years, work.given)
    def grow_in(other: Garden, keys: Sequence[str]) -> Mapping[str, tuple[Batch, ...]]:
        several = {key: crops[key] for key in keys}
        return grown_crops(other, several, weather, split, horizon, as_kept(season.learned))

    def mends(missing: Mapping[int, Bools]) -> Mapping[int, tuple[str, Bools]]:
        return {} if gap is None else what_would_mend(garden, missing, wanted, grow_in, weather.years)

    first_crops = [crops[item.crops[0]] for item in wanted]
    return PlanAnswer(
        site=garden.site, climate=weather.origin, begins=day_date(horizon.begin),
        invented=garden.invented_by_demo, sowings=sowings,
        pickings=pickings(work, areas, wanted, first_crops, horizon), ground=_ground(work, areas, stood),
        seed=seed_needs(first_year, garden.packets, crops), plan=measured(work, areas),
        interval_rule=measured(work, rule.areas), interval_rule_setting=rule.words,
        gap=gap, seconds=watch.total(), stages=watch.stages(),
        cannot=(*too_much(garden, work, wanted), *out_of_reach(work, wanted, made, horizon, mends)),
        made_from=_made_from(digest, weather, split, garden, season.records), notes=split.notes,
        standing=standing,
        refused=season.decided.refused, changes=changed(season, sowings, standing, begin, digest),
        learned=season.learned, short_of=tuple(short_of(garden, wanted, likely, horizon)),
        hours=hours_used(work, areas, stood, garden, horizon),
        holding=() if gap is None else holding(work, areas, horizon, garden.site.lat),
        given_up=() if gap is None else given_up(work, areas, wanted, likely),
    )


def _solved(
    work: Task, before: PlanAnswer | None, horizon: Horizon, watch: _Watch, seconds: float | None,
    counts: Counts,
) -> tuple[Task, Floats, float | None]:
    """The task as it was kept to, areas as a grower sows them and their proven gap; None where the plan
    `before` was only mended."""
    solution = None
    if before is not None:
        found = mended(work.request, areas_before(work, before, horizon)).areas
    else:
        solution = solve(work.request, _effort(watch, len(work.request.candidates), seconds))
        found = solution.areas
    kept, areas = keep_to_counts(work, rounded(work.request, work.options, found), counts)
    return kept, areas, None if solution is None else _gap(work, areas, solution)


def _counts(
    garden: Garden, crops: Mapping[str, Crop], fixed: Sequence[PlannedSowing], horizon: Horizon
) -> Counts:
    weeks = [(day_number(sowing.sow) - horizon.start) // 7 for sowing in fixed]
    have = {key: in_tin(crop, garden) or 0.0 for key, crop in crops.items()}
    limits = garden.limits
    return Counts(
        limits.sowings_a_week, np.bincount([w for w in weeks if 0 <= w < WEEKS], minlength=WEEKS),
        limits.buying.packets or None, have,
    )


def grown_standing(
    season: UnderWay, since: WeatherYears, horizon: Horizon, split: Split,
    made: Mapping[str, Sequence[Batch]], seed: int,
) -> list[Grown]:
    """Everything in the ground, and what was fixed to be sown, grown through the years."""
    settings, groups = Settings(since), (split.seen, split.unseen)
    several = (*season.standing, *fixed_standing(season.decided.fixed))
    catalogue, as_here = load_catalogue(), as_kept(season.learned)
    return [
        grown(one, as_here(catalogue.crop(one.crop), one.cover), settings, horizon, groups, seed,
              _best(one, made))
        for one in several if one.sow >= since.start
    ]


def _best(one: Standing, made: Mapping[str, Sequence[Batch]]) -> float | None:
    """The share that comes up on the best of the days that a plan may use."""
    alike = (b for b in made.get(one.crop, ()) if (b.way.name, b.cover) == (one.way, one.cover))
    return next((best_emerged(batch.outcome) for batch in alike), None)


def wished_crops(garden: Garden) -> dict[str, Crop]:
    """Every crop that some wish names, by key, in the order of the wishes."""
    catalogue = load_catalogue()
    keys = dict.fromkeys(key for wish in garden.wishes for key in wish.crops)
    return {key: catalogue.crop(key) for key in keys}


def first_day(garden: Garden, today: date | None) -> int:
    """Day number that a plan begins on."""
    start = garden.plan.start
    if today is None:
        return start if start is not None else day_number(date.today())
    return max(day_number(today), start if start is not None else day_number(today))


def stored(crops: Iterable[Crop]) -> frozenset[str]:
    return frozenset(crop.key for crop in crops if crop.harvest.profile == "stored")


def grown_crops(
    garden: Garden, crops: Mapping[str, Crop], weather: WeatherYears, split: Split, horizon: Horizon,
    as_here: AsHere,
) -> Mapping[str, tuple[Batch, ...]]:
    settings = Settings(weather)
    dry = workable_ground(settings)
    groups = (split.seen, split.unseen)
    several = tuple(crops.values())
    return batches(several, garden, settings, dry, horizon, groups, garden.plan.seed, as_here)


def _effort(watch: _Watch, candidates: int, seconds: float | None) -> Effort:
    """Steps that plan the demo in about half a minute on two cores; a small garden gets more of them."""

    def news(found: News) -> None:
        share = min(0.9, 0.2 + found.seconds / (seconds or TYPICAL_SECONDS) * 0.75)
        watch.tell(f"{found.stage}: proven within {100 * found.gap:.1f} % of the best", share)

    small = Effort(branch_nodes=24, progress=news)
    large = Effort(turns=3, kicks=3, progress=news)
    measured = small if candidates <= SMALL else large
    return measured if seconds is None else replace(measured, seconds=seconds)


def _misfit(work: Task, rule: Rule) -> float:
    """How badly a setting of the rule does on the planning years: bare and spare together."""
    found = summary(work, measure(work, rule.areas, work.request.supply, work.request.years, work.given))
    return found.bare + found.spare


def _gap(work: Task, areas: Floats, solution: Plan) -> float:
    """The proven gap of the areas as they are handed over, rounded to what a grower can sow."""
    value = plan_cost(work.request, areas)
    return float(max(value - solution.bound, 0.0) / max(solution.nothing - solution.bound, 1e-9))


def _ground(work: Task, areas: Floats, stood: Sequence[Grown]) -> tuple[GroundUse, ...]:
    """What is taken of each cover's ground, by what stands and what is planned."""
    ground = work.request.grounds
    load, free = np.zeros_like(ground.limit), ground.limit.copy()
    np.add.at(load, (ground.row, ground.week), ground.coefficient * areas[ground.candidate])
    for hold in (hold for one in stood for hold in one.holds):
        for figures in (load, free):
            figures[ground.names.index(hold.row), hold.first : hold.end] += hold.amount
    return tuple(
        GroundUse(name, float(free[row].max()), tuple(float(m2) for m2 in load[row]))
        for row, name in enumerate(ground.names)
        if name in ("open", "tunnel") and free[row].max() > 0
    )


def _made_from(
    digest: str, weather: WeatherYears, split: Split, garden: Garden, records: int
) -> MadeFrom:
    return MadeFrom(
        digest, _digest(part.tobytes() for part in (weather.tmin, weather.tmax, weather.rain)),
        catalogue_digest(), garden.plan.seed, int(split.seen.size), int(split.unseen.size), __version__,
        records,
    )


def catalogue_digest() -> str:
    """What the crops were when the plan was made: their files and their solved thermal times."""
    times = repr(sorted(packaged_thermal_times().items()))
    return _digest(text.encode() for text in (*(text for _, text in packaged_files()), times))


def _digest(parts: Iterable[bytes]) -> str:
    found = hashlib.sha256()
    for part in parts:
        found.update(part)
    return found.hexdigest()[:16]


class _Watch:
    """Tells how far the work has come and keeps the seconds of each stage."""

    def __init__(self, progress: Progress | None) -> None:
        self.tell: Progress = progress or (lambda words, share: None)
        self._marks: list[tuple[str, float]] = []

    def stage(self, words: str, share: float) -> None:
        self._marks.append((words, time.perf_counter()))
        self.tell(words, share)

    def total(self) -> float:
        return time.perf_counter() - self._marks[0][1]

    def stages(self) -> tuple[tuple[str, float], ...]:
        ends = [start for _, start in self._marks[1:]] + [time.perf_counter()]
        return tuple((words, end - start) for (words, start), end in zip(self._marks, ends, strict=True))
