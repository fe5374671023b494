"""Sowings: the plan, each sowing with its why and the grower's word on it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import groupby
from typing import Annotated, get_args
from urllib.parse import urlencode

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadGarden, BadRequest, EvenpickError, Problem, UnknownCrop
from evenpick.base.language import month_name, tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.amounts import with_points
from evenpick.garden.areas import sown_area
from evenpick.garden.diary import Decided, Decision, Entry
from evenpick.report.days import day, full_day, span
from evenpick.report.sowings import amount, seed
from evenpick.report.words import Words, percent
from evenpick.service.book import keep
from evenpick.service.carried_out import carried_out
from evenpick.service.plan_answer import PlannedSowing
from evenpick.service.store_plan import save_plan
from evenpick.service.supposing import Supposed
from evenpick.web.asked import check_id, check_token, day_of, one_of
from evenpick.web.problems import as_refused
from evenpick.web.said import JustWritten, just_kept
from evenpick.web.served import Served, served
from evenpick.web.showing import show
from evenpick.web.trying import Failed

router = APIRouter()
DECISIONS: tuple[Decision, ...] = get_args(Decision)
MANY = 20
"""sowings: of more that are to come those within `AT_HAND` are shown, the rest behind their months (our
choice)"""
AT_HAND = timedelta(weeks=4)
FEW = 10
"""that are shown in any season"""


@dataclass(frozen=True, slots=True)
class Line:
    """One planned sowing as it is told."""

    id: str
    name: str
    sow: str
    where: str
    amount: str
    seed: str
    plant_out: str
    first: str
    state: str
    """planned, fixed, refused, made"""
    area: str


@router.get("/sowings")
def sowings_page(request: Request, kept: JustWritten = "") -> Response:
    about = served(request)
    plan, words = about.plan_now(about.clock()), about.words()
    ordered = sorted(plan.sowings, key=lambda each: (each.sow, each.number))
    past, ahead = ([each for each in ordered if (each.sow < about.clock()) is gone] for gone in (True, False))
    soon = sum(each.sow < about.clock() + AT_HAND for each in ahead)
    near = ahead if len(ahead) <= MANY else ahead[:max(soon, FEW)]

    def told(some: Iterable[PlannedSowing]) -> list[Line]:
        return [line(sowing, state(request, sowing), words) for sowing in some]

    months = [(tell("{month} {year}", month=month_name(month), year=year), told(some)) for (year, month), some
              in groupby(ahead[len(near):], lambda each: (each.sow.year, each.sow.month))]
    refused = [line(sowing, "refused", words) for sowing in plan.refused]
    return show(request, "sowings.html", tell("Sowings"), "/sowings", lines=told(near), months=months,
                past=told(past), refused=refused, waiting=_waiting(request), standing=plan.standing,
                covers=words.cover, weight=words.weight, **just_kept(about, kept))


@router.get("/sowings/{name}")
def one_sowing(request: Request, name: str, stop: bool = False) -> Response:
    about = served(request)
    if stop:
        about.trying.stop()
    found = planned_of(request, name)
    return _page(request, found, about.words().area(found.area_m2), found.sow.isoformat())


def _page(
    request: Request, found: PlannedSowing, area: str, sow: str, refused: EvenpickError | None = None
) -> Response:
    """One sowing; after what was refused, with what was typed, to be mended."""
    plan, words = served(request).plan(), served(request).words()
    first = found.first_picking
    return show(
        request, "sowing.html", f"{words.name(found.name)}, {full_day(found.sow)}", "/sowings",
        sowing=found, line=line(found, state(request, found), words), success=percent(found.success),
        first=span(first[0], first[2]) if first else "", likely=day(first[1]) if first else "",
        fills=found.fills, latest=found.latest, clear=found.clear, typed_area=area, typed_sow=sow,
        **as_refused(refused),
        version=version_of(request, found.id), climate=plan.climate, years=plan.made_from.years,
    )


@router.get("/sowings/{name}/suppose")
def supposing(
    request: Request, name: str, decision: Annotated[str, Query(max_length=10)],
    area: Annotated[str, Query(max_length=40)] = "", sow: Annotated[str, Query(max_length=10)] = "",
) -> Response:
    """What a decision would do; nothing is written."""
    about, found = served(request), planned_of(request, name)
    fact = fact_of(request, found, decision, area, sow)
    question = (about.latest.stamp(), fact)
    answer = about.trying.answer(question, about.clock(), about.plan())
    if isinstance(answer, Failed):
        raise EvenpickError(answer.problems)
    words = about.words()
    asked = urlencode({"decision": decision, "area": area, "sow": sow})
    return show(request, "supposed.html", tell("What it would do"), "/sowings", sowing=found, fact=fact,
                name=f"{words.name(found.name)}, {full_day(found.sow)}", supposed=answer,
                area=area, sow=sow, decision=said(fact, words), version=version_of(request, name),
                percent=percent,
                again=f"/sowings/{found.id}/suppose?{asked}")


@router.post("/sowings/{name}")
def decide(
    request: Request, name: str, decision: Annotated[str, Form()], identity: Annotated[str, Form(alias="id")],
    token: Annotated[str, Form()] = "", area: Annotated[str, Form(max_length=40)] = "",
    sow: Annotated[str, Form(max_length=10)] = "", version: Annotated[str, Form()] = "",
    step: Annotated[str, Form()] = "suppose",
) -> Response:
    """The grower's word on a planned sowing; refused where another was given since the page was made."""
    check_token(request, token)
    about, found = served(request), planned_of(request, name)
    try:
        fact = fact_of(request, found, decision, area, sow)
    except BadRequest as refused:
        return _page(request, found, area, sow, refused)
    entry = Entry(check_id(identity), day_number(about.clock()), fact)
    if version_of(request, name) != version and not _mine(request, name, identity):
        return _stale(request, found, fact)
    if step == "suppose":
        asked = urlencode({"decision": decision, "area": area, "sow": sow})
        return RedirectResponse(f"/sowings/{found.id}/suppose?{asked}", 303)
    answer = about.trying.answer((about.latest.stamp(), fact), about.clock(), about.plan()) \
        if step == "keep" else None
    keep(about.garden, [entry])
    if isinstance(answer, Supposed):
        save_plan(about.garden, answer.plan)
    return RedirectResponse(f"/sowings?kept={identity}", 303)


