"""Why: what is behind a number, from the sowings that fill a week to the source of every value."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from evenpick.base.days import monday_of
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell, tell_n
from evenpick.base.trade import COVERS, CoverName
from evenpick.garden.garden import Wish
from evenpick.report.days import full_day, month_day
from evenpick.report.outlook import why_page
from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.pickings import less, week_blocks
from evenpick.report.place import weather_lines
from evenpick.report.plan import plan_page
from evenpick.report.sowings import sowings_by_year
from evenpick.report.words import Words
from evenpick.service.picking_list import filling
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.today import first_week
from evenpick.service.where import garden_site
from evenpick.service.why import why as answer_why
from evenpick.web.asked import day_of
from evenpick.web.blocks import folded
from evenpick.web.served import served
from evenpick.web.showing import show

router = APIRouter()


def shown(request: Request, page: Page, here: str = "") -> Response:
    """A described page, drawn."""
    return show(request, "page.html", page.title, here, blocks=folded(page.blocks, served(request).words()))


@router.get("/why")
def why(
    request: Request, crop: Annotated[str, Query(max_length=100)], sow: Annotated[str, Query(max_length=10)],
    cover: Annotated[str, Query(max_length=20)] = "open",
    way: Annotated[str | None, Query(max_length=20)] = None,
) -> Response:
    about, when = served(request), day_of(request, sow, "sow")
    answer = about.latest.get(
        ("why", crop, when, cover, way),
        lambda: answer_why(*garden_site(about.garden), crop, when, cover_of(cover), way,
                           plan=about.kept_plan(), seedbed=about.described().seedbed,
                           lowest=about.described().lowest, as_here=about.learned()),
    )
    return shown(request, why_page(answer, about.words()))


@router.get("/why/picking")
def why_picking(
    request: Request, item: Annotated[str, Query(max_length=200)],
    week: Annotated[str | None, Query(max_length=10)] = None,
) -> Response:
    """What is behind one item in one week."""
    about, monday = served(request), monday_of(day_of(request, week, "week"))
    plan, words = about.plan_now(about.clock()), about.words()
    found = next((each for each in plan.pickings if each.item == item), None)
    if found is None:
        raise BadRequest(Problem(tell("'{item}' is not wished for.",
                                      item=item), tell("See the pickings."), field="item"))
    blocks: list[Block] = [
        *less(plan), *week_blocks([found], monday, words, plan.away),
        Text(tell("Low, likely and high: what the sowings below, and whatever stands, give in {years} of "
                  "this place; one year in ten gives less than low, one in ten more than high. Wanted: your "
                  "wishes for that week, all outlets together.",
                  years=tell_n("{n} weather year", "{n} weather years", plan.made_from.years))),
        *_filled(plan, item, monday, words), *_wishes(request, item, words),
        Heading(tell("the weather behind it")), *weather_lines(plan.site, plan.climate, words),
    ]
    title = tell("Why {item}, week of {monday}", item=item, monday=full_day(monday))
    return shown(request, Page(title, tuple(blocks)), "/pickings")


def _filled(plan: PlanAnswer, item: str, monday: date, words: Words) -> Iterator[Block]:
    sowings = filling(plan, item, monday, monday + timedelta(days=6))
    yield Heading(tell("it comes of"))
    if sowings:
        yield from sowings_by_year(sowings, words)
    else:
        yield Text(tell("No planned sowing has most of its picking in that week."))


def _wishes(request: Request, item: str, words: Words) -> Iterator[Block]:
    rows = tuple(
        (wish.outlet, words.weight(wish.kg_per_week), _season(wish))
        for wish in served(request).described().wishes if wish.item == item
    )
    if rows:
        yield Heading(tell("it is wished for"))
        yield Table((Column(tell("outlet")), Column(tell("a week"), align="right"), Column(tell("season"))),
                    rows)


def _season(wish: Wish) -> str:
    if wish.opens is None or wish.closes is None:
        return tell("all the year")
    return tell("{opens} to {closes}", opens=month_day(wish.opens), closes=month_day(wish.closes))


@router.get("/plan")
def whole_plan(request: Request) -> Response:
    about = served(request)
    plan = about.plan()
    return shown(request, plan_page(plan, first_week(plan), about.words(), marks=False))


def cover_of(text: str) -> CoverName:
    found = next((cover for cover in COVERS if cover == text), None)
    if found is None:
        raise BadRequest(Problem(tell("'{text}' is no cover.", text=text), tell("It is one of {covers}.",
                                                                covers=", ".join(COVERS)),
                                 field="cover"))
    return found
