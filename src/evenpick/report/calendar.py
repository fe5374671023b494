"""Jobs as an iCalendar (RFC 5545): one entry a job on its day, the same entry for the same job ever after."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from evenpick.base.language import tell
from evenpick.report.today import how, job_amount
from evenpick.report.words import Words, capital, day
from evenpick.service.answers import Job

PRODUCT = "-//evenpick//jobs//EN"
EPOCH = datetime(2020, 1, 1, tzinfo=UTC)
"""from which SEQUENCE counts seconds: an INTEGER of RFC 5545 ends at 2,147,483,647, in the year 2088"""


def calendar(jobs: Sequence[Job], words: Words, name: str, stamp: datetime) -> bytes:
    """All-day entries. `stamp` is when the jobs were reckoned; a later one replaces an earlier.

    There is no METHOD: the file is no message of a scheduling service, which would have to name an organizer
    (RFC 5546, 3.2.1). Days are dates without a time, the same in every time zone.

    An entry's UID is made of the job's id, which stays as plans are made anew, so that a changed plan moves
    the entry and doubles nothing.
    """
    from icalendar import Calendar, Event

    made = Calendar()
    for key, value in (("prodid", PRODUCT), ("version", "2.0"), ("calscale", "GREGORIAN"),
                       ("name", name), ("x-wr-calname", name)):
        made.add(key, value)
    moment = stamp.astimezone(UTC).replace(microsecond=0)
    for job in jobs:
        event = Event()
        event.add("uid", f"{job.id.replace(' ', '-')}@evenpick")
        event.add("dtstamp", moment)
        event.add("last-modified", moment)
        event.add("sequence", int((moment - EPOCH).total_seconds()))
        event.add("dtstart", job.when)
        event.add("dtend", job.when + timedelta(days=1))
        event.add("summary", _summary(job, words))
        event.add("description", _description(job, words))
        event.add("location", job.where)
        event.add("categories", [job.kind])
        event.add("transp", "TRANSPARENT")
        made.add_component(event)
    return bytes(made.to_ical())


def _summary(job: Job, words: Words) -> str:
    amount = job_amount(job, words)
    said = f"{capital(tell(job.kind))} {words.name(job.name).lower()}"
    return f"{said}: {amount}" if amount else said


def _description(job: Job, words: Words) -> str:
    wait = "" if job.can_wait_until is None else tell("can wait to {can_wait_until}",
                                                      can_wait_until=day(job.can_wait_until, job.when.year))
    return "\n".join(part for part in (how(job, words), job.why, wait) if part)
