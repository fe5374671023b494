"""The week's jobs under the days they are put on, where hours are told by the day."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from evenpick.base.language import tell, weekday
from evenpick.report.days import day
from evenpick.service.today_answer import Job, TodayAnswer, WorkDay


@dataclass(frozen=True, slots=True)
class DayOfJobs:
    heading: str
    jobs: tuple[Job, ...]
    none: str = ""
    """what is said where it has none"""


def days_of_jobs(answer: TodayAnswer, on_paper: bool = False) -> tuple[DayOfJobs, ...]:
    """Today, the other days with hours or jobs, and what finds no time; none without hours by the day. Paper
    that hangs there all week calls no day today."""
    return tuple(_days(answer, None if on_paper else answer.day))


def _days(answer: TodayAnswer, today: date | None) -> Iterator[DayOfJobs]:
    for each in answer.days:
        jobs = tuple(job for job in answer.jobs if job.on == each.day)
        if jobs or each.there or each.dealt or each.day == answer.day:
            none = tell("What was begun before goes on.") if each.dealt else tell("No job is put on it.")
            yield DayOfJobs(_heading(each, today, answer.day.year), jobs, none)
    left_over = tuple(job for job in answer.jobs if job.on is None)
    if answer.days and left_over:
        yield DayOfJobs(tell("no time for it this week"), left_over)


def _heading(each: WorkDay, today: date | None, year: int) -> str:
    named = tell("{weekday} {day}", weekday=weekday(each.day.weekday()), day=day(each.day, year))
    if each.day == today:
        return tell("today, {day}: {work}", day=named, work=_work(each))
    return tell("{day}: {work}", day=named, work=_work(each))


def _work(each: WorkDay) -> str:
    """'2 h 10 of 3 h', and what is done of them already; more than there is, is told as that."""
    there, taken = spoken(each.there), spoken(each.dealt)
    if each.there == 0:
        said = tell("{taken}, and no hours", taken=taken) if each.dealt else tell("no hours")
    elif each.dealt + each.done > each.there and each.dealt:
        said = tell("{taken}, more than is left of {there}", taken=taken, there=there)
    else:
        said = tell("{taken} of {there}", taken=taken, there=there)
    return tell("{said}, {done} done already", said=said, done=spoken(each.done)) if each.done else said


def spoken(minutes: int) -> str:
    """'40 min', '3 h', '2 h 10'."""
    hours, rest = divmod(minutes, 60)
    if hours == 0:
        return tell("{minutes} min", minutes=rest)
    if rest == 0:
        return tell("{hours} h", hours=hours)
    return tell("{hours} h {minutes:02d}", hours=hours, minutes=rest)


def time_of(job: Job) -> str:
    return tell("not known") if job.minutes is None else spoken(job.minutes)


def beside(job: Job, year: int) -> str:
    """That it is late, and that it goes on; empty where it is neither."""
    late = tell("late, due {when}", when=day(job.when, year)) if job.late else ""
    on = "" if job.ends is None else tell("goes on until {ends}", ends=day(job.ends, year))
    return ", ".join(part for part in (late, on) if part)


def remarks(answer: TodayAnswer) -> tuple[str, ...]:
    """What the minutes leave out."""
    unknown = answer.days and any(job.minutes is None for job in answer.jobs)
    return (tell("Jobs of which the time is not known count as none."),) if unknown else ()
