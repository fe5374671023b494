"""A cooperative's pages: what all farms pick together, each farm's day and ground, and the plan of the whole.

They are to be read; what was done is written at the farm's own pages, to which each farm's name leads.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Set
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from typing import Annotated, TypeVar

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response
from markupsafe import Markup

from evenpick.base.days import first_monday
from evenpick.base.language import tell
from evenpick.report.cooperative import cooperative_plan_page, shared_week, weeks_ahead
from evenpick.report.cooperative_json import (
    cooperative_pickings_shape,
    cooperative_plan_shape,
    cooperative_today_shape,
)
from evenpick.report.days import day as short_day
from evenpick.report.days import long_day
from evenpick.report.ground import ground_page
from evenpick.report.page import Heading, Page, Text
from evenpick.report.today import today_page
from evenpick.report.words import Words
from evenpick.service.cooperative_answer import FarmToday, FarmTold
from evenpick.service.cooperative_files import Described
from evenpick.service.farms_asked import each_farm
from evenpick.service.today import first_week
from evenpick.service.today_answer import TodayAnswer
from evenpick.service.week_shares import shares_on
from evenpick.web.api import Day, Said, day_asked, strict
from evenpick.web.asked import day_of
from evenpick.web.blocks import folded, html
from evenpick.web.pages.ground import AHEAD, beds_of
from evenpick.web.pages.pickings import WEEKS, drawn_year, now_stamp, picture_stamp, year_figure
from evenpick.web.pages.today import today_of
from evenpick.web.showing import show
from evenpick.web.together import Together, together_of

router = APIRouter()
api = APIRouter(prefix="/api", responses=Said)
Answer = TypeVar("Answer")
Weeks = Annotated[int, Query(ge=1, le=104)]


@dataclass(frozen=True, slots=True)
class FarmShown:
    name: str
    address: str
    """of its own pages; empty where it has none here"""
    blocks: Markup


@router.get("/")
def today(request: Request, on: str | None = None) -> Response:
    about, day = together_of(request), day_of(request, on, "on")
    described, words = about.described(), about.words()
    plan, older = about.plan_now(described, day), about.older(described)
    first = first_monday(day, plan.begins)
    above = {older, *(farm.plan.loss_note for farm in plan.farms)}
    days = [_page(farm, lambda found: today_page(_less_told(found, above), words, commands=False))
            for farm in _days(about, described, day)]
    when = tell("this week") if first <= day else tell("first week, {first}", first=short_day(first))
    told = shared_week(plan, first, words, partial(shares_on, plan.pickings, described.own))
    week = [block for block in told if not isinstance(block, Heading)]
    return show(request, "together.html", f"{long_day(day)}: {plan.name}", "/", loss_note=plan.loss_note,
                heading=tell("{week}: to pick, on all farms", week=when), week=html(week, words),
                farms=_shown(request, described, days, words))


def _less_told(answer: TodayAnswer, above: Set[str]) -> TodayAnswer:
    """A farm's day without what is told `above` all farms."""
    notes = answer.notes
    for said in filter(None, above):
        notes = tuple(note.replace(said, "").strip() for note in notes)
    return replace(answer, notes=tuple(filter(None, notes)))


def _days(about: Together, described: Described, day: date) -> tuple[FarmToday, ...]:
    return each_farm(described, lambda farm: today_of(about.farm(farm.file), day))


def _page(farm: FarmTold[Answer], page: Callable[[Answer], Page]) -> Page:
    """A farm's own page, or what keeps it from having one."""
    return Page(farm.name, (Text(farm.problem),)) if farm.answer is None else page(farm.answer)


def _shown(
    request: Request, described: Described, pages: Iterable[Page], words: Words
) -> list[FarmShown]:
    """Each farm with its page, and the way to its own pages."""
    ports, shown = together_of(request).ports, []
    for farm, page in zip(described.own.farms, pages, strict=True):
        port = ports.get(farm.file)
        address = "" if port is None else str(request.base_url.replace(port=port))
        shown.append(FarmShown(farm.name, address, html(page.blocks, words, 3)))
    return shown


@router.get("/pickings")
def pickings(request: Request, on: str | None = None, weeks: Weeks = WEEKS) -> Response:
    about, day = together_of(request), day_of(request, on, "on")
    described, words = about.described(), about.words()
    plan = about.plan_now(described, day)
    ahead = weeks_ahead(plan, words, day, weeks, partial(shares_on, plan.pickings, described.own))
    stamp = picture_stamp(plan.made_from, sum(len(farm.plan.sowings) for farm in plan.farms), plan.seconds,
                          words)
    stamp += now_stamp(day, plan.pickings) if plan.loss_note else ""
    return show(request, "together_pickings.html", tell("Pickings: {site}", site=plan.name), "/pickings",
                count=weeks, weeks=folded(ahead, words, 3, first_open=False), loss_note=plan.loss_note,
                **year_figure(plan.pickings, words, stamp))


@router.get("/charts/year-{room}.svg")
def year_chart(request: Request, room: str, on: str | None = None) -> Response:
    about = together_of(request)
    plan = about.plan_now(about.described(), day_of(request, on, "on"))
    return drawn_year(plan.pickings, about.words(), room)


@router.get("/ground")
def ground(request: Request) -> Response:
    about = together_of(request)
    described, words = about.described(), about.words()
    plan = about.plan(described)
    planned = {farm.name: farm.plan for farm in plan.farms}
    beds = each_farm(described, lambda farm: beds_of(about.farm(farm.file), planned[farm.name]))
    pages = [_page(farm, lambda found: ground_page(found, words, about.clock(), AHEAD)) for farm in beds]
    return show(request, "together_ground.html", tell("Ground: {name}", name=plan.name), "/ground",
                farms=_shown(request, described, pages, words))


@router.get("/plan")
def whole_plan(request: Request) -> Response:
    about = together_of(request)
    plan, words = about.plan(about.described()), about.words()
    page = cooperative_plan_page(plan, {farm.name: first_week(farm.plan) for farm in plan.farms}, words)
    return show(request, "together_plan.html", page.title, "/plan", blocks=folded(page.blocks, words))


@api.get("/today")
def today_json(request: Request, on: Day = None) -> Response:
    about = together_of(request)
    described = about.described()
    farms = _days(about, described, day_asked(request, on))
    return strict(cooperative_today_shape(described.own.name, farms, about.older(described)))


@api.get("/pickings")
def pickings_json(request: Request, on: Day = None, weeks: Weeks = WEEKS) -> Response:
    about = together_of(request)
    described = about.described()
    day = day_asked(request, on)
    plan = about.plan_now(described, day)
    return strict(cooperative_pickings_shape(
        plan, day, weeks, partial(shares_on, plan.pickings, described.own)
    ))


@api.get("/plan")
def plan_json(request: Request) -> Response:
    about = together_of(request)
    return strict(cooperative_plan_shape(about.plan(about.described()), about.words()))
