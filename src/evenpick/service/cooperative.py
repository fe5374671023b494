"""A cooperative's questions: one plan for all farms, what each is to do (docs/design/cooperative.md)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import partial
from pathlib import Path

import numpy as np

from evenpick.base.days import day_date
from evenpick.base.errors import BadPlan, BadRequest
from evenpick.base.language import tell
from evenpick.garden.garden import Garden
from evenpick.plan.farms import of_farms
from evenpick.plan.hands import HERE, Hands
from evenpick.plan.options import Batch
from evenpick.plan.wanted import WantedItem
from evenpick.service.beaten import beaten
from evenpick.service.binding import holding
from evenpick.service.brought import brought
from evenpick.service.cooperative_answer import CooperativeAnswer, FarmGround, FarmPlan, FarmToday
from evenpick.service.cooperative_files import Described, cooperative_of
from evenpick.service.farm_pickings import farm_pickings
from evenpick.service.farm_tasks import before_together, tasks_of_farms
from evenpick.service.farms_asked import each_farm
from evenpick.service.fitted_farms import Fitted, fitted_farms
from evenpick.service.garden_answer import garden_answer
from evenpick.service.garden_task import GardenTask, Taken, counts_of
from evenpick.service.given_up import given_up
from evenpick.service.ground import ground, with_beds
from evenpick.service.ground_answer import GroundAnswer
from evenpick.service.growing import grown_crops
from evenpick.service.impossible_together import Growers, too_much_together, what_would_mend_together
from evenpick.service.kept_together import saved_cooperative
from evenpick.service.learning import as_kept
from evenpick.service.measures import measured, on_planned, pickings
from evenpick.service.other_farms import others_to_keep
from evenpick.service.out_of_reach import Mend, out_of_reach
from evenpick.service.pieces import with_pieces
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import first_day
from evenpick.service.shares import short_shares
from evenpick.service.solving import Progress, Stop, Watch, best_rule, solved
from evenpick.service.store_plan import keep_answer, save_plan, text_digest
from evenpick.service.takings import takings
from evenpick.service.today import today
from evenpick.service.variety import short_of


def plan_cooperative(
    file: Path, day: date | None = None, progress: Progress | None = None, seconds: float | None = None,
    mend: bool = False, hands: Hands = HERE, stop: Stop | None = None,
) -> CooperativeAnswer:
    """One plan for all farms from a day on; arguments and errors as of `make_plan`."""
    described = cooperative_of(file)
    watch = Watch(progress, stop)
    parts, work, notes = tasks_of_farms(described, first_day(described.gardens[0], day), watch, hands, mend)
    watch.stage("planning", 0.2)
    counts = [replace(each, farm=number) for number, part in enumerate(parts) for each in counts_of(part)]
    before = before_together(parts) if mend else None
    fitted = fitted_farms(parts, solved(work, before, counts, watch, seconds, hands))
    watch.stage("measuring on unseen years", 0.95)
    return _answer(described, parts, fitted, notes, watch)


def _answer(
    described: Described, parts: Sequence[GardenTask], fitted: Fitted, notes: Sequence[str], watch: Watch
) -> CooperativeAnswer:
    own, found, work, areas = described.own, fitted.found, fitted.found.work, fitted.found.areas
    horizon, wanted, crops = parts[0].horizon, parts[0].wanted, parts[0].crops
    growers = _growers(described, wanted)
    whole, named = growers.garden_of(growers.every), growers.named()
    rule = best_rule(work)
    likely = on_planned(work, areas)
    unlaid = None if found.uncut is None else on_planned(work, found.uncut)
    stood = [one for part in parts for one in part.stood]
    several = with_pieces(pickings(likely, wanted, work.request.wanted, crops, horizon), work, areas, stood,
                          wanted, crops)
    by_farm = of_farms([part.work for part in parts], areas)
    each = farm_pickings([part.work for part in parts], by_farm, work.request.wanted, several,
                         growers.who())
    made = {key: tuple(batch for part in parts for batch in part.made.get(key, ())) for key in crops}
    gardens = {part.garden.farm: part.garden for part in parts}
    answer = CooperativeAnswer(
        name=own.name, begins=day_date(horizon.begin), invented=own.invented, farms=(), pickings=several,
        plan=measured(work, areas), interval_rule=measured(work, rule.areas),
        interval_rule_setting=rule.words, gap=found.gap, seconds=watch.total(), stages=watch.stages(),
        uncounted=found.uncounted,
        cannot=(
            *fitted.said, *too_much_together(growers, work, areas, wanted, horizon),
            *out_of_reach(work, wanted, made, horizon,
                          None if found.gap is None else _would_mend(growers, parts, made), named),
        ),
        short_of=tuple(short_of(whole, wanted, likely, horizon)), money=own.money,
        short_shares=tuple(short_shares(whole, wanted, likely, horizon)),
        takings=tuple(takings(whole, wanted, likely, horizon)),
        holding=holding(work, areas, horizon, gardens),
        given_up=() if found.gap is None else given_up(
            work, found.exact, found.unlaid, wanted, likely, horizon, unlaid, named),
        notes=(*notes, *parts[0].split.notes), made_from=described.digest,
    )
    farms = tuple(
        FarmPlan(farm.name, described.named(farm),
                 replace(_farm_plan(part, x, *lying, answer), pickings=picked))
        for farm, part, x, lying, picked in zip(own.farms, parts, by_farm, fitted.lying, each, strict=True)
    )
    ground_used = [use for farm in farms for use in farm.plan.ground]
    worth = max(part.garden.plan.worth_a_sowing for part in parts)
    worse = beaten(worth, answer.plan, answer.interval_rule, ground_used, shared=True)
    return replace(answer, beaten=worse, farms=tuple(
        replace(farm, plan=replace(farm.plan, beaten=worse)) for farm in farms))


def _growers(described: Described, wanted: Sequence[WantedItem]) -> Growers:
    """Who may grow what is wanted."""
    farms = range(len(described.gardens))
    return Growers(described.own, described.gardens, [
        frozenset(number for number in farms if described.here(item, number)) for item in wanted
    ])


def _would_mend(
    growers: Growers, parts: Sequence[GardenTask], made: Mapping[str, Sequence[Batch]]
) -> Mend:
    """What would serve weeks that nothing serves, on which farm."""
    def grow_in(part: GardenTask, other: Garden, keys: Sequence[str]) -> Mapping[str, Sequence[Batch]]:
        several = {key: part.crops[key] for key in keys}
        return grown_crops(other, several, part.weather, part.split, part.horizon,
                           as_kept(part.season.learned))

    return partial(what_would_mend_together, growers, wanted=parts[0].wanted,
                   grow_in=[partial(grow_in, part) for part in parts], made=made)


def _farm_plan(
    part: GardenTask, areas: np.ndarray, use: Taken, beds: GroundAnswer, whole: CooperativeAnswer
) -> PlanAnswer:
    """A farm's own part, with the measures of the whole."""
    told = tell("One farm of {name}: how good the plan is, is told of all its farms together.",
                name=whole.name)
    plan = garden_answer(part, part.work, areas, use, whole, [told])
    plan = replace(plan, invented=plan.invented or whole.invented,
                   brought=brought(part, part.work, areas, plan.sowings))
    return with_beds(plan, beds)


