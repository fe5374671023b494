"""The main job: from a garden file to a plan held against weather it did not see."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache, partial
from importlib.resources import as_file, files
from pathlib import Path

from evenpick.base.arrays import Bools
from evenpick.base.days import day_number
from evenpick.garden.garden import Garden
from evenpick.plan.hands import HERE, Hands
from evenpick.plan.horizon import COUNTED_WEEKS, Horizon
from evenpick.plan.options import NO_PLAN, Batch
from evenpick.plan.wanted import wanted_items, while_there
from evenpick.service.beaten import beaten
from evenpick.service.binding import holding
from evenpick.service.brought import brought
from evenpick.service.cooperative_files import planned_together
from evenpick.service.fitted import fitted
from evenpick.service.garden_answer import garden_answer
from evenpick.service.garden_task import GardenTask, Taken, counts_of, garden_task
from evenpick.service.given_up import given_up
from evenpick.service.growing import grown_crops, split_members, standing_well, stored, wished_crops
from evenpick.service.impossible import too_much, what_would_mend
from evenpick.service.learning import as_kept
from evenpick.service.measures import measured, on_planned, pickings
from evenpick.service.mending import before_of, days_before
from evenpick.service.out_of_reach import out_of_reach
from evenpick.service.pickings_answer import Measured
from evenpick.service.pieces import with_pieces
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_weather import plan_weather
from evenpick.service.setups import garden_of, setup_text
from evenpick.service.shares import short_shares
from evenpick.service.solving import Progress, Solved, Stop, Watch, best_rule, solved
from evenpick.service.standing import UnderWay, under_way
from evenpick.service.store_plan import garden_digest, save_plan, saved_plan
from evenpick.service.takings import takings
from evenpick.service.variety import short_of

__all__ = ["demo_plan", "make_plan", "save_plan", "saved_plan"]


def make_plan(
    garden: Path,
    today: date | None = None,
    progress: Progress | None = None,
    seconds: float | None = None,
    season: UnderWay | None = None,
    mend: bool = False,
    hands: Hands = HERE,
    stop: Stop | None = None,
) -> PlanAnswer:
    """Plan the garden of a file from `today` on; from its own start day if that is later, or no day is given.

    `season` is what stands, what was decided and the plan before; None reads the garden's book and the plan
    kept in it. `seconds` bounds the search, and `stop` ends it once it says so and there is a first plan: the
    best so far is handed over with its proven gap. With `mend` the plan before is bettered in a second or two
    instead, and nothing is proven. Other `hands` than this machine's give the same plan.
    Raises BadGarden with every fault of the file, BadWeatherFile, UnknownPlace, BadBook.
    """
    text = setup_text(garden)
    described = garden_of(garden, text)
    if described.cooperative is not None:
        raise planned_together(garden, described.cooperative)
    begin = first_day(described, today)
    so_far = under_way(garden, begin, described=described) if season is None else season
    return _plan(described, garden_digest(text), begin, so_far, Watch(progress, stop), seconds, mend, hands)


def demo_plan(progress: Progress | None = None) -> PlanAnswer:
    """The plan of the demo's garden."""
    with as_file(files("evenpick").joinpath("data", "demo", "garden.toml")) as path:
        return make_plan(path, None, progress, None, UnderWay())


def _plan(
    garden: Garden, digest: str, begin: int, season: UnderWay, watch: Watch, seconds: float | None,
    mend: bool, hands: Hands,
) -> PlanAnswer:
    mended = mend and season.before is not None
    part = task_of(garden, digest, begin, season, watch, hands, mended)
    watch.stage("planning", 0.2)
    before = before_of(part.work, season, part.horizon, part.wanted) if mended else None
    found = solved(part.work, before, counts_of(part), watch, seconds, hands)
    watch.stage("measuring on unseen years", 0.95)
    return fitted(part, found, partial(_answer, part, watch))