def fact_of(request: Request, found: PlannedSowing, decision: str, area: str, sow: str) -> Decided:
    """The decision as typed; amount and day only where they differ from the plan's."""
    words, word = served(request).words(), one_of(DECISIONS, decision, "decision", "decision")
    if word != "fixed":
        return Decided(found.id, word)
    m2 = _m2(area, found) if area.strip() and area.strip() != words.area(found.area_m2) else None
    when = day_of(request, sow, "sow") if sow else found.sow
    if when < served(request).clock():
        raise BadRequest(Problem(tell("{when} is past.", when=when), tell("Give today or a later day."),
                                 field="sow"))
    return Decided(found.id, word, m2, day_number(when) if when != found.sow else None)


def _m2(text: str, found: PlannedSowing) -> float:
    """As the grower works: ground, metres of row or plants, each with the room that it has in the plan."""
    space = load_catalogue().crop(found.crop).told_as(found.name).spacing
    in_row = space.in_row
    if found.plants and found.row_m is None:
        in_row = found.area_m2 / found.plants / space.row
    try:
        return sown_area(with_points(text), space.row, in_row)
    except BadGarden as error:  # of what was typed, not of the garden
        raise BadRequest(replace(problem, field="area") for problem in error.problems) from error


def _stale(request: Request, found: PlannedSowing, mine: Decided) -> Response:
    """Both words, and the grower chooses."""
    words = served(request).words()
    there = served(request).record().decisions.get(found.id)
    return show(request, "stale.html", tell("Changed meanwhile"), "/sowings", status=409, sowing=found,
                name=f"{words.name(found.name)}, {day(found.sow)}", theirs=said(there, words),
                mine=said(mine, words), fact=mine, version=version_of(request, found.id),
                sow="" if mine.sow is None else day_date(mine.sow).isoformat())


def said(decided: Decided | None, words: Words) -> str:
    if decided is None or decided.decision == "freed":
        return tell("free: the plan may move it")
    size = "" if decided.area is None else tell(" at {area}", area=words.area(decided.area))
    when = "" if decided.sow is None else tell(" on {sow}", sow=full_day(day_date(decided.sow)))
    return f"{tell(decided.decision)}{size}{when}"


def version_of(request: Request, name: str) -> str:
    """The id of the last word on a sowing; empty where there is none."""
    ids = [entry.id for entry in served(request).record().entries
           if isinstance(entry.fact, Decided) and entry.fact.planned == name]
    return max(ids, default="")


def _mine(request: Request, name: str, identity: str) -> bool:
    """The word that stands is this very one, sent again."""
    return version_of(request, name) == identity


def planned_of(request: Request, name: str) -> PlannedSowing:
    plan = served(request).plan_now(served(request).clock())
    found = next((each for each in (*plan.sowings, *plan.refused) if each.id == name), None)
    if found is None:
        raise UnknownCrop(Problem(tell("no such sowing is in the plan as it now is."),
                                  tell("See the sowings.")))
    return found


def state(request: Request, sowing: PlannedSowing) -> str:
    about = served(request)
    if sowing.id in about.latest.get("made", lambda: _made(about)):
        return "made"
    decided = about.record().decisions.get(sowing.id)
    return decided.decision if decided is not None else "planned"


def _made(about: Served) -> Mapping[str, str]:
    """All planned sowings paired at once, so that two alike are not both taken for the one that was made."""
    return carried_out(about.plan().sowings, about.record().sowings.values())


def _waiting(request: Request) -> bool:
    """Decisions that the plan does not show yet: it was made before them."""
    about = served(request)
    plan = about.plan()
    fixed = {each.id for each in plan.sowings if each.fixed}
    refused = {each.id for each in plan.refused}
    told, no = about.record().decided("fixed") - fixed, about.record().decided("refused") - refused
    known = {each.id for each in plan.sowings}
    return bool((told | no) & known)


def line(sowing: PlannedSowing, state_word: str, words: Words) -> Line:
    first = sowing.first_picking
    return Line(
        sowing.id, words.name(sowing.name), full_day(sowing.sow), words.cover(sowing.cover),
        amount(sowing.row_m, sowing.plants, sowing.area_m2, sowing.way == "raised", words),
        seed(sowing.seeds, sowing.grams, words),
        day(sowing.plant_out) if sowing.plant_out else "", span(first[0], first[2]) if first else "",
        state_word, words.area(sowing.area_m2),
    )