def save_cooperative(file: Path, answer: CooperativeAnswer) -> Path:
    """Keep the plan in the cooperative's book, and each farm's part in the farm's; the book's path."""
    brought = [farm.plan.brought for farm in answer.farms]
    several = len(answer.farms) > 1
    for number, farm in enumerate(answer.farms):
        others = others_to_keep(answer.pickings, brought, number) if several else ()
        save_plan(file.parent / farm.file, replace(farm.plan, others=others, together=_which(answer)))
    return keep_answer(file, answer.made_from, answer)


def _which(answer: CooperativeAnswer) -> str:
    """By what the parts of one joint plan know each other; begins with the digest of the files."""
    return answer.made_from + text_digest(repr((_made_of(answer), answer.gap, answer.seconds)))


def better_together(file: Path, answer: CooperativeAnswer) -> CooperativeAnswer | None:
    """The plan kept, as `better_kept` of a garden: made of the same and proven nearer to the best."""
    try:
        kept = saved_cooperative(cooperative_of(file))
    except (BadRequest, BadPlan):  # a plan made again takes its place
        return None
    if kept is None or kept.gap is None or answer.gap is None:
        return None
    same = _made_of(kept) == _made_of(answer) and all(farm.plan.made_from.diary for farm in kept.farms)
    return kept if same and kept.gap < answer.gap else None


def _made_of(answer: CooperativeAnswer) -> tuple[object, ...]:
    return answer.begins, answer.made_from, *(farm.plan.made_from for farm in answer.farms)


def today_by_farm(
    described: Described, day: date, tonight: float | None = None
) -> tuple[FarmToday, ...]:
    """What is to be done on each farm."""
    return each_farm(described, lambda farm: today(farm.file, day, tonight))


def ground_by_farm(file: Path) -> tuple[FarmGround, ...]:
    """What goes where on each farm, by the plan kept."""
    return each_farm(cooperative_of(file), lambda farm: ground(farm.file))