def task_of(
    garden: Garden, digest: str, begin: int, season: UnderWay, watch: Watch, hands: Hands = HERE,
    mend: bool = False,
) -> GardenTask:
    """Everything grown, and the planner's task that comes of it, from day number `begin` on; to `mend` the
    plan before, its days stay in it."""
    horizon = Horizon(begin, garden.plan.sowing_weekday, garden.plan.sowing_days)
    watch.stage("weather", 0.0)
    since, weather = plan_weather(garden, horizon, season.since, season.readings)
    split = split_members(weather, garden.plan.years)
    watch.stage("growing every crop in every year", 0.05)
    crops = wished_crops(garden)
    everything = wanted_items(garden.wishes, horizon, stored(crops.values()))
    wanted = while_there(everything, garden.wishes, garden.limits.away, horizon)
    well = cache(partial(standing_well, season, since, horizon, split, garden))
    made = grown_crops(
        garden, crops, weather, split, horizon, as_kept(season.learned), hands, well,
        planned=days_before(season, horizon) if mend else NO_PLAN,
    )
    return garden_task(garden, digest, season, horizon, wanted, crops, weather, split, made, well())


def _answer(part: GardenTask, watch: Watch, found: Solved, use: Taken) -> PlanAnswer:
    garden, season, horizon, wanted = part.garden, part.season, part.horizon, part.wanted
    work, areas, gap = found.work, found.areas, found.gap
    anything = any(item.kg[:COUNTED_WEEKS].sum() > 0 for item in wanted)
    judged = _judged(found, anything)
    likely = on_planned(work, areas)
    unlaid = None if found.uncut is None else on_planned(work, found.uncut)

    def grow_in(other: Garden, keys: Sequence[str]) -> Mapping[str, tuple[Batch, ...]]:
        several = {key: part.crops[key] for key in keys}
        return grown_crops(
            other, several, part.weather, part.split, horizon, as_kept(season.learned)
        )

    def mends(missing: Mapping[int, Bools]) -> Mapping[int, tuple[str, Bools]]:
        if gap is None:
            return {}
        return what_would_mend(garden, missing, wanted, grow_in, part.made)

    own = garden_answer(part, work, areas, use, judged, part.split.notes)
    answer = replace(
        own, brought=brought(part, work, areas, own.sowings),
        pickings=with_pieces(pickings(likely, wanted, work.request.wanted, part.crops, horizon), work, areas,
                             part.stood, wanted, part.crops),
        cannot=(*too_much(garden, work, wanted, horizon),
                *out_of_reach(work, wanted, part.made, horizon, mends)),
        short_of=tuple(short_of(garden, wanted, likely, horizon)), money=garden.money,
        short_shares=tuple(short_shares(garden, wanted, likely, horizon)),
        takings=tuple(takings(garden, wanted, likely, horizon)),
        holding=holding(work, areas, horizon, {"": garden}),
        given_up=() if found.gap is None else given_up(work, found.exact, found.unlaid, wanted, likely,
                                                         horizon, unlaid),
    )
    worse = beaten(garden.plan.worth_a_sowing, judged.plan, judged.interval_rule, answer.ground)
    return replace(answer, beaten=worse, seconds=watch.total(), stages=watch.stages())


NOTHING_WANTED = Measured(0.0, 0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class _Judged:
    """As of `garden_answer`; how long it took is known once all is told."""

    plan: Measured
    interval_rule: Measured
    interval_rule_setting: str
    gap: float | None
    uncounted: float | None
    seconds: float = 0.0
    stages: tuple[tuple[str, float], ...] = ()


def _judged(found: Solved, wanted: bool) -> _Judged:
    """Where nothing is `wanted`, be it within reach or not, nothing is missing."""
    work, rule = found.work, best_rule(found.work)
    measures = (measured(work, found.areas), measured(work, rule.areas)) if wanted else (NOTHING_WANTED,) * 2
    return _Judged(*measures, rule.words, found.gap, found.uncounted)


def first_day(garden: Garden, today: date | None) -> int:
    """Day number that a plan begins on."""
    start = garden.plan.start
    if today is None:
        return start if start is not None else day_number(date.today())
    return max(day_number(today), start if start is not None else day_number(today))
