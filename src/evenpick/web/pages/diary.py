"""Diary: write a line, see what was understood, then keep it; what was written, and undoing it."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from fastapi import APIRouter, Form, Query, Request
from fastapi import Path as PathOf
from fastapi.responses import RedirectResponse, Response

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadDiary, BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Answered, Entry, Lost, Noted, SetUp, following
from evenpick.garden.diary_asking import Dated
from evenpick.garden.diary_names import Names
from evenpick.report.days import full_day
from evenpick.service.book import keep, keep_once
from evenpick.service.job_answers import there_already
from evenpick.service.log import LogAnswer, correct, correction, find_entry, only_words, understand
from evenpick.service.log_words import fact_words
from evenpick.service.undoing import undone_as
from evenpick.web.asked import check_id, check_token, day_of
from evenpick.web.problems import as_refused
from evenpick.web.said import JustWritten, just_kept, just_undone, names
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()
SHOWN = 50
LONGEST = 2000
"""letters of a line as a browser counts them, which sends two for the end of each"""
MOST_FACTS = 50
"""that one line may tell"""
STEPS = ("read", "keep", "words", "later")
"""read it back; keep what was understood; keep the words alone; sent by a device out of reach"""


@dataclass(frozen=True, slots=True)
class Written:
    id: str
    day: str
    said: str
    note: str
    by: str


@router.get("/diary")
def diary_page(
    request: Request, before: Annotated[int, Query(ge=0, le=10_000_000)] = 0,
    kept: JustWritten = "", undone: JustWritten = "",
    line: Annotated[str, Query(max_length=2 * LONGEST)] = "", day: Annotated[str, Query(max_length=10)] = "",
) -> Response:
    """What was written; with a `line` and its `day`, that in the form, to be read back."""
    about = served(request)
    said = just_undone(about, undone) or just_kept(about, kept)
    return _page(request, before, kept, said=said.get("said", ""), line=line, day=day_of(request, day))


def _page(request: Request, before: int, kept: str = "", **more: Any) -> Response:
    about, called = served(request), names(served(request))
    entries = about.latest.get("latest first", lambda: _latest_first(about.record().entries))
    shown = [written(entry, called) for entry in entries[before : before + SHOWN]]
    return show(request, "diary.html", tell("Diary"), "/diary", entries=shown, count=len(entries),
                before=before, step=SHOWN, lost=_lost_by(entries, kept), **more)


def _lost_by(entries: Sequence[Entry], kept: str) -> tuple[str, ...]:
    """Ids of the sowings of which a line just kept tells a loss."""
    if not kept:
        return ()
    first = int(kept, 16)
    return tuple(dict.fromkeys(
        entry.fact.sowing for entry in entries
        if isinstance(entry.fact, Lost) and 0 <= int(entry.id, 16) - first < MOST_FACTS
    ))


def _latest_first(entries: tuple[Entry, ...]) -> list[Entry]:
    return [entry for entry in reversed(entries) if not isinstance(entry.fact, SetUp)]


@router.post("/diary")
def write_line(
    request: Request, line: Annotated[str, Form(max_length=2 * LONGEST)],
    identity: Annotated[str, Form(alias="id")], token: Annotated[str, Form()] = "",
    day: Annotated[str, Form()] = "", step: Annotated[str, Form()] = "read",
    answers: Annotated[str, Form(max_length=4000)] = "", key: Annotated[str, Form(max_length=200)] = "",
    choice: Annotated[str, Form(max_length=200)] = "", free: Annotated[str, Form(max_length=200)] = "",
    instead: Annotated[str, Form(pattern=r"^([0-9a-f]{32})?$")] = "",
    corrects: Annotated[str, Form(pattern=r"^([0-9a-f]{32})?$")] = "",
) -> Response:
    """Read a line back, or keep it. A device that was out of reach sends `later`: what is then not clear is
    asked with status 409, and the device keeps the line until it is answered. `instead` is the id of a line
    that waits there, in whose place this one comes; `corrects` that of an entry that the line puts right."""
    check_token(request, token)
    check_id(identity)
    try:
        return _written(request, line, identity, day, step, answers, {key: free.strip() or choice}
                        if key else {}, instead, corrects)
    except (BadDiary, BadRequest) as refused:  # with what was typed, to be mended
        return _page(request, 0, line=line, instead=instead, corrects=corrects, **as_refused(refused))


def _written(
    request: Request, line: str, identity: str, day: str, step: str, answers: str, answer: Mapping[str, str],
    instead: str, corrects: str,
) -> Response:
    about, when = served(request), day_of(request, day)
    if step not in STEPS:
        raise BadRequest(Problem(tell("'{step}' is no step.", step=step), tell("It is one of {steps}.",
                                                               steps=", ".join(STEPS)), field="step"))
    if not line.strip():
        raise BadDiary(Problem(tell("the line is empty."), tell("Write what was done or seen."),
                               field="line"))
    if there_already(about.garden, identity):
        return RedirectResponse(f"/diary?kept={corrects or identity}", 303)
    if instead and there_already(about.garden, instead):
        raise BadDiary(Problem(tell("the line that waited is in the diary by now, as it was."),
                               tell("Undo it there, if this one is to stand."), field="line"))
    said = {**answers_of(answers), **answer}
    found = (correct(about.garden, corrects, line.strip(), when, said, about.clock())[0] if corrects
             else understand(about.garden, line.strip(), when, said, about.clock(), identity))
    clear = found.outcome == "understood"
    mere = step == "later" and not (clear or corrects) and only_words(about.garden, line)
    if step == "words" or mere:
        keep_once(about.garden, _entries(about, [Dated(when, Noted())], line.strip(), identity, corrects))
    elif clear and step != "read":
        facts = [Dated(each.day, each.fact) for each in found.facts]
        keep_once(about.garden, _entries(about, facts, found.line, identity, corrects))
    else:
        waits = instead or (identity if step == "later" else "")
        shared = {"instead": waits, "corrects": corrects}
        return _read_back(request, found, when, said, shared, 409 if step == "later" else 200)
    return RedirectResponse(f"/diary?kept={corrects or identity}", 303)


def _entries(
    about: Served, facts: Sequence[Dated], line: str, identity: str, corrects: str
) -> Sequence[Entry]:
    """Those of a line: the first under the id that its device made, the others under those after it; or the
    one that puts another right."""
    if corrects:
        return [correction(about.garden, corrects, facts[0], line, identity=identity)]
    return [Entry(following(identity, at), day_number(each.day), each.fact, line)
            for at, each in enumerate(facts)]


@router.get("/diary/{entry}")
def one_entry(request: Request, entry: Annotated[str, PathOf(pattern=r"^[0-9a-f]{32}$")]) -> Response:
    """A line as it was written, to be put right."""
    about = served(request)
    found = find_entry(about.record(), entry)
    if not found.note or isinstance(found.fact, SetUp | Answered):
        raise BadRequest(Problem(tell("that was not written as a line."), tell("Undo it, and write it anew."),
                                 field="entry"))
    return show(request, "correct.html", tell("Put a line right"), "/diary",
                entry=written(found, names(about)),
                line=found.note, day=day_date(found.day), of_its_day=True, corrects=found.id)


def _read_back(
    request: Request, found: LogAnswer, when: date, said: Mapping[str, str], shared: Mapping[str, str],
    status: int,
) -> Response:
    return show(request, "read_back.html", tell("Is that right?"), "/diary", status, answer=found,
                line=found.line, day=when, of_its_day=True, answers=json.dumps(said, ensure_ascii=False),
                **shared)


def answers_of(text: str) -> dict[str, str]:
    """Answers given so far, as the form carries them."""
    if not text:
        return {}
    try:
        shape = json.loads(text)
    except ValueError:
        shape = None
    if not isinstance(shape, dict) or not all(isinstance(value, str) for value in shape.values()):
        raise BadRequest(Problem(tell("the answers can't be read."), tell("Write the line again."),
                                 field="answers"))
    return shape


@router.post("/diary/undo")
def undo(
    request: Request, entry: Annotated[str, Form()], identity: Annotated[str, Form(alias="id")],
    token: Annotated[str, Form()] = "",
) -> Response:
    """Take an entry back, and what one press wrote with it; it stays in the book, with the undoing beside
    it."""
    check_token(request, token)
    about = served(request)
    if not there_already(about.garden, check_id(identity)):
        gone, undoing = undone_as(about.record(), check_id(entry), identity, day_number(about.clock()))
        if not gone:
            raise BadDiary(Problem(tell("that entry is not there, or was undone already."),
                                   tell("See the diary."),
                                   field="entry"))
        keep(about.garden, undoing)
    return RedirectResponse(f"/diary?undone={identity}", 303)


def written(entry: Entry, called: Names) -> Written:
    when = full_day(day_date(entry.day))
    return Written(entry.id, when, fact_words(entry.fact, called), entry.note, entry.by)
