"""The answers as JSON, as the command line's --json (docs/interface.md), and writing into the diary."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial
from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import Response

from evenpick.base.errors import BadDiary, BadRequest, Problem
from evenpick.base.language import tell
from evenpick.base.trade import CoverName, WayName
from evenpick.garden.diary import SetUp
from evenpick.garden.diary_json import DAYS, entry_json, read_entry
from evenpick.report import as_json, kept_json, plan_json, when_json
from evenpick.report.pickings import shown_weeks
from evenpick.report.water import water_shape
from evenpick.report.watering import watering_shape
from evenpick.service.book import keep
from evenpick.service.job_answers import answer_job, there_already, undo_job
from evenpick.service.month import coming_year
from evenpick.service.outlook import outlook as answer_outlook
from evenpick.service.week_shares import shares_on
from evenpick.service.where import garden_site
from evenpick.service.why import why as answer_why
from evenpick.web.api_forms import MOST, Entries, Faults, JobIn, Kept, WorkOut
from evenpick.web.asked import day_of
from evenpick.web.pages import losses as loss_pages
from evenpick.web.pages import water as water_pages
from evenpick.web.pages.lessons import lessons_of
from evenpick.web.pages.today import answer_of
from evenpick.web.pages.when import month_of, windows_of
from evenpick.web.served import served

Said: Any = {status: {"model": Faults} for status in (400, 401, 403, 404, 409, 413, 421, 422, 429)}
router = APIRouter(prefix="/api", responses=Said)
Day = Annotated[date | None, Query(description="the day it is asked for; today")]
Crop = Annotated[str, Query(min_length=1, max_length=100, description="a crop by any of its names")]
SowingId = Annotated[str, Path(pattern=r"^[0-9a-f]{32}$", description="its id in the diary")]
JSON = "application/json"


def strict(shape: dict[str, Any]) -> Response:
    return Response(as_json.as_text(shape), media_type=JSON)


def day_asked(request: Request, given: date | None) -> date:
    return day_of(request, None if given is None else given.isoformat())


@router.get("/today")
def today(request: Request, on: Day = None) -> Response:
    return strict(plan_json.today_shape(answer_of(request, day_asked(request, on))))


@router.get("/pickings")
def pickings(request: Request, on: Day = None, weeks: Annotated[int, Query(ge=1, le=104)] = 8) -> Response:
    about = served(request)
    day = day_asked(request, on)
    plan = about.plan_now(day)
    shown = shown_weeks(plan.pickings, day, plan.begins, weeks)
    shares = partial(shares_on, plan.pickings, about.described())
    return strict(plan_json.pickings_shape(plan, shown, about.words(), shares))


@router.get("/plan")
def plan(request: Request) -> Response:
    about = served(request)
    return strict(plan_json.plan_shape(about.plan(), about.words()))


@router.get("/windows")
def windows(
    request: Request, crop: Annotated[list[str] | None, Query(max_length=10)] = None,
    cover: Annotated[list[CoverName] | None, Query(max_length=4)] = None,
    year: Annotated[int | None, Query(ge=1900, le=2200)] = None,
) -> Response:
    about = served(request)
    crops, covers = tuple(crop or ()), tuple(cover or about.described().covers_there)
    answer = windows_of(about, crops, covers, year or about.clock().year)
    return strict(when_json.windows_shape(answer, about.words()))


@router.get("/month/{month}")
def month(
    request: Request, month: int, year: Annotated[int | None, Query(ge=1900, le=2200)] = None
) -> Response:
    if not 1 <= month <= 12:
        raise BadRequest(Problem(tell("there is no month {month}.",
                                      month=month), tell("Give 1 to 12."), field="month"))
    about = served(request)
    answer = month_of(about, month, year or coming_year(month, about.clock()))
    return strict(when_json.month_shape(answer, about.words()))


@router.get("/outlook")
def outlook(
    request: Request, crop: Crop, sow: date, cover: CoverName = "open", way: WayName | None = None,
    purpose: Annotated[str | None, Query(max_length=40)] = None,
) -> Response:
    about = served(request)
    when = day_asked(request, sow)
    answer = about.latest.get(
        ("outlook", crop, when, cover, way, purpose),
        lambda: answer_outlook(*garden_site(about.garden), crop, when, cover, way, purpose,
                               seedbed=about.described().seedbed, lowest=about.described().lowest,
                               as_here=about.learned()),
    )
    return strict(when_json.outlook_shape(answer, about.words()))


@router.get("/why")
def why(
    request: Request, crop: Crop, sow: date, cover: CoverName = "open", way: WayName | None = None
) -> Response:
    about = served(request)
    when = day_asked(request, sow)
    answer = about.latest.get(
        ("why", crop, when, cover, way),
        lambda: answer_why(*garden_site(about.garden), crop, when, cover, way, plan=about.kept_plan(),
                           seedbed=about.described().seedbed, lowest=about.described().lowest,
                           as_here=about.learned()),
    )
    return strict(when_json.why_shape(answer, about.words()))


@router.get("/watering")
def watering(request: Request, on: Day = None) -> Response:
    """What to water on a day: everything in the ground, and what is to be sown in its place this week."""
    about = served(request)
    return strict(watering_shape(water_pages.round_of(about, day_asked(request, on)), about.words()))


@router.get("/watering/{sowing}")
def watering_one(request: Request, sowing: SowingId, on: Day = None) -> Response:
    """The fortnight of one sowing of the diary."""
    about = served(request)
    return strict(water_shape(water_pages.fortnight_of(about, sowing, day_asked(request, on)), about.words()))


@router.get("/water")
def water(
    request: Request, crop: Crop, sow: date, on: Day = None, cover: CoverName = "open",
    way: WayName | None = None, soil: Annotated[str, Query(max_length=30)] = "",
) -> Response:
    """The fortnight of any crop sown on a day, on the garden's soil unless another is named."""
    about, begun = served(request), day_asked(request, sow)
    when = day_asked(request, on) if on is not None else max(about.clock(), begun)
    answer = water_pages.asked(about, crop, begun, when, cover, soil, way)
    return strict(water_shape(answer, about.words()))


