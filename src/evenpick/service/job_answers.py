"""Done, put off, refused, undone: what the grower says to a job of today (docs/design/record.md, R10)."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import (
    Answered,
    CameUp,
    Cleared,
    Decided,
    Entry,
    Fact,
    JobAnswer,
    Picked,
    PlantedOut,
    Sowed,
    Tended,
    Tending,
    Undid,
    Watered,
    new_id,
)
from evenpick.service.answers import Job, TodayAnswer
from evenpick.service.book import keep, record_of
from evenpick.service.store_plan import saved_plan
from evenpick.service.today import today
from evenpick.store.book import Book, book_path

TENDED: dict[str, Tending] = {
    "thin": "thinned", "prick out": "pricked out", "pot on": "potted on", "harden off": "hardened off",
    "earth up": "earthed up", "support": "supported", "net": "covered", "weed": "weeded",
}
PUT_OFF = timedelta(days=7)


def answer_job(
    garden: Path, job: str, answer: JobAnswer, day: date, until: date | None = None, kg: float | None = None,
    by: str = "", identity: str | None = None,
) -> tuple[Entry, ...]:
    """Write down what became of a job, by its id or its tag on the page of `day`.

    Done writes the fact itself (sown, thinned, picked: weighed only where `kg` is given); refused keeps a
    planned sowing out of later plans. `identity` is the answer's id where the device that it was given on
    made one: sent again it is the same answer, and nothing is written. BadRequest where no such job stands
    on the page.
    """
    if identity is not None and there_already(garden, identity):
        return ()
    found = find_job(today(garden, day), job)
    if answer == "put off":
        until = until or day + PUT_OFF
        if until <= day:
            raise BadRequest(Problem(tell("{until} is no later day.",
                                          until=until), tell("Name a later one."), field="until"))
        return _keep(garden, day, Answered(found.id, answer, day_number(until)), None, by, identity)
    fact = _done(garden, found, kg) if answer == "done" else _refused(found)
    return _keep(garden, day, Answered(found.id, answer), fact, by, identity)


def there_already(garden: Path, identity: str) -> bool:
    """Whether an entry was kept under an id that its device made."""
    return Book(book_path(garden)).has(identity)


def undo_job(
    garden: Path, job: str, day: date, by: str = "", identity: str | None = None
) -> tuple[Entry, ...]:
    """Take back the last answer to a job, and what was written with it."""
    if identity is not None and there_already(garden, identity):
        return ()
    page = today(garden, day)
    ids = {each.tag: each.id for each in page.answered}
    wanted = ids.get(job, job)
    said = [entry for entry in record_of(garden).entries
            if isinstance(entry.fact, Answered) and entry.fact.job == wanted]
    if not said:
        raise BadRequest(Problem(tell("no job '{job}' was answered.", job=job), tell(
                        "Answered this week: {ids}.", ids=", ".join(ids) or "none"), field="undo"))
    last = max(said, key=lambda entry: entry.id)
    undone = [last.id, last.fact.wrote] if isinstance(last.fact, Answered) else []
    made = [identity or new_id(), new_id()]
    return keep(garden, [Entry(own, day_number(day), Undid(each), "", by)
                         for own, each in zip(made, undone, strict=False) if each])


def find_job(page: TodayAnswer, job: str) -> Job:
    """A job of the page by its id or its tag; BadRequest where there is none."""
    every = (*page.jobs, *page.coming, *page.missed)
    found = next((each for each in every if job in (each.id, each.tag)), None)
    if found is None:
        tags = ", ".join(each.tag for each in page.jobs) or "none"
        raise BadRequest(Problem(tell("there is no job '{job}' today.",
                                      job=job), tell("This week's: {tags}.", tags=tags), field="job"))
    return found


def _keep(
    garden: Path, day: date, answered: Answered, fact: Fact | None, by: str, identity: str | None
) -> tuple[Entry, ...]:
    return keep(garden, tuple(_entries(day_number(day), answered, fact, by, identity)))


def _entries(
    day: int, answered: Answered, fact: Fact | None, by: str, identity: str | None
) -> Iterator[Entry]:
    wrote = None
    if fact is not None:
        wrote = new_id()
        yield Entry(wrote, day, fact, "", by)
    said = Answered(answered.job, answered.answer, answered.until, wrote)
    yield Entry(identity or new_id(), day, said, "", by)


def _refused(job: Job) -> Fact | None:
    sows = job.kind in ("sow", "plant") and job.planned is not None
    return Decided(job.planned, "refused") if sows and job.planned else None


def _done(garden: Path, job: Job, kg: float | None) -> Fact | None:
    """The fact that a job done amounts to; None where only the answer itself is one."""
    if job.kind in ("sow", "plant"):
        return _sowed(garden, job)
    if job.sowing is None:
        return None
    if job.kind in TENDED:
        return Tended(TENDED[job.kind], job.sowing)
    made: dict[str, Fact] = {
        "look": CameUp(job.sowing), "plant out": PlantedOut(job.sowing), "water": Watered(job.sowing),
        "clear": Cleared(job.sowing), "pick": Picked(job.crop, job.sowing, kg=kg),
    }
    return made.get(job.kind)


def _sowed(garden: Path, job: Job) -> Fact:
    plan = saved_plan(garden)
    planned = next(s for s in plan.sowings if s.id == job.planned) if plan is not None else None
    assert planned is not None, "a sowing job comes from a plan"
    return Sowed(planned.crop, planned.way, planned.cover, planned.area_m2, planned=planned.id)
