"""Diary: write a line, see what was understood, keep it; what was written, and undoing it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadDiary, Problem
from evenpick.garden.diary import Answered, Entry, Fact, Noted, SetUp, Sowed, Undid
from evenpick.garden.diary_json import fact_json
from evenpick.report.words import Words, percent
from evenpick.service.book import keep
from evenpick.service.job_answers import there_already
from evenpick.web.served import Served, check_id, check_token, day_of, served, show

router = APIRouter()
SHOWN = 50
SHARES = ("share", "germination")
UNITS = {"area": "m²", "kg": "kg", "grams": "g", "litres": "l", "tmin": "°C", "tmax": "°C", "rain": "mm"}
NAMED = ("sowing", "packet", "trial")
HIDDEN = ("planned", "job", "wrote", "layout")


@dataclass(frozen=True, slots=True)
class Written:
    id: str
    day: str
    said: str
    note: str
    by: str


@router.get("/diary")
def diary_page(
    request: Request, before: Annotated[int, Query(ge=0, le=10_000_000)] = 0, kept: str = ""
) -> Response:
    about = served(request)
    entries = [entry for entry in reversed(about.record().entries) if not isinstance(entry.fact, SetUp)]
    shown = [written(entry, about) for entry in entries[before : before + SHOWN]]
    last = next((each for each in shown if each.id == kept), None)
    return show(request, "diary.html", "Diary", "/diary", entries=shown, count=len(entries), before=before,
                step=SHOWN, said=f"Kept: {last.day}, {last.said}" if last else "")


@router.post("/diary")
def write_line(
    request: Request, line: Annotated[str, Form(max_length=2000)],
    identity: Annotated[str, Form(alias="id")], token: Annotated[str, Form()] = "",
    day: Annotated[str, Form()] = "",
) -> Response:
    """Keep a line as it was typed."""
    check_token(request, token)
    about, when = served(request), day_of(request, day)
    if not line.strip():
        raise BadDiary(Problem("the line is empty.", "Write what was done or seen.", field="line"))
    if not there_already(about.garden, check_id(identity)):
        keep(about.garden, [Entry(identity, day_number(when), Noted(), line.strip())])
    return RedirectResponse(f"/diary?kept={identity}", 303)


@router.post("/diary/undo")
def undo(
    request: Request, entry: Annotated[str, Form()], identity: Annotated[str, Form(alias="id")],
    token: Annotated[str, Form()] = "",
) -> Response:
    """Take an entry back; it stays in the book, with the undoing beside it."""
    check_token(request, token)
    about = served(request)
    if not there_already(about.garden, check_id(identity)):
        if check_id(entry) not in {each.id for each in about.record().entries}:
            raise BadDiary(Problem("that entry is not there, or was undone already.", "See the diary.",
                                   field="entry"))
        keep(about.garden, [Entry(identity, day_number(about.clock()), Undid(entry))])
    return RedirectResponse("/diary", 303)


def written(entry: Entry, about: Served) -> Written:
    when = day_date(entry.day)
    return Written(entry.id, when.isoformat(), fact_words(entry.fact, about, about.words()), entry.note,
                   entry.by)


def fact_words(fact: Fact, about: Served, words: Words) -> str:
    """'picked: early carrot, 1.2 kg'."""
    match fact:
        case Noted():
            return "noted"
        case Answered():
            kind = fact.job.partition(":")[0]
            return f"{kind}: {fact.answer}"
    shape = {name: value for name, value in fact_json(fact).items() if name not in ("kind", *HIDDEN)}
    parts = [_part(name, value, about, words) for name, value in shape.items()]
    return f"{fact.kind}: {', '.join(parts)}" if parts else fact.kind


def _part(name: str, value: object, about: Served, words: Words) -> str:
    if name in NAMED and isinstance(value, str):
        sowing = about.record().sowings.get(value)
        return f"{_crop(sowing.fact, words)} sown {day_date(sowing.day)}" if sowing else f"{name} not here"
    if name == "crop":
        return _name(str(value), words)
    if name == "area" and isinstance(value, int | float):
        return words.area(value)
    if name == "kg" and isinstance(value, int | float):
        return words.weight(value)
    if name in SHARES and isinstance(value, int | float):
        return percent(value)
    shown = f"{value:g}" if isinstance(value, float) else str(value)
    unit = UNITS.get(name, "")
    return f"{shown} {unit}".strip() if name in UNITS or isinstance(value, str) else f"{name} {shown}"


def _crop(fact: Sowed, words: Words) -> str:
    return _name(fact.crop, words)


def _name(key: str, words: Words) -> str:
    from evenpick.crops.catalogue import load_catalogue

    return words.name(load_catalogue().crop(key).name).lower()
