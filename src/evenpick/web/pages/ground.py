"""Ground: what there is, how full it is over time, what stands and what comes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from fastapi import APIRouter, Request
from fastapi.responses import Response

from evenpick.base.days import day_date, monday_of
from evenpick.base.language import tell
from evenpick.base.trade import COVERS
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.report.days import day, full_day
from evenpick.report.ground import ground_page
from evenpick.report.page import Block, Column, Heading, Table, Text
from evenpick.report.words import Words, percent
from evenpick.service.ground import laid_as_kept
from evenpick.service.ground_answer import GroundAnswer
from evenpick.service.plan_answer import PlanAnswer
from evenpick.web.blocks import folded
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()
STEP = 4
"""weeks between two columns of the table of use"""
SHOWN = 52
AHEAD = 26
"""weeks of beds drawn"""


@router.get("/ground")
def ground(request: Request) -> Response:
    about = served(request)
    words, plan = about.words(), about.kept_plan()
    blocks = [*_standing(about.record(), about.clock(), words)]
    if plan is not None:
        blocks += ground_page(beds_of(about, plan), words, about.clock(), AHEAD).blocks
        blocks += _use(plan, about.clock(), words)
    blocks += _there_is(about.described(), words)
    return show(request, "page.html", tell("Ground"), "/ground",
                blocks=folded(blocks, words, first_open=bool(about.record().sowings)))


def beds_of(about: Served, plan: PlanAnswer) -> GroundAnswer:
    return about.latest.get("beds", lambda: laid_as_kept(about.described(), plan, about.record()))


def _there_is(garden: Garden, words: Words) -> Iterator[Block]:
    yield Heading(tell("what there is"))
    columns = (Column(tell("ground")), Column(tell("cover")), Column(tell("cropped"), align="right"),
               Column(tell("beds"), align="right"))
    yield Table(columns, tuple(
        (one.name, words.cover(one.cover), words.area(one.area),
         str(len(one.counted)) if one.counted else tell("not counted")) for one in garden.grounds
    ))


def _standing(record: Record, today: date, words: Words) -> Iterator[Block]:
    number = (today - date(1970, 1, 1)).days
    rows = tuple(
        (words.name(load_catalogue().crop(one.fact.crop).name), one.ground or tell("not said"),
         words.cover(one.cover), words.area(one.area * one.left_on(number)),
         full_day(day_date(one.day)), tell(one.state(number)))
        for one in sorted(record.sowings.values(), key=lambda each: each.day)
        if not one.over(number) and one.day <= number
    )
    yield Heading(tell("in the ground now"))
    if rows:
        columns = (Column(tell("what")), Column(tell("bed")), Column(tell("cover")),
                   Column(tell("takes"), align="right"),
                   Column(tell("sown")), Column(tell("state")))
        yield Table(columns, rows)
    else:
        yield Text(tell("Nothing that the diary tells of."))


def _use(plan: PlanAnswer, today: date, words: Words) -> Iterator[Block]:
    """How full each cover's ground is, every fourth week from this one."""
    if not plan.ground:
        return
    first = monday_of(plan.begins)
    past = max(0, (monday_of(today) - first).days // 7)
    weeks = range(past, min(past + SHOWN, max(len(use.used) for use in plan.ground)), STEP)
    covers = {str(cover): words.cover(cover) for cover in COVERS}
    columns = (Column(tell("week of")),
               *(Column(covers.get(use.cover, use.cover), align="right") for use in plan.ground))
    rows = tuple(
        (day(first + timedelta(weeks=at), plan.begins.year),
         *(f"{words.area(use.used[at])} ({percent(use.used[at] / use.area_m2)})" if at < len(use.used) else ""
           for use in plan.ground))
        for at in weeks
    )
    if rows:
        yield Heading(tell("how full it will be"))
        yield Table(columns, rows)

