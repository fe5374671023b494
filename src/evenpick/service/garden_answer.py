"""A garden's own answer: what a plan of its own and its part of a cooperative's plan tell alike."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from evenpick.base.arrays import Floats
from evenpick.plan.task import Task
from evenpick.service.away import gone
from evenpick.service.changes import changed
from evenpick.service.garden_task import GardenTask, Taken, made_from
from evenpick.service.pickings_answer import Measured
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_limits import hours_used
from evenpick.service.sowings import seed_needs


class Judged(Protocol):
    """How good the whole plan is, this garden's or all farms', and how long it took."""

    @property
    def plan(self) -> Measured: ...
    @property
    def interval_rule(self) -> Measured: ...
    @property
    def interval_rule_setting(self) -> str: ...
    @property
    def gap(self) -> float | None: ...
    @property
    def uncounted(self) -> float | None: ...
    @property
    def seconds(self) -> float: ...
    @property
    def stages(self) -> tuple[tuple[str, float], ...]: ...


def garden_answer(
    part: GardenTask, work: Task, areas: Floats, use: Taken, judged: Judged, notes: Iterable[str]
) -> PlanAnswer:
    """What the areas of the garden's own task, as it was kept to, come to, with the `use` that `taken` makes
    of them; pickings, what can't be and what holds it back are told of the whole, and left out here. `notes`
    go before its own."""
    garden, season, horizon = part.garden, part.season, part.horizon
    return PlanAnswer(
        site=garden.site, climate=part.weather.origin, begins=use.begins,
        invented=garden.invented_by_demo, sowings=use.sowings, pickings=(), ground=use.ground,
        seed=seed_needs(use.first_year(), part.packets, part.crops, garden.kept, use.begins),
        plan=judged.plan,
        interval_rule=judged.interval_rule, interval_rule_setting=judged.interval_rule_setting,
        gap=judged.gap, seconds=judged.seconds, stages=judged.stages, cannot=(), made_from=made_from(part),
        notes=(*notes, *use.notes), standing=use.standing, refused=season.decided.refused,
        changes=changed(season, use.sowings, use.standing, horizon.begin, part.digest, gone(garden.limits)),
        learned=season.learned, hours=hours_used(work, areas, part.stood, garden, horizon),
        uncounted=judged.uncounted, away=gone(garden.limits), granted=use.notes,
    )
