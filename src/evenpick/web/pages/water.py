"""Water: what to water today, litres with it, what may be left; of one sowing the fortnight, with its why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import RedirectResponse, Response

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, UnknownCrop
from evenpick.base.language import tell
from evenpick.base.trade import COVERS
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Entry, Watered
from evenpick.report import watering as report
from evenpick.report.place import weather_notes
from evenpick.report.water import left_words, water_blocks
from evenpick.report.words import percent
from evenpick.service.book import keep
from evenpick.service.job_answers import answer_job, there_already
from evenpick.service.water import water as answer_water
from evenpick.service.water_answer import WaterAnswer, WateringAnswer
from evenpick.service.watering import water_sown, watering
from evenpick.service.where import garden_site
from evenpick.soil.texture import soils
from evenpick.web.asked import check_id, check_token, day_of
from evenpick.web.blocks import html
from evenpick.web.pages.losses import Sowing
from evenpick.web.pages.today import answer_of
from evenpick.web.pages.why import cover_of
from evenpick.web.problems import as_refused
from evenpick.web.said import JustWritten, just_kept
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()


@router.get("/water")
def water_page(
    request: Request, on: str | None = None, crop: Annotated[str, Query(max_length=100)] = "",
    sow: Annotated[str, Query(max_length=10)] = "", cover: Annotated[str, Query(max_length=20)] = "open",
    soil: Annotated[str, Query(max_length=30)] = "", kept: JustWritten = "",
) -> Response:
    """The garden's round; with a crop, the fortnight of that crop sown on a day."""
    about, when = served(request), day_of(request, on, "on")
    if not crop.strip():
        return _round(request, when, Drill(sow=when.isoformat()), **just_kept(about, kept))
    typed = Drill(crop, sow or when.isoformat(), cover, soil)
    try:
        begun = day_of(request, sow, "sow")
        return _fortnight(request, asked(about, crop, begun, max(when, begun), cover, soil))
    except (UnknownCrop, BadRequest) as refused:  # with what was typed, to be mended
        return _round(request, when, typed, **as_refused(refused))


@dataclass(frozen=True, slots=True)
class Drill:
    """What stands in the form of another drill."""

    crop: str = ""
    sow: str = ""
    cover: str = "open"
    soil: str = ""


def _round(request: Request, when: date, typed: Drill, **said: Any) -> Response:
    about, words = served(request), served(request).words()
    answer = round_of(about, when)
    due, look, had, left, dry = report.sorted_rows(answer)
    return show(
        request, "water.html", tell("Water"), "/water", answer=answer, due=due, look=look, had=had, left=left,
        dry=dry, cost=left_words,
        day=when, what=report.what, where=report.where, in_all=report.in_all,
        poured=lambda row: report.pour(row, words), percent=percent,
        next=lambda row: report.next_words(row, answer), years=report.YEARS,
        shortage=report.SHORT, hose=report.hose(words), none=report.NONE,
        bench=report.bench_words(answer, words) if answer.bench else "", crops=_crops(about),
        covers=[(cover, words.cover(cover)) for cover in COVERS], soils=list(soils()),
        soil=typed.soil or answer.soil, typed=typed,
        weather_notes=list(weather_notes(answer.climate, words)), **said,
    )


@router.get("/water/{sowing}")
def one_sowing(request: Request, sowing: Sowing, on: str | None = None) -> Response:
    about, when = served(request), day_of(request, on, "on")
    return _fortnight(request, fortnight_of(about, sowing, when))


@router.post("/water/{sowing}")
def watered(
    request: Request, sowing: Sowing, identity: Annotated[str, Form(alias="id")],
    token: Annotated[str, Form()] = "", day: Annotated[str, Form()] = "",
    back: Annotated[str, Form(pattern="^/?$")] = "",
) -> Response:
    """It was watered: the answer to today's job of it, where there is one, else a line of the diary."""
    check_token(request, token)
    about, when = served(request), day_of(request, day)
    if not there_already(about.garden, check_id(identity)):
        jobs = answer_of(request, when).jobs
        job = next((one for one in jobs if one.kind == "water" and one.sowing == sowing), None)
        if job is not None:
            answer_job(about.garden, job.id, "done", when, identity=identity)
        else:
            fortnight_of(about, sowing, when)  # refuses what does not stand there
            keep(about.garden, [Entry(identity, day_number(when), Watered(sowing))])
    asked_for = {} if when == about.clock() else {"on": when.isoformat()}
    where = back or "/water"
    return RedirectResponse(f"{where}?{urlencode({**asked_for, 'kept': identity})}", 303)


def round_of(about: Served, when: date) -> WateringAnswer:
    return about.latest.get(("watering", when), lambda: watering(about.garden, when))


def fortnight_of(about: Served, sowing: str, when: date) -> WaterAnswer:
    return about.latest.get(("water sown", sowing, when), lambda: water_sown(about.garden, sowing, when))


def asked(
    about: Served, crop: str, sow: date, when: date, cover: str, soil: str, way: str | None = None
) -> WaterAnswer:
    """Of a crop that need not be in the diary, on the garden's own soil unless another is named."""
    ground = soil or about.described().soil
    return about.latest.get(
        ("water", crop, sow, when, cover, ground, way),
        lambda: answer_water(*garden_site(about.garden), crop, sow, when, ground, cover_of(cover), way,
                             watered=about.described().watered),
    )


def _fortnight(request: Request, answer: WaterAnswer) -> Response:
    words = served(request).words()
    title = tell("Water for {name}", name=words.name(answer.name))
    blocks = html(water_blocks(answer, words), words)
    return show(request, "page.html", title, "/water", blocks=blocks)


def _crops(about: Served) -> list[str]:
    return sorted(about.words().name(crop.name) for crop in load_catalogue().crops)
