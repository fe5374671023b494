"""What to do today: the plan's jobs and those of the sowings under way, less what has been answered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path

from evenpick.base.days import dated, day_date, day_number, monday_of
from evenpick.base.errors import NothingKept, Problem
from evenpick.base.language import later, tell
from evenpick.climate.origin import ClimateOrigin
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Answered, Reading
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.plan.horizon import SOWING_WEEKS
from evenpick.service.away import away_soon, gone, when_there
from evenpick.service.book import lately
from evenpick.service.by_hand import by_hand
from evenpick.service.expectation import Expected
from evenpick.service.far_weather import far_weather
from evenpick.service.foreseen import foreseen
from evenpick.service.job_minutes import with_minutes
from evenpick.service.jobs import of_planned, of_sowing, put_off, tag
from evenpick.service.less_lost import less_lost
from evenpick.service.loss_answer import LossRow
from evenpick.service.losses import lost_lately
from evenpick.service.other_farms import OtherFarms, others_now
from evenpick.service.outlook_answer import Band
from evenpick.service.picking_list import is_bare
from evenpick.service.pickings_answer import ItemPickings
from evenpick.service.placed import with_places
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_at_hand import plan_at_hand
from evenpick.service.plan_command import mending, plan_command
from evenpick.service.setups import garden_of
from evenpick.service.sowing_ids import crop_named_in
from evenpick.service.still_to_sow import still_to_sow
from evenpick.service.store_plan import MAKE_ONE
from evenpick.service.thirsty import had_its_water, thirsty
from evenpick.service.today_answer import AnsweredJob, Job, Pick, ThirstyBed, TodayAnswer, WorkDay
from evenpick.service.work_week import dealt_week

WEEK = timedelta(days=7)
COMING = timedelta(days=14)
AHEAD_WEEKS = 8
LEAST_PICK = 0.02  # kg: less is not worth a walk down the garden
FORGOTTEN = timedelta(days=28)
"""a job or a loss older than that is told no more"""
NO_PLAN = later("No plan is kept for this garden as it now is; this is from the diary. Make one to see "
                "the rest.")


@dataclass(frozen=True, slots=True)
class Known:
    """A garden as a program that asks again and again has it already."""

    described: Garden
    plan: PlanAnswer | None
    record: Record
    """as `lately` gives it"""
    older: str = ""
    """as of `AtHand`"""
    others: OtherFarms | None = None


def today(
    garden: Path, day: date, tonight: float | None = None, known: Known | None = None
) -> TodayAnswer:
    """Everything due in the week of `day`, late jobs first in their turn, and the fortnight after it.

    `tonight` is the coming night's minimum in °C, as a forecast has it. BadGarden, BadBook.
    """
    asked = every_job(garden, day, tonight, known)
    return _answer(asked, day)


@dataclass(frozen=True, slots=True)
class EveryJob:
    """All that the plan and the sowings under way ask, answered or not, from long ago to far ahead."""

    described: Garden
    plan: PlanAnswer | None
    record: Record
    jobs: tuple[Job, ...]
    thirsty: tuple[ThirstyBed, ...]
    older: str
    """as of `AtHand`"""
    others: OtherFarms | None


def every_job(
    garden: Path, day: date, tonight: float | None = None, known: Known | None = None
) -> EveryJob:
    """As it stands on a day. NothingKept where there is neither a plan nor a sowing."""
    known = known or _known(garden, day)
    described, plan, record = known.described, known.plan, known.record
    if plan is None and not record.sowings:
        raise NothingKept(Problem(tell("there is no plan for this garden as it now is."),
                                 tell(MAKE_ONE, command=plan_command(described.cooperative)), str(garden)))
    record = with_places(record, described, plan)
    coming = under_way_foreseen(garden, described, plan, record, day, tonight)
    jobs = [job for name, expect in coming.items()
            for job in of_sowing(record.sowings[name], expect, day, described)]
    hand = by_hand(described)
    jobs = [job for job in jobs if not had_its_water(job, record, day, hand)]
    jobs += [] if plan is None else plan_jobs(plan, record, day)
    jobs = when_there(jobs, gone(described.limits), day)
    return EveryJob(described, plan, record, tuple(with_minutes(jobs, plan, record, day)),
                    thirsty(record, coming, day, hand), known.older, known.others)


def _known(garden: Path, day: date) -> Known:
    described = garden_of(garden)
    found = plan_at_hand(garden, described)
    others = None if found.plan is None else others_now(garden, described, found.plan, day)
    return Known(described, found.plan, lately(garden, day_number(day)), found.older, others)


def under_way_foreseen(
    garden: Path, described: Garden, plan: PlanAnswer | None, record: Record, day: date,
    tonight: float | None = None,
) -> Mapping[str, Expected]:
    """What is expected of everything that is not cleared by that day, by id of the sowing."""
    number = day_number(day)
    under_way = [s for s in record.sowings.values() if s.day <= number and s.state(number) != "cleared"]
    learned = () if plan is None else plan.learned
    found = foreseen(garden, described, under_way, _readings(record, day, tonight), day, learned)
    return {sowing.id: found[sowing.id] for sowing in under_way}


def jobs_ahead(garden: Path, day: date, days: int) -> tuple[tuple[Job, ...], bool, str]:
    """Jobs still open from the week of `day` to so many days on; what is put off stands on its new day, what
    is late and can still be done on `day`. Where hours are told by the day, each week's are dealt to its
    days, late ones to this week's; and whether so; and what is said of an older plan, as of `AtHand`."""
    asked, monday, end = every_job(garden, day), monday_of(day), day + timedelta(days=days + 1)
    still = _still_open(asked)
    ahead = [job for job in still if monday <= job.when < end]
    due = _due(asked, still, day)[0]
    if asked.described.limits.by_day is None:
        late = [replace(job, on=day) for job in due if job.late]
        every = sorted([*late, *ahead], key=lambda job: (job.on or job.when, job.id))
        return tuple(every), False, asked.older
    jobs = [*_dealt(asked, due, day)[0]]
    while (monday := monday + WEEK) < end:
        jobs += _dealt(asked, [job for job in ahead if monday <= job.when < monday + WEEK], monday)[0]
    return tuple(sorted(jobs, key=lambda job: (job.on or job.when, job.id))), True, asked.older


