"""Days on which nobody is there: what they leave of the time that a job can wait, and how they are told."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from evenpick.base.days import day_date, short_date
from evenpick.base.language import tell
from evenpick.garden.limits import Limits
from evenpick.service.today_answer import Job

AHEAD = timedelta(days=14)
"""before nobody is there any more it is told"""

OF_THE_DAY = ("cover", "water", "pick")
"""told for the day that is asked of, whoever is there"""
DAY = timedelta(days=1)

Span = tuple[date, date]


def gone(limits: Limits) -> tuple[Span, ...]:
    """First and last day of each span on which nobody is there."""
    return tuple((day_date(span.first), day_date(span.last)) for span in limits.away if span.nobody)


def when_there(jobs: Iterable[Job], spans: Sequence[Span], day: date) -> list[Job]:
    """The jobs on days on which somebody is there, as they are asked for on a `day`. What falls on another is
    for the return if it can wait so long, else for the nearer of that and the day before they go; what could
    wait until such a day waits until the day before they go."""
    return [_before(_moved(job, spans, day), spans) for job in jobs]


def _moved(job: Job, spans: Sequence[Span], day: date) -> Job:
    if job.kind in OF_THE_DAY or not _gone_on(job.when, spans):
        return job
    leave, back = job.when - DAY, job.when + DAY
    while _gone_on(leave, spans):
        leave -= DAY
    while _gone_on(back, spans):
        back += DAY
    wait = job.can_wait_until
    if wait is None or wait >= back:
        return replace(job, when=back)
    if leave >= day and job.when - leave <= back - job.when:
        return replace(job, when=leave, can_wait_until=leave)
    return replace(job, when=back, can_wait_until=back)


def _gone_on(day: date, spans: Sequence[Span]) -> bool:
    return any(first <= day <= last for first, last in spans)


def _before(job: Job, spans: Sequence[Span]) -> Job:
    wait = job.can_wait_until
    if wait is None:
        return job
    leave = min((first for first, last in spans if job.when < first <= wait <= last), default=None)
    return job if leave is None else replace(job, can_wait_until=leave - timedelta(days=1))


def away_soon(limits: Limits, day: date) -> str:
    """What is told from a fortnight before a span to its last day; empty where there is none."""
    near = (span for span in sorted(limits.away, key=lambda span: span.first)
            if span.nobody and day_date(span.first) - AHEAD <= day <= day_date(span.last))
    span = next(near, None)
    if span is None:
        return ""
    said = tell("Nobody is there from {first} to {last}. What can't wait until after that is done before, or "
                "by somebody else.", first=short_date(day_date(span.first)),
                last=short_date(day_date(span.last)))
    water = tell("Somebody waters meanwhile.") if span.watered else tell(
        "On the day before, beds that would run dry meanwhile are told to be watered.")
    return f"{said} {water}"
