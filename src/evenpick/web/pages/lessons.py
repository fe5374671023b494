"""Lessons: what the diary taught, the sowings that taught it, and how one is left out."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Entry, Fact, LeftOut, Relearned
from evenpick.report.lessons import lesson_blocks, record_columns, used_row
from evenpick.service.book import keep
from evenpick.service.job_answers import there_already
from evenpick.service.lessons import LessonsAnswer
from evenpick.service.lessons import lessons as answer_lessons
from evenpick.web.asked import check_id, check_token
from evenpick.web.blocks import html
from evenpick.web.said import JustWritten, just_kept
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()
SHOWN = 40


@router.get("/lessons")
def lessons_page(
    request: Request, before: Annotated[int, Query(ge=0, le=10_000_000)] = 0, kept: JustWritten = ""
) -> Response:
    """The lessons, and the latest sowings that taught them, `SHOWN` on a page."""
    about = served(request)
    answer, words = lessons_of(about), about.words()
    records = answer.records[::-1][before : before + SHOWN]
    return show(
        request, "lessons.html", tell("Lessons"), "/lessons",
        lessons=html(lesson_blocks(answer, words), words), columns=record_columns()[1:],
        records=[(one, used_row(one, words)[1:]) for one in records],
        crops=sorted({one.name for one in answer.records}),
        before=before, step=SHOWN, count=len(answer.records),
        **just_kept(about, kept),
    )


@router.post("/lessons/leave-out")
def leave_out(
    request: Request, sowing: Annotated[str, Form(max_length=32)], identity: Annotated[str, Form(alias="id")],
    token: Annotated[str, Form()] = "",
) -> Response:
    """Learn nothing from a sowing."""
    check_token(request, token)
    if sowing not in served(request).record().sowings:
        raise BadRequest(Problem(tell("the diary has no such sowing."), tell("See the lessons."),
                                 field="sowing"))
    return _kept(request, identity, LeftOut(sowing))


@router.post("/lessons/anew")
def anew(
    request: Request, identity: Annotated[str, Form(alias="id")],
    crop: Annotated[str, Form(max_length=100)] = "", token: Annotated[str, Form()] = "",
) -> Response:
    """Learn anew from today on, of one crop or of all."""
    check_token(request, token)
    return _kept(request, identity, Relearned(load_catalogue().crop(crop).key if crop else None))


def lessons_of(about: Served) -> LessonsAnswer:
    day = about.clock()
    return about.latest.get(("lessons", day), lambda: answer_lessons(about.garden, day))


def _kept(request: Request, identity: str, fact: Fact) -> Response:
    about = served(request)
    if not there_already(about.garden, check_id(identity)):
        keep(about.garden, [Entry(identity, day_number(about.clock()), fact)])
    return RedirectResponse(f"/lessons?kept={identity}", 303)
