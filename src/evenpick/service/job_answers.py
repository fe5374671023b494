"""Done, put off, refused, undone: what the grower says to a job of today (docs/design/record.md, R10)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from evenpick.base.days import dated, day_date, day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.amounts import weight_told
from evenpick.garden.diary import (
    Answered,
    CameUp,
    Cleared,
    Corrected,
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
    following,
)
from evenpick.garden.effective import effective
from evenpick.garden.plausible import more_than_can_be, too_much
from evenpick.service.book import keep, record_of
from evenpick.service.jobs import tag
from evenpick.service.log_names import names_of
from evenpick.service.placed import place_of, with_places
from evenpick.service.plan_at_hand import plan_at_hand
from evenpick.service.plan_command import mending
from evenpick.service.setups import garden_of
from evenpick.service.today import today
from evenpick.service.today_answer import Job, TodayAnswer
from evenpick.store.book import Book, Proviso, book_path

TENDED: dict[str, Tending] = {
    "thin": "thinned", "prick out": "pricked out", "pot on": "potted on", "harden off": "hardened off",
    "earth up": "earthed up", "support": "supported", "net": "covered", "weed": "weeded",
}
PUT_OFF = timedelta(days=7)
SHOWN = 6
"""signs of an id by which the log goes"""


class AnsweredMeanwhile(BadRequest):
    """Another answered the job first, and that answer stands."""

    def __init__(self, theirs: Entry, answer: JobAnswer, mine: JobAnswer) -> None:
        self.theirs, self.answer = theirs, answer
        what = tell("this job was answered meanwhile: {theirs}, {when}. Yours, {mine}, was not written.",
                    theirs=tell(answer), when=day_date(theirs.day), mine=tell(mine))
        super().__init__(Problem(what, tell("Undo that answer first, to answer again."), field="job"))


def answer_job(
    garden: Path, job: str, answer: JobAnswer, day: date, until: date | None = None, kg: float | None = None,
    by: str = "", identity: str | None = None, shown: date | None = None,
) -> tuple[Entry, ...]:
    """Write down what became of a job on a day, by its id or its tag on the page of that day; or on the page
    of the day `shown`, where it was answered on a page that was older.

    Done writes the fact itself (sown, thinned, picked: weighed only where `kg` is given); refused keeps a
    planned sowing out of later plans. `identity` is the answer's id where the device that it was given on
    made one: sent again it is the same answer, and nothing is written. BadRequest where no such job stands
    on the page; AnsweredMeanwhile where another did it or refused it first.
    """
    identity = identity or Book(book_path(garden)).next_id()
    if there_already(garden, identity):
        return ()
    page = today(garden, day)
    found = _on_page(page, job)
    if found is None and shown is not None and shown != day:
        found = _on_page(today(garden, shown), job)
    if found is None:
        still = _unanswered(job, answer, identity)
        if not still.holds(Book(book_path(garden)).entries(still.kinds)):
            return ()
        raise BadRequest(_no_job(page, job))
    said, fact = _said(garden, found, answer, day, until, kg)
    entries = tuple(_entries(day_number(day), said, fact, by, identity))
    return keep(garden, entries, _unanswered(found.id, answer, identity))


def _unanswered(job: str, mine: JobAnswer, identity: str) -> Proviso:
    """That the job is still open; AnsweredMeanwhile if another did it or refused it. It does not hold where
    this same answer was kept already. What was put off is still open."""
    def holds(entries: tuple[Entry, ...]) -> bool:
        if any(entry.id == identity for entry in entries):
            return False
        for entry in effective(entries):
            fact = entry.fact
            if isinstance(fact, Answered) and fact.job == job and fact.answer != "put off":
                raise AnsweredMeanwhile(entry, fact.answer, mine)
        return True

    return Proviso((Answered.kind, Undid.kind, Corrected.kind), holds)


def _said(
    garden: Path, job: Job, answer: JobAnswer, day: date, until: date | None, kg: float | None
) -> tuple[Answered, Fact | None]:
    """An answer, and the fact that is written with it."""
    if kg is not None and (answer != "done" or job.kind != "pick"):
        what = tell("the job '{tag}' is to {kind}, and takes no weight.", tag=job.tag, kind=tell(job.kind))
        raise BadRequest(Problem(what, tell("A weight goes with a picking that is done."), field="weight"))
    if kg is not None:
        _refuse_beyond_belief(job, kg, names_of(garden).imperial)
    if answer != "put off":
        return Answered(job.id, answer), _done(garden, job, kg) if answer == "done" else _refused(job)
    last = job.can_wait_until if job.kind in ("sow", "plant") else None
    if last is not None and max(day + timedelta(days=1), until or day) > last:
        raise BadRequest(_too_long(garden, job, last))
    until = until or min(day + PUT_OFF, last or day + PUT_OFF)
    if until <= day:
        raise BadRequest(Problem(tell("{until} is no later day.",
                                      until=until), tell("Name a later one."), field="until"))
    return Answered(job.id, answer, day_number(until)), None


def _refuse_beyond_belief(job: Job, kg: float, imperial: bool) -> None:
    usual = load_catalogue().crop(job.crop).produce.kg_per_m2 * job.area_m2
    if more_than_can_be(kg, usual):
        what = too_much(weight_told(kg, imperial), job.name, job.area_m2, usual, imperial)
        mend = tell("If it is so, write it as a line of the diary and say so when it is asked.")
        raise BadRequest(Problem(what, mend, field="weight"))


def _too_long(garden: Path, job: Job, last: date) -> Problem:
    """A sowing put off past the day it can wait to would be another sowing, which the plan is to weigh."""
    what = tell("{name}, planned for {when}, can wait to {last} and no longer.",
                name=load_catalogue().crop(job.crop).told_as(job.name).told, when=job.when, last=last)
    mend = tell("Put it off to a day up to then, or refuse it; {command} then tells what can still be "
                "sown.", command=mending(garden_of(garden)))
    return Problem(what, mend, field="until")


def there_already(garden: Path, identity: str) -> bool:
    """Whether an entry was kept under an id that its device made."""
    return Book(book_path(garden)).has(identity)


def undo_job(
    garden: Path, job: str, day: date, by: str = "", identity: str | None = None
) -> tuple[Entry, ...]:
    """Take back the last answer to a job, and what was written with it."""
    identity = identity or Book(book_path(garden)).next_id()
    if there_already(garden, identity):
        return ()
    page = today(garden, day)
    ids = {each.tag: each.id for each in page.answered}
    wanted = ids.get(job, job)
    said = [entry for entry in record_of(garden).entries
            if isinstance(entry.fact, Answered) and entry.fact.job == wanted]
    if not said:
        if there_already(garden, identity):  # the same, sent twice, and the other was the quicker
            return ()
        raise BadRequest(_never_answered(garden, job, ids))
    last = max(said, key=lambda entry: entry.id)
    undone = [last.id, last.fact.wrote] if isinstance(last.fact, Answered) else []
    return keep(garden, [Entry(following(identity, at), day_number(day), Undid(each), "", by)
                         for at, each in enumerate(undone) if each])


def _never_answered(garden: Path, job: str, ids: Mapping[str, str]) -> Problem:
    """That no such job was answered; or else when it was, for a mark stands for a job in its week alone."""
    marked = [entry for entry in record_of(garden).entries
              if isinstance(entry.fact, Answered) and tag(entry.fact.job) == job]
    if not marked:
        return Problem(tell("no job '{job}' was answered.", job=job),
                       tell("Answered this week: {ids}.", ids=", ".join(ids) or "none"), field="undo")
    last = max(marked, key=lambda entry: entry.id)
    return Problem(tell("the job '{job}' was answered on {day}, which is not this week.", job=job,
                        day=dated(day_date(last.day))),
                   tell("Take the answer back with: evenpick log --undo {id}", id=last.id[-SHOWN:]),
                   field="undo")


def _on_page(page: TodayAnswer, job: str) -> Job | None:
    """A job of the page by its id or its tag."""
    every = (*page.jobs, *page.coming, *page.missed)
    return next((each for each in every if job in (each.id, each.tag)), None)


def _no_job(page: TodayAnswer, job: str) -> Problem:
    """That there is none of that mark; or that it was answered this week."""
    said = next((each for each in page.answered if job in (each.id, each.tag)), None)
    if said is not None:
        return Problem(tell("the job '{job}' was answered on {day} already: {answer}.", job=job,
                            day=dated(said.day), answer=tell(said.answer)),
                       tell("To answer it otherwise, first: evenpick today --undo {job}", job=said.tag),
                       field="job")
    tags = ", ".join(each.tag for each in page.jobs) or "none"
    return Problem(tell("there is no job '{job}' today.", job=job),
                   tell("This week's: {tags}.", tags=tags), field="job")


def _entries(day: int, said: Answered, fact: Fact | None, by: str, identity: str) -> Iterator[Entry]:
    """The answer and its fact; the fact's id is made of the answer's, so that the same answer sent twice at
    once writes the same two."""
    wrote = None if fact is None else following(identity)
    if fact is not None and wrote is not None:
        yield Entry(wrote, day, fact, "", by)
    yield Entry(identity, day, replace(said, wrote=wrote), "", by)


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
        "look": CameUp(job.sowing), "plant out": PlantedOut(job.sowing, ground=_told(garden, job.sowing)),
        "water": Watered(job.sowing),
        "clear": Cleared(job.sowing), "pick": Picked(job.crop, job.sowing, kg=kg),
    }
    return made.get(job.kind)


def _sowed(garden: Path, job: Job) -> Fact:
    described = garden_of(garden)
    plan = plan_at_hand(garden, described).plan
    planned = next(s for s in plan.sowings if s.id == job.planned) if plan is not None else None
    assert planned is not None, "a sowing job comes from a plan"
    ground = None if planned.way == "raised" else place_of(planned.beds, described)
    return Sowed(planned.crop, planned.way, planned.cover, job.area_m2, ground=ground, planned=planned.id)


def _told(garden: Path, sowing: str) -> str | None:
    """The ground into which the plan has a sowing of the diary set out."""
    described = garden_of(garden)
    placed = with_places(record_of(garden), described, plan_at_hand(garden, described).plan)
    return placed.sowings[sowing].ground