def first_week(plan: PlanAnswer) -> tuple[Job, ...]:
    """The jobs of a plan's first week, as though nothing had been answered."""
    monday = monday_of(plan.begins)
    jobs = (job for sowing in plan.sowings for job in of_planned(sowing, made=True))
    return _in_turn((job for job in jobs if monday <= job.when < monday + WEEK), monday)


def plan_jobs(plan: PlanAnswer, record: Record, day: date) -> list[Job]:
    """Of the planned sowings that are still to be made, whole or in part."""
    return [job for sowing in still_to_sow(plan, record, day)
            for job in of_planned(sowing, made=not record.sowings)]


def _readings(record: Record, day: date, tonight: float | None) -> Mapping[int, Reading]:
    found = dict(record.readings)
    if tonight is not None:
        found[day_number(day)] = replace(found.get(day_number(day), Reading()), tmin=tonight)
    return found


def _answer(asked: EveryJob, day: date) -> TodayAnswer:
    plan, record, monday = asked.plan, asked.record, monday_of(day)
    still = _still_open(asked)
    due, missed = _due(asked, still, day)
    jobs, days = _dealt(asked, due, day)
    ahead = [job for job in still if monday + WEEK <= job.when < monday + WEEK + COMING]
    left = None if plan is None else less_lost(plan, record, day, mending(asked.described), asked.others)
    return TodayAnswer(
        asked.described.site, day, jobs,
        () if left is None else tuple(_picks(left, monday)), tuple(sorted(ahead, key=lambda job: job.when)),
        () if left is None else tuple(_bare_ahead(left, monday, asked.described.cooperative is not None)),
        tuple(job for job in missed if job.kind in ("sow", "plant")), tuple(_answered(plan, record, monday)),
        _notes(asked, left, day),
        _take_in(asked, left), _lost(plan, record, day), days, _far(asked.described, plan),
        asked.thirsty,
    )


def _notes(asked: EveryJob, left: PlanAnswer | None, day: date) -> tuple[str, ...]:
    said = (tell(NO_PLAN),) if left is None else (_out_of_it(left, day), left.loss_note)
    return tuple(filter(None, (away_soon(asked.described.limits, day), asked.older, *said)))


def _take_in(asked: EveryJob, left: PlanAnswer | None) -> str:
    """The command that takes into the plan what it does not know."""
    if left is None:
        return ""
    return left.take_in or (mending(asked.described) if asked.older else "")


