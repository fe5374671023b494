"""One sowing of the diary: its state, what is to be expected, and what was written of it."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from evenpick.base.days import day_date
from evenpick.base.language import tell
from evenpick.report.days import day, full_day, span
from evenpick.report.words import Words, percent
from evenpick.service.expectation import Dates
from evenpick.service.log_names import names_of
from evenpick.service.sown import SownAnswer
from evenpick.service.sown import sown as answer_sown
from evenpick.web.asked import day_of
from evenpick.web.pages.diary import written
from evenpick.web.pages.losses import Sowing
from evenpick.web.served import served
from evenpick.web.showing import show

router = APIRouter()


@router.get("/sown/{sowing}")
def one_sown(request: Request, sowing: Sowing, on: str | None = None) -> Response:
    about, when = served(request), day_of(request, on, "on")
    answer = about.latest.get(("sown", sowing, when), lambda: answer_sown(about.garden, sowing, when))
    words, began = about.words(), day_date(answer.sowing.day)
    names = about.latest.get("names", lambda: names_of(about.garden, about.record()))
    return show(
        request, "sown.html", f"{words.name(answer.name)}, {full_day(began)}", answer=answer,
        day=when, sow=began, where=words.place(answer.sowing.ground, answer.sowing.cover), percent=percent,
        area=words.area(answer.sowing.area), expected=_expected(answer, words),
        entries=[written(entry, names) for entry in reversed(answer.entries)],
        in_ground=answer.state not in ("cleared", "lost") and not answer.sowing.on_bench,
    )


def _expected(answer: SownAnswer, words: Words) -> list[tuple[str, str]]:
    """Stage and its days, of those that nobody has seen yet."""
    expect, sowing = answer.expected, answer.sowing
    if expect is None:
        return []
    stages = (
        (tell("Up"), None if sowing.up is not None else expect.up),
        (tell("Planted out"), None if sowing.planted_out is not None else expect.out),
        (tell("First picked"), None if sowing.pickings else expect.first),
        (tell("Last picked"), expect.last),
    )
    return [(name, _days(days)) for name, days in stages if days is not None]


def _days(days: Dates) -> str:
    early, likely, late = days
    if early == late:
        return day(likely)
    return tell("{days} (8 years in 10), likely {day}", days=span(early, late), day=day(likely))
