"""Seed tin: packets, what will grow, what to buy; a packet that came, a test, what is left."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Annotated, Any

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, EvenpickError, Problem
from evenpick.base.language import tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.amounts import percent, seed_amount, seed_left, with_points
from evenpick.garden.diary import Entry, Fact, SeedGot, SeedLeft, SeedTested
from evenpick.report.tin import tin_page
from evenpick.service.book import keep
from evenpick.service.job_answers import there_already
from evenpick.service.tin import HOW, TinAnswer, check_got, tin_of
from evenpick.web.asked import check_id, check_token, day_of, whole_number
from evenpick.web.blocks import html
from evenpick.web.problems import as_refused
from evenpick.web.said import JustWritten, just_kept
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()
WAYS = HOW[:-1]
"""the last step names the command"""


@dataclass(frozen=True, slots=True)
class Typed:
    """What stands in the forms."""

    year: str = ""
    crop: str = ""
    variety: str = ""
    amount: str = ""
    maker: str = ""
    kind: str = ""
    packet: str = ""
    tried: str = ""
    came: str = ""
    left: str = ""


@router.get("/tin")
def tin(request: Request, kept: JustWritten = "") -> Response:
    return _page(request, Typed(), **just_kept(served(request), kept))


def _page(request: Request, given: Typed, refused: EvenpickError | None = None, **said: Any) -> Response:
    """The tin; after what was refused, with what was typed, to be mended."""
    about = served(request)
    day = about.clock()
    answer = answer_of(about, day)
    blocks = tin_page(answer, about.words()).blocks
    crops = sorted(about.words().name(crop.name) for crop in load_catalogue().crops)
    return show(request, "tin.html", tell("Seed tin"), "/tin", blocks=html(blocks, about.words()),
                packets=answer.packets, crops=crops, how=WAYS, **said,
                given=given if given.crop else replace(given, year=str(day.year)),
                **as_refused(refused))


@router.post("/tin/got")
def got(
    request: Request, crop: Annotated[str, Form(max_length=100)], amount: Annotated[str, Form(max_length=40)],
    identity: Annotated[str, Form(alias="id")], token: Annotated[str, Form()] = "",
    variety: Annotated[str, Form(max_length=100)] = "", year: Annotated[str, Form(max_length=4)] = "",
    maker: Annotated[str, Form(max_length=10)] = "", kind: Annotated[str, Form(max_length=10)] = "",
    day: Annotated[str, Form(max_length=10)] = "",
) -> Response:
    """A packet that came in."""
    check_token(request, token)
    when = day_of(request, day)
    try:
        fact = _packet(Typed(year, crop, variety, amount, maker, kind))
        check_got(served(request).described(), when, fact)
    except EvenpickError as refused:
        return _page(request, Typed(year, crop, variety, amount, maker, kind), refused)
    return _kept(request, identity, fact, when)


def _packet(given: Typed) -> SeedGot:
    seeds, grams = seed_amount(with_points(given.amount))
    share = percent(with_points(given.maker)) / 100 if given.maker.strip() else None
    return SeedGot(load_catalogue().crop(given.crop).key, given.variety.strip(), year_of(given.year), seeds,
                   grams, share, True if given.kind == "f1" else None, given.kind == "own")


@router.post("/tin/test")
def a_test(
    request: Request, packet: Annotated[str, Form(max_length=60)],
    tried: Annotated[str, Form(max_length=20)], came: Annotated[str, Form(max_length=20)],
    identity: Annotated[str, Form(alias="id")],
    token: Annotated[str, Form()] = "", day: Annotated[str, Form(max_length=10)] = "",
) -> Response:
    check_token(request, token)
    when = day_of(request, day)
    try:
        fact = SeedTested(packet_of(request, packet), *_counted(tried, came))
    except EvenpickError as refused:
        return _page(request, Typed(packet=packet, tried=tried, came=came), refused)
    return _kept(request, identity, fact, when)


def _counted(tried_text: str, came_text: str) -> tuple[int, int]:
    tried = whole_number(tried_text, 1, 10_000, "tried")
    came = whole_number(came_text, 0, 10_000, "came")
    if came > tried:
        raise BadRequest(Problem(tell("{came} of {tried} can't be.", came=came,
                                      tried=tried), tell("Give how many were tried and came."),
                                 field="came"))
    return tried, came


@router.post("/tin/left")
def left(
    request: Request, packet: Annotated[str, Form(max_length=60)],
    amount: Annotated[str, Form(max_length=40)], identity: Annotated[str, Form(alias="id")],
    token: Annotated[str, Form()] = "", day: Annotated[str, Form(max_length=10)] = "",
) -> Response:
    check_token(request, token)
    when = day_of(request, day)
    try:
        fact = SeedLeft(packet_of(request, packet), *seed_left(with_points(amount)))
    except EvenpickError as refused:
        return _page(request, Typed(packet=packet, left=amount), refused)
    return _kept(request, identity, fact, when)


def answer_of(about: Served, day: date) -> TinAnswer:
    return about.latest.get(("tin", day), lambda: tin_of(about.garden, day))


def packet_of(request: Request, packet: str) -> str:
    about = served(request)
    if packet not in {row.id for row in answer_of(about, about.clock()).packets}:
        raise BadRequest(Problem(tell("that packet is not in the tin."), tell("Choose one of the list."),
                                 field="packet"))
    return packet


def year_of(text: str) -> int | None:
    if not text.strip():
        return None
    if not text.strip().isdecimal() or not 1900 <= int(text) <= 2200:
        raise BadRequest(Problem(tell("'{text}' is no year.", text=text), tell("Write such as 2026."),
                                 field="year"))
    return int(text)


def _kept(request: Request, identity: str, fact: Fact, when: date) -> Response:
    about = served(request)
    if not there_already(about.garden, check_id(identity)):
        keep(about.garden, [Entry(identity, day_number(when), fact)])
    return RedirectResponse(f"/tin?kept={identity}", 303)