def _out_of_it(plan: PlanAnswer, day: date) -> str:
    """Of a week before the plan's first, or after its last for sowing: that nothing due is no news of it. A
    machine whose clock is wrong says so too."""
    last = monday_of(plan.begins) + SOWING_WEEKS * WEEK
    if monday_of(day) < monday_of(plan.begins):
        return tell("The plan begins on {begins}: it asks nothing before. Is today's date right?",
                    begins=dated(plan.begins))
    if day >= last:
        return tell("The plan is of {begins} and plans no sowing from {last} on. It is time for a new one.",
                    begins=dated(plan.begins), last=dated(last))
    return ""


def _far(described: Garden, plan: PlanAnswer | None) -> ClimateOrigin | None:
    """Where the plan's weather comes from, or, without a plan, the garden's; None if it is near."""
    if plan is None:
        return far_weather(described.site, described.weather)
    return plan.climate if plan.climate.far else None


def _still_open(asked: EveryJob) -> list[Job]:
    return [job for job in (put_off(job, asked.record.answers) for job in asked.jobs) if job is not None]


def _due(asked: EveryJob, still: Sequence[Job], day: date) -> tuple[list[Job], list[Job]]:
    """Of the jobs still open those of the week and late ones; and the late ones that can't be made up for. A
    garden whose diary is empty is no other: what was not answered was not done."""
    monday = monday_of(day)
    late = [replace(job, late=True) for job in still if day - FORGOTTEN <= job.when < monday]
    missed = [job for job in late if job.can_wait_until is not None and job.can_wait_until < day]
    due = [job for job in still if monday <= job.when < monday + WEEK]
    return [*due, *(job for job in late if job not in missed)], missed


def _dealt(
    asked: EveryJob, jobs: Sequence[Job], first: date
) -> tuple[tuple[Job, ...], tuple[WorkDay, ...]]:
    return dealt_week(_in_turn(jobs, monday_of(first)), asked.described, asked.plan, asked.record, first)


def _lost(plan: PlanAnswer | None, record: Record, day: date) -> tuple[LossRow, ...]:
    """What was lost of late and no plan has taken in yet."""
    lately = lost_lately(record, day, FORGOTTEN.days)
    return tuple(row for row in lately if plan is None or row.day >= plan.begins)


def _in_turn(jobs: Iterable[Job], week: date) -> tuple[Job, ...]:
    """The jobs of a week, by its Monday, the most urgent first."""
    return tuple(sorted(jobs, key=lambda job: _urgency(job, week)))


def _urgency(job: Job, week: date) -> tuple[bool, bool, bool, date, date]:
    """What can't wait comes first: frost tonight, what is lost if it is not done in this `week` (by its
    Monday), then by the last day it may be done; whether something late is up is looked at when the rest is
    done."""
    lapses = job.can_wait_until is not None and job.can_wait_until < week + WEEK
    last = min(job.can_wait_until or job.when + WEEK, job.when + WEEK)
    return job.kind != "cover", job.late and job.kind == "look", not lapses, last, job.when


def _answered(plan: PlanAnswer | None, record: Record, monday: date) -> Iterator[AnsweredJob]:
    """Jobs answered in this week, each as last answered."""
    names = {} if plan is None else {sowing.id: sowing.name for sowing in plan.sowings}
    crops = {name: load_catalogue().crop(sowing.fact.crop).name for sowing in record.sowings.values()
             for name in (sowing.id, sowing.fact.planned)}
    for entry in record.entries:
        fact = entry.fact
        if not isinstance(fact, Answered) or record.answers[fact.job] is not fact:
            continue
        if monday <= day_date(entry.day) < monday + WEEK:
            kind, about = fact.job.split(":")[:2]
            name = names.get(about) or crops.get(about) or crop_named_in(about)
            yield AnsweredJob(fact.job, tag(fact.job), kind, name, fact.answer, day_date(entry.day))


def _picks(plan: PlanAnswer, monday: date) -> Iterator[Pick]:
    for item in plan.pickings:
        for week in item.weeks:
            if week.week == monday and week.high > LEAST_PICK:
                have = Band(week.low, week.likely, week.high)
                yield Pick(item.item, item.piece, week.piece_kg or item.piece_kg, have, week.of_all)


def _bare_ahead(plan: PlanAnswer, monday: date, shared: bool) -> Iterator[tuple[str, date]]:
    for item in plan.pickings:
        first = _first_bare(item, monday, shared)
        if first is not None:
            yield item.item, first


def _first_bare(item: ItemPickings, monday: date, shared: bool) -> date | None:
    last = monday + AHEAD_WEEKS * WEEK
    bare = (
        week.week for week in item.weeks[item.lead :]
        if monday <= week.week < last and is_bare(week, shared)
    )
    return next(bare, None)
