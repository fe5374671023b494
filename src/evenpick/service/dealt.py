"""The jobs of a week dealt to its days (docs/design/season.md, 23)."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from evenpick.service.today_answer import Job, JobKind, WorkDay

NEVER_HELD: tuple[JobKind, ...] = ("water", "cover", "pick")
"""put on their own day, be there time or not"""
TO_THE_DAY: tuple[JobKind, ...] = ("water", "cover")
"""of these what the weather asks for that very day"""
SOWN: tuple[JobKind, ...] = ("sow", "plant")


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a job's day has to keep to beside the hours."""

    sowing_days: Collection[int]
    """0 Monday to 6 Sunday"""
    earliest: Mapping[str, date]
    """by id of the job: put off to that day, or fixed for it"""


def dealt(
    jobs: Sequence[Job], days: Sequence[WorkDay], bounds: Bounds
) -> tuple[tuple[Job, ...], tuple[WorkDay, ...]]:
    """The jobs, the most urgent first, each with its day if one has time for it; and what the days then hold.
    `days` are those from today to the end of the week."""
    week = _Week(days, bounds)
    put = {job.id: week.on_its_own(job) for job in jobs if job.kind in NEVER_HELD}
    put |= {job.id: week.where_there_is_time(job) for job in jobs if job.kind not in NEVER_HELD}
    return tuple(put[job.id] for job in jobs), week.filled()


class _Week:
    def __init__(self, days: Sequence[WorkDay], bounds: Bounds) -> None:
        self.days, self.bounds = days, bounds
        self.there = {each.day: each.there for each in days}
        self.left = {each.day: each.there - each.done for each in days}
        self.dealt = dict.fromkeys(self.there, 0)

    def filled(self) -> tuple[WorkDay, ...]:
        return tuple(replace(each, dealt=self.dealt[each.day]) for each in self.days)

    def on_its_own(self, job: Job) -> Job:
        """On its own day; a picking on the first day with hours from then on, if it can wait for it."""
        own = max(job.when, self.days[0].day)
        worked = [] if job.kind in TO_THE_DAY else [day for day in self._open(job) if day >= own]
        return self._put(job, [(next(iter(worked), own), job.minutes or 0)])

    def where_there_is_time(self, job: Job) -> Job:
        """The first day with the time from the job's own on, else the first before it; a job longer than any
        day on several; as it was where there is no time."""
        minutes, opened = job.minutes or 0, self._open(job)
        may = self._sowing_days(job, opened)
        onward = [day for day in may if day >= job.when]
        for day in (*onward, *(day for day in may if day < job.when)):
            if self._free(day) >= minutes:
                return self._put(job, [(day, minutes)])
        if minutes > max((self.there[day] for day in may), default=minutes):
            for days in (onward, may, opened):
                if parts := self._parts(days, minutes):
                    return self._put(job, parts)
        return job

    def _open(self, job: Job) -> list[date]:
        """Days on which somebody works, none before it was put off to nor after it can wait to."""
        first, last = self.bounds.earliest.get(job.id, date.min), job.can_wait_until
        if last is None or last < self.days[0].day:
            last = date.max
        return [day for day, there in self.there.items() if there > 0 and first <= day <= last]

    def _sowing_days(self, job: Job, days: list[date]) -> list[date]:
        if job.kind not in SOWN:
            return days
        return [day for day in days if day.weekday() in self.bounds.sowing_days] or days

    def _free(self, day: date) -> int:
        return max(0, self.left[day])

    def _parts(self, days: Sequence[date], minutes: int) -> list[tuple[date, int]]:
        """What is left of one day after another until the job is done; nothing where it does not get done."""
        parts: list[tuple[date, int]] = []
        for day in days:
            part = min(self._free(day), minutes - sum(each for _, each in parts))
            parts += [(day, part)] if part > 0 else []
        return parts if sum(part for _, part in parts) == minutes else []

    def _put(self, job: Job, parts: Sequence[tuple[date, int]]) -> Job:
        for day, minutes in parts:
            self.left[day] -= minutes
            self.dealt[day] += minutes
        first, last = parts[0][0], parts[-1][0]
        return replace(job, on=first, ends=last if last > first else None)
