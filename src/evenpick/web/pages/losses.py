"""After a loss: what was lost lately; of one loss, the weeks it leaves bare and what can still fill them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Path, Request
from fastapi.responses import Response

from evenpick.base.language import tell, tell_n
from evenpick.report.days import day, span
from evenpick.report.losses import weeks_table
from evenpick.report.words import WAY_WORDS, percent
from evenpick.service.loss_answer import AfterLoss, Filling, LossRow
from evenpick.service.losses import losses
from evenpick.service.plan_command import NO_COMMAND
from evenpick.web.asked import day_of
from evenpick.web.blocks import html
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()
Sowing = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$", description="its id in the diary")]


@router.get("/losses")
def losses_page(request: Request, on: str | None = None) -> Response:
    about, when = served(request), day_of(request, on, "on")
    return show(request, "losses.html", tell("Losses"), losses=lost(about, when), percent=percent, day=when)


@router.get("/losses/{sowing}")
def one_loss(request: Request, sowing: Sowing, on: str | None = None) -> Response:
    about, when = served(request), day_of(request, on, "on")
    words, answer = about.words(), filling(about, sowing, when)
    return show(
        request, "after_loss.html", tell("After a loss: {name}", name=words.name(answer.name)),
        answer=answer, day=when, percent=percent, ways=WAY_WORDS, fills=_fills, year=when.year,
        weeks=html([weeks_table(answer, words)], words) if answer.weeks else "",
    )


def lost(about: Served, when: date) -> tuple[LossRow, ...]:
    return about.latest.get(("losses", when), lambda: losses(about.garden, when))


def filling(about: Served, sowing: str, when: date) -> AfterLoss:
    from evenpick.service.after_loss import after_loss  # slow to load, and seldom asked for

    def found() -> AfterLoss:
        return replace(after_loss(about.garden, sowing, when), command=NO_COMMAND)

    return about.latest.get(("after loss", sowing, when), found)


def _fills(one: Filling) -> str:
    weeks = [week for week, _ in one.weeks]
    if len(weeks) == 1:
        return tell("the week of {day}", day=day(weeks[0]))
    return f"{tell_n('{n} week', '{n} weeks', len(weeks))}, {span(min(weeks), max(weeks))}"
