"""What a kept plan counts on of its sowings and will not be had, by the diary (docs/design/season.md, 22)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from evenpick.base.days import day_date, day_number, monday_of
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.record import NOTHING_LEFT, Record, Sowing
from evenpick.service.carried_out import NEAR_DAYS, carried_out
from evenpick.service.jobs import of_planned, put_off
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing, StandingSowing

Why = Literal["lost", "cleared", "not sown", "refused", "another amount"]
ABOUT_ALL = 0.1
"""of a planned amount: a sowing that differs by less is the one planned (measured by eye; our choice)"""
STORED_WEEKS = 2
"""that fresh produce is kept without a store, as in outlook/ripening"""


@dataclass(frozen=True, slots=True)
class Gone:
    """What a plan counts on of a sowing and is not, or no more, to be had; or of which there is more."""

    crop: str
    share: float
    """of what was sown that is to be had no more from `day` on"""
    day: date
    item: str | None
    """that it serves"""
    why: Why
    times: float = 1.0
    """what was sown, as a multiple of what was planned"""
    keeps: bool = False
    """what was ripe before `day` lies in a store and stays good"""

    @property
    def whole(self) -> bool:
        return self.share >= 1.0 - NOTHING_LEFT


def gone_since(plan: PlanAnswer, record: Record, day: date) -> Mapping[str, Gone]:
    """By the id that the plan knows a sowing by. Sowings that were not made count only where the diary has
    any sowing at all: a grower who keeps none is taken to follow the plan."""
    made = carried_out(plan.sowings, record.sowings.values())
    parts = sown_for(plan, record, made, day)
    found = {each.id: _of_made(each, parts[each.id], day) for each in plan.sowings if each.id in parts}
    found |= {each.id: _of_standing(each, record.sowings[each.id], plan.begins, day)
              for each in plan.standing if each.id in record.sowings}
    found |= {each.id: _of_open(each, record, day) for each in plan.sowings if each.id not in made}
    return {name: gone for name, gone in found.items() if gone is not None}


def besides(plan: PlanAnswer, record: Record, day: date) -> Iterator[Sowing]:
    """Sowings made since the plan, and still there, that it knows nothing of."""
    made = carried_out(plan.sowings, record.sowings.values())
    parts = sown_for(plan, record, made, day).values()
    known = {each.id for each in plan.standing} | {sowing.id for several in parts for sowing in several}
    known |= set(made.values())
    first, last = day_number(plan.begins), day_number(day)
    for sowing in record.sowings.values():
        if first <= sowing.day <= last and sowing.id not in known and not sowing.over(last):
            yield sowing


def supposed(plan: PlanAnswer, record: Record, day: date) -> bool:
    """Whether sowings of which the diary says nothing are taken to be made."""
    return not record.sowings and any(each.sow < monday_of(day) for each in plan.sowings)


def sown_for(
    plan: PlanAnswer, record: Record, made: Mapping[str, str], day: date
) -> Mapping[str, Sequence[Sowing]]:
    """What was sown for each planned sowing, by its id: several, where it was sown in several beds or days;
    `made` as of `carried_out`."""
    known = {each.id for each in plan.standing}
    carried = {each.id: each for each in plan.sowings if each.id in made and made[each.id] not in known}
    names = {sown: planned for planned, sown in made.items()}
    found: dict[str, list[Sowing]] = {}
    for sowing in record.sowings.values():
        if sowing.day <= day_number(day) and sowing.id not in known:
            name = _part_of(sowing, carried, names)
            if name is not None:
                found.setdefault(name, []).append(sowing)
    return found


def _part_of(
    sowing: Sowing, carried: Mapping[str, PlannedSowing], names: Mapping[str, str]
) -> str | None:
    """The planned sowing of which one is a part: its own, or the nearest that was carried out beside it."""
    own = names.get(sowing.id) or sowing.fact.planned
    if own is not None:
        return own if own in carried else None
    like = (sowing.fact.crop, sowing.fact.way, sowing.fact.cover)
    near = [(abs(day_number(each.sow) - sowing.day), each.id) for each in carried.values()
            if (each.crop, each.way, each.cover) == like]
    return next((name for apart, name in sorted(near) if apart <= NEAR_DAYS), None)


def _of_made(planned: PlannedSowing, several: Sequence[Sowing], day: date) -> Gone | None:
    """Cleared, or lost in part, or sown in another amount."""
    sown = sum(sowing.area for sowing in several)
    times = sown / planned.area_m2
    times = times if abs(times - 1.0) > ABOUT_ALL else 1.0
    ends = [end for sowing in several if (end := _ended(sowing, day)) is not None]
    if ends:
        left = sum(sowing.area * _left(sowing, day) for sowing in several)
        stored, why = _stored(planned.crop, ends)
        return Gone(planned.crop, 1.0 - left / sown, day_date(max(ends)[0]), planned.item, why, times, stored)
    if times == 1.0:
        return None
    first = day_date(min(sowing.day for sowing in several))
    return Gone(planned.crop, 0.0, first, planned.item, "another amount", times)


def _of_standing(standing: StandingSowing, sowing: Sowing, begins: date, day: date) -> Gone | None:
    """Less than was left of it when the plan was made."""
    end, left = _ended(sowing, day), _left(sowing, day)
    if end is None or end[0] < day_number(begins) or left >= standing.left - 1e-9:
        return None
    stored, why = _stored(standing.crop, [end])
    return Gone(standing.crop, 1.0 - left / standing.left, day_date(end[0]), standing.item, why, 1.0, stored)


def _left(sowing: Sowing, day: date) -> float:
    return 0.0 if sowing.state(day_number(day)) == "cleared" else sowing.left_on(day_number(day))


def _ended(sowing: Sowing, day: date) -> tuple[int, Why] | None:
    """The day of its clearing or last loss until then, if there was one."""
    number = day_number(day)
    if sowing.cleared is not None and sowing.cleared <= number:
        return sowing.cleared, "cleared"
    lost = [loss.day for loss in sowing.losses if loss.day <= number]
    return (lost[-1], "lost") if lost else None


def _stored(crop: str, ends: Sequence[tuple[int, Why]]) -> tuple[bool, Why]:
    """Whether what was cleared lies in a store; and what is to be said of it."""
    cleared = all(why == "cleared" for _, why in ends)
    return cleared and load_catalogue().crop(crop).harvest.store_weeks > STORED_WEEKS, max(ends)[1]


def _of_open(planned: PlannedSowing, record: Record, day: date) -> Gone | None:
    """Refused, or its last day has passed; None where it can still be made."""
    decided = record.decisions.get(planned.id)
    if decided is not None and decided.decision == "refused":
        return Gone(planned.crop, 1.0, planned.sow, planned.item, "refused")
    if record.sowings and too_late(planned, record, day):
        return Gone(planned.crop, 1.0, planned.sow, planned.item, "not sown")
    return None


def too_late(planned: PlannedSowing, record: Record, day: date) -> bool:
    """Whether it was refused, or today tells it as too late: its week and the last day it could wait to are
    past."""
    job = put_off(next(of_planned(planned, made=False)), record.answers)
    if job is None:
        return True
    return job.when < monday_of(day) and job.can_wait_until is not None and job.can_wait_until < day
