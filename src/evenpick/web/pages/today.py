"""Today: jobs with amounts and their answers, what to pick, what will be bare."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import Annotated, Any, get_args
from urllib.parse import urlencode

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response
from markupsafe import Markup

from evenpick.base.days import day_date
from evenpick.base.errors import BadGarden, BadRequest, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.garden.amounts import weight_in
from evenpick.garden.diary import JobAnswer
from evenpick.report.days import long_day
from evenpick.report.place import far_shortly
from evenpick.report.today import (
    bed_water,
    gathered,
    glance,
    how,
    job_amount,
    job_words,
    looks_said,
    no_amounts,
)
from evenpick.report.words import percent
from evenpick.report.work_days import days_of_jobs, remarks, spoken
from evenpick.service.job_answers import AnsweredMeanwhile, answer_job, undo_job
from evenpick.service.plan_command import NO_COMMAND
from evenpick.service.today import today as answer_today
from evenpick.service.today_answer import Job, TodayAnswer
from evenpick.web.asked import check_id, check_token, day_of
from evenpick.web.pages.picking_table import list_table, week_list
from evenpick.web.problems import as_refused
from evenpick.web.said import JustWritten, just_kept, just_undone
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()


@router.get("/")
def today_page(
    request: Request, on: str | None = None, undone: JustWritten = "", kept: JustWritten = ""
) -> Response:
    about = served(request)
    if not about.begun:
        return RedirectResponse("/begin", 303)
    return _page(request, day_of(request, on, "on"), **(just_undone(about, undone) or just_kept(about, kept)))


@dataclass(frozen=True, slots=True)
class Typed:
    """A weight as it stands beside the job of a picking."""

    job: str = ""
    weight: str = ""


def _page(
    request: Request, day: date, typed: Typed = Typed(), refused: EvenpickError | None = None, **said: Any
) -> Response:
    """The jobs of a day; after what was refused, with what was typed, to be mended."""
    about = served(request)
    known = about.known(day)
    if known.plan is None and not known.record.sowings:
        return RedirectResponse("/work", 303)
    answer, words, left = answer_of(request, day), about.words(), about.plan_at_hand_now(day)
    listed = list_table((), words, nothing=no_amounts(answer)) if left is None else week_list(
        left, about.described(), day, words)
    return show(
        request, "today.html", f"{long_day(day)}: {about.farm}" if about.farm else long_day(day),
        "/", answer=answer, day=day, why=why_link, amount=lambda job: job_amount(job, words),
        bed_water=lambda bed: bed_water(bed, words),
        how=lambda job: how(job, words), days=days_of_jobs(answer), remarks=remarks(answer), spoken=spoken,
        percent=percent, picking_list=listed, far=far_shortly(answer.far, words),
        job_said=lambda job: job_words(job, words),
        said_of=_Said() if typed.job else about.latest.get(("said of jobs", day), _Said, set_up=True),
        typed=typed, **as_refused(refused), **said,
        bare=answer.bare_ahead, glance=glance(answer, words), gathered=gathered, looks_said=looks_said,
    )


class _Said:
    """What the page of a day says of a job, with buttons to answer it or without; said once in the same words
    of the garden's."""

    def __init__(self) -> None:
        self._said: dict[tuple[Job, bool], Markup] = {}

    def __call__(self, job: Job, answering: bool, caller: Callable[[], Markup]) -> Markup:
        about = job, answering
        if about not in self._said:
            self._said[about] = caller()
        return self._said[about]


def answer_of(request: Request, day: date) -> TodayAnswer:
    return today_of(served(request), day)


def today_of(about: Served, day: date) -> TodayAnswer:
    def found() -> TodayAnswer:
        return replace(answer_today(about.garden, day, known=about.known(day)), take_in=NO_COMMAND)

    return about.latest.get(("today", day), found)


def why_link(job: Job) -> str:
    """To the outlook of the sowing that the job is about; to its fortnight of water, if that is the job."""
    if job.kind == "water":
        return f"/water/{job.sowing}"
    if job.planned is not None:
        return f"/sowings/{job.planned}"
    return f"/sown/{job.sowing}"


@router.post("/jobs")
def answer_one(
    request: Request, job: Annotated[str, Form()], answer: Annotated[str, Form()],
    identity: Annotated[str, Form(alias="id")], token: Annotated[str, Form()] = "",
    day: Annotated[str, Form()] = "", until: Annotated[str, Form()] = "",
    weight: Annotated[str, Form()] = "", shown: Annotated[str, Form()] = "",
) -> Response:
    """`day` is the one to write, that of pressing the button; `shown` that of the page it stood on."""
    check_token(request, token)
    when, said = day_of(request, day), answer_word(answer)
    seen = day_of(request, shown, "shown") if shown else when
    later = day_of(request, until, "until") if until else None
    try:
        kg = weight_in(weight, served(request).words().weight_unit) if weight.strip() else None
    except BadGarden as refused:  # of what was typed, not of the garden
        return _page(request, seen, Typed(job, weight),
                     BadRequest(replace(each, field="weight") for each in refused.problems))
    try:
        answer_job(served(request).garden, job, said, when, later, kg, identity=check_id(identity),
                   shown=seen)
    except AnsweredMeanwhile as first:
        return _both(request, job, said, first)
    return _back(request, when)


def _both(request: Request, job: str, mine: JobAnswer, first: AnsweredMeanwhile) -> Response:
    """Both answers, where another answered since the page was made."""
    return show(request, "stale_job.html", tell("Answered meanwhile"), "/", status=409, job=job, mine=mine,
                theirs=first.answer, by=first.theirs.by, when=day_date(first.theirs.day))


@router.post("/jobs/undo")
def undo_one(
    request: Request, job: Annotated[str, Form()], identity: Annotated[str, Form(alias="id")],
    token: Annotated[str, Form()] = "", day: Annotated[str, Form()] = "",
) -> Response:
    check_token(request, token)
    when = day_of(request, day)
    undo_job(served(request).garden, job, when, identity=check_id(identity))
    return _back(request, when, undone=identity)


def answer_word(answer: str) -> JobAnswer:
    found = next((word for word in get_args(JobAnswer) if word == answer), None)
    if found is None:
        raise BadRequest(Problem(tell("'{answer}' is no answer to a job.",
                                      answer=answer), tell("Say done, put off or refused."),
                                 field="answer"))
    word: JobAnswer = found
    return word


def _back(request: Request, day: date, **more: str) -> RedirectResponse:
    about = more if day == served(request).clock() else {"on": day.isoformat(), **more}
    return RedirectResponse(f"/?{urlencode(about)}" if about else "/", 303)