@router.get("/losses")
def losses(request: Request, on: Day = None) -> Response:
    about = served(request)
    return strict(kept_json.losses_shape(loss_pages.lost(about, day_asked(request, on)), about.words()))


@router.get("/losses/{sowing}")
def after_loss(request: Request, sowing: SowingId, on: Day = None) -> Response:
    """The weeks that a loss leaves bare and what can still fill them."""
    about = served(request)
    answer = loss_pages.filling(about, sowing, day_asked(request, on))
    return strict(kept_json.after_loss_shape(answer, about.words()))


@router.get("/lessons")
def lessons(request: Request) -> Response:
    about = served(request)
    return strict(kept_json.lessons_shape(lessons_of(about), about.words()))


@router.get("/diary")
def diary(
    request: Request, after: Annotated[str, Query(pattern=r"^([0-9a-f]{32})?$")] = "",
    most: Annotated[int, Query(ge=1, le=MOST)] = 100,
) -> Response:
    """Entries that count, as corrected, in the order of their ids, those written after one of them."""
    entries = sorted(served(request).record().entries, key=lambda entry: entry.id)
    later = [entry_json(entry) for entry in entries if entry.id > after]
    return strict({"entries": later[:most], "more": max(0, len(later) - most)})


@router.post("/diary")
def write(request: Request, sent: Entries) -> Kept:
    """Keep entries made on a device, all or none. One sent again is the same entry and changes nothing."""
    about = served(request)
    shapes = [each.model_dump(mode="json", exclude_defaults=True) for each in sent.entries]
    entries = [read_entry(shape) for shape in shapes]
    for name, day in (found for shape in shapes for found in _days(shape)):
        day_of(request, day, name)
    if any(isinstance(entry.fact, SetUp) for entry in entries):
        raise BadDiary(Problem(tell("the set-up is not changed as a line of the diary."),
                               tell("Change the garden file."),
                               field="kind"))
    ids = {entry.id for entry in entries}
    known = sum(there_already(about.garden, identity) for identity in ids)
    keep(about.garden, entries)
    return Kept(new=len(ids) - known, known=known)


def _days(shape: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Every day that an entry tells, its own and its fact's, with the field."""
    for name, value in shape.items():
        if isinstance(value, dict):
            yield from _days(value)
        elif name in DAYS and isinstance(value, str):
            yield name, value


@router.post("/jobs")
def job(request: Request, sent: JobIn) -> Kept:
    """Answer a job of today, or undo its last answer. Sent again it changes nothing."""
    about, when = served(request), day_asked(request, sent.day)
    until = None if sent.until is None else day_of(request, sent.until.isoformat(), "until")
    if sent.answer == "undo":
        made = undo_job(about.garden, sent.job, when, identity=sent.id)
    else:
        made = answer_job(about.garden, sent.job, sent.answer, when, until, sent.kg, identity=sent.id)
    return Kept(new=len(made), known=0 if made else 1)


@router.get("/work")
def work(request: Request) -> WorkOut:
    """How far the plan is that is being made."""
    told = served(request).work.told()
    return WorkOut(state=told.state, share=told.share, stage=told.stage, said=told.said, gap=told.gap,
                   kept=told.kept)


@router.post("/work")
def start(request: Request) -> WorkOut:
    """Begin a plan of the garden from today; it goes on where one is being made already."""
    about = served(request)
    about.described()
    about.work.start()
    return work(request)


@router.delete("/work")
def stop(request: Request) -> WorkOut:
    """End the search and keep the best plan so far; asked again, drop it."""
    served(request).work.stop()
    return work(request)
