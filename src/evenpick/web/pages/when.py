"""When to sow: the windows of every crop or one, and the sheet of any month."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from evenpick.base.language import month_name, tell
from evenpick.base.trade import CoverName
from evenpick.crops.catalogue import load_catalogue
from evenpick.report.month import month_page
from evenpick.report.page import Page
from evenpick.report.place import weather_lines
from evenpick.report.when_at_a_glance import at_a_glance
from evenpick.report.windows import windows_page
from evenpick.report.words import Words
from evenpick.service.month import coming_year
from evenpick.service.month import month as answer_month
from evenpick.service.outlook_answer import MonthAnswer, WindowsAnswer
from evenpick.service.sown_in_year import SownInYear, sown_in_year
from evenpick.service.thermometer import own_readings
from evenpick.service.where import garden_site
from evenpick.service.windows import windows as answer_windows
from evenpick.web.blocks import folded, html
from evenpick.web.served import Served, served
from evenpick.web.showing import show

router = APIRouter()
AGAIN = 1
"""s until a browser asks again by itself, with a script or without"""
Choices = Sequence[tuple[str, str]]
"""what a list offers: the value and how it is told"""


@router.get("/when")
def when_page(request: Request, crop: Annotated[list[str] | None, Query(max_length=5)] = None) -> Response:
    """When each crop may be sown here, or those asked for."""
    about, asked = served(request), tuple(filter(None, crop or ()))
    covers, year = about.described().covers_there, about.clock().year
    found = about.soon.get(("windows", asked, covers, year), lambda: windows_of(about, asked, covers, year))
    if found is None:
        return _on_its_way(request, tell("When to sow"))
    if not asked:
        return _every_crop(request, found)
    page = windows_page(found, about.words())
    chosen = load_catalogue().crop(asked[0]).key if len(asked) == 1 else ""
    return _chosen(request, page, "crop", tell("Crop"), _crops(about.words()), chosen)


def _every_crop(request: Request, found: WindowsAnswer) -> Response:
    """At a glance, each crop's windows behind its name."""
    about, words = served(request), served(request).words()
    return show(
        request, "when.html", tell("When to sow"), "/when", glance=at_a_glance(found, about.clock(), words),
        never=[(words.name(name), tell(why)) for name, why in found.never], field="crop",
        label=tell("Crop"), choices=_crops(words), chosen="",
        weather=html(weather_lines(found.site, found.climate, words), words),
    )


@router.get("/month")
def month_sheet(request: Request, month: Annotated[int | None, Query(ge=1, le=12)] = None) -> Response:
    """What may be sown in a month, this one if none is asked for."""
    about = served(request)
    which = month or about.clock().month
    year = coming_year(which, about.clock())
    answer = about.soon.get(("month", which, year), lambda: month_of(about, which, year))
    if answer is None:
        return _on_its_way(request, tell("This month"))
    months = [(str(number), month_name(number)) for number in range(1, 13)]
    return _chosen(request, month_page(answer, about.words()), "month", tell("Month"), months, str(which))


def _crops(words: Words) -> Choices:
    named = sorted((words.name(crop.name), crop.key) for crop in load_catalogue().crops)
    return [("", tell("every crop")), *((key, name) for name, key in named)]


def _chosen(request: Request, page: Page, field: str, label: str, choices: Choices, chosen: str) -> Response:
    """A described page below the list that it was chosen from."""
    blocks = folded(page.blocks, served(request).words(), first_open=False)
    return show(request, "chosen.html", page.title, "", blocks=blocks, field=field, label=label,
                choices=choices, chosen=chosen)


def _on_its_way(request: Request, title: str) -> Response:
    """Until it is there; 202, so that no phone keeps it to be read out of reach."""
    page = show(request, "soon.html", title, status=202, again=f"{request.url.path}?{request.url.query}")
    page.headers["refresh"] = str(AGAIN)
    return page


def windows_of(
    about: Served, crops: tuple[str, ...], covers: tuple[CoverName, ...], year: int
) -> WindowsAnswer:
    if not crops and (covers, year) == (about.described().covers_there, about.clock().year):
        return year_of(about, year).windows
    return about.latest.get(
        ("windows", crops, covers, year, _read(about)),
        lambda: answer_windows(*garden_site(about.garden), crops or None, covers, year,
                               lowest=about.described().lowest, seedbed=about.described().seedbed),
        set_up=True,
    )


def year_of(about: Served, year: int) -> SownInYear:
    """Of every crop in a year, with the sheets of its months that are now or come next."""
    now = about.clock()
    months = [which for which in range(1, 13) if coming_year(which, now) == year]
    described = about.described()
    return about.latest.get(
        ("year", year, tuple(months), described.covers_there, _read(about)),
        lambda: sown_in_year(*garden_site(about.garden), year, months, described.covers_there,
                             described.lowest, described.seedbed),
        set_up=True,
    )


def month_of(about: Served, month: int, year: int) -> MonthAnswer:
    if coming_year(month, about.clock()) == year:
        return year_of(about, year).months[month]
    return about.latest.get(
        ("month", month, year, _read(about)),
        lambda: answer_month(*garden_site(about.garden), month, year, about.described().covers_there,
                             lowest=about.described().lowest, seedbed=about.described().seedbed),
        set_up=True,
    )


def _read(about: Served) -> Hashable:
    """All that the windows take from the diary: its readings. A line of anything else leaves them."""
    read = about.latest.get("own readings", lambda: own_readings(about.described().weather))
    return tuple(sorted(read.items(), key=lambda each: each[0]))
