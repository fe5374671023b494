"""Jobs as an iCalendar (RFC 5545): one entry a job on its day, the same entry for the same job ever after."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from evenpick.base.language import tell
from evenpick.report.days import day
from evenpick.report.today import how, job_amount
from evenpick.report.words import Words, capital
from evenpick.report.work_days import beside, spoken
from evenpick.service.today_answer import Job

PRODUCT = "-//evenpick//jobs//EN"
EPOCH = datetime(2020, 1, 1, tzinfo=UTC)
"""from which SEQUENCE counts seconds: an INTEGER of RFC 5545 ends at 2,147,483,647, in the year 2088"""


def calendar(
    jobs: Sequence[Job], words: Words, name: str, stamp: datetime, dealt: bool = False, note: str = ""
) -> bytes:
    """All-day entries. `stamp` is when the jobs were reckoned; a later one replaces an earlier.

    There is no METHOD: the file is no message of a scheduling service, which would have to name an organizer
    (RFC 5546, 3.2.1). Days are dates without a time, the same in every time zone.

    An entry's UID is made of the job's id, which stays as plans are made anew, so that a changed plan moves
    the entry and doubles nothing. Jobs `dealt` to the days of their weeks stand on those; one that finds no
    time in its week stands on the day it is due, and says so. A `note` on all of them is the calendar's
    description (RFC 7986, 5.2), and stands in every entry, for many readers show no other.
    """
    from icalendar import Calendar, Event

    made = Calendar()
    for key, value in (("prodid", PRODUCT), ("version", "2.0"), ("calscale", "GREGORIAN"),
                       ("name", name), ("x-wr-calname", name)):
        made.add(key, value)
    if note:
        made.add("description", note)
        made.add("x-wr-caldesc", note)
    moment = stamp.astimezone(UTC).replace(microsecond=0)
    for job in jobs:
        event = Event()
        event.add("uid", f"{job.id.replace(' ', '-')}@evenpick")
        event.add("dtstamp", moment)
        event.add("last-modified", moment)
        event.add("sequence", int((moment - EPOCH).total_seconds()))
        event.add("dtstart", job.on or job.when)
        event.add("dtend", (job.on or job.when) + timedelta(days=1))
        event.add("summary", _summary(job, words))
        event.add("description", "\n".join(part for part in (_description(job, words, dealt), note) if part))
        event.add("location", job.where)
        event.add("categories", [job.kind])
        event.add("transp", "TRANSPARENT")
        made.add_component(event)
    return bytes(made.to_ical())


def _summary(job: Job, words: Words) -> str:
    amount = job_amount(job, words)
    said = f"{capital(tell(job.kind))} {words.name(job.name).lower()}"
    return f"{said}: {amount}" if amount else said


def _description(job: Job, words: Words, dealt: bool) -> str:
    year = job.when.year
    wait = "" if job.can_wait_until is None else tell("can wait to {can_wait_until}",
                                                      can_wait_until=day(job.can_wait_until, year))
    work = _work(job, year) if dealt else ()
    return "\n".join(part for part in (how(job, words), job.why, wait, *work) if part)


def _work(job: Job, year: int) -> tuple[str, ...]:
    """The time it takes, and what else its day has to say."""
    no_time = "" if job.on else tell("no time for it this week")
    takes = "" if job.minutes is None else tell("takes {time}", time=spoken(job.minutes))
    return takes, beside(job, year), no_time
