"""The days of a week with a garden's hours, and its jobs dealt to them (docs/design/season.md, 23)."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from evenpick.base.days import day_date, day_number, monday_of
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.service.dealt import Bounds, dealt
from evenpick.service.job_minutes import done_on
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.today_answer import Job, WorkDay


def dealt_week(
    jobs: Sequence[Job], garden: Garden, plan: PlanAnswer | None, record: Record, first: date
) -> tuple[tuple[Job, ...], tuple[WorkDay, ...]]:
    """The jobs, the most urgent first, put on days from `first` to the end of its week; as they were, and no
    days, where no hours are told by the day."""
    if garden.limits.by_day is None:
        return tuple(jobs), ()
    bounds = Bounds(garden.plan.sowing_days, _earliest(plan, record))
    return dealt(jobs, _days(garden, record, first), bounds)


def _days(garden: Garden, record: Record, first: date) -> tuple[WorkDay, ...]:
    days = (first + timedelta(days=at) for at in range(7 - (first - monday_of(first)).days))
    return tuple(
        WorkDay(day, round(60 * garden.limits.hours_on(day_number(day))), done=done_on(record, day))
        for day in days
    )


def _earliest(plan: PlanAnswer | None, record: Record) -> dict[str, date]:
    """Days that jobs were put off to, and that sowings were fixed for."""
    fixed = () if plan is None else (one for one in plan.sowings if one.fixed)
    found = {f"{verb}:{one.id}": one.sow for one in fixed for verb in ("sow", "plant")}
    put_off = {job: day_date(said.until) for job, said in record.answers.items()
               if said.answer == "put off" and said.until is not None}
    return found | put_off
