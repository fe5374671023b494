"""Questions about a place: windows, month, outlook, why."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from evenpick.base.errors import BadRequest, Problem, did_you_mean
from evenpick.base.language import MONTH_NAMES, tell
from evenpick.base.trade import COVERS, CoverName
from evenpick.cli.by_farm import answer_here
from evenpick.cli.options import (
    COVER,
    PLACE,
    SEED,
    WORDS,
    YEAR,
    asked,
    covers_asked,
    day_of,
    garden_file,
    lowest,
    seed_of,
    seedbed,
    together,
    where,
    words,
)
from evenpick.cli.speaking import Speaking

if TYPE_CHECKING:
    from evenpick.cli.by_farm import Answered
    from evenpick.cli.options import Asked
    from evenpick.climate.site import Site
    from evenpick.crops.here import AsHere
    from evenpick.garden.garden import WeatherChoice
    from evenpick.service.plan_answer import PlanAnswer
    from evenpick.service.shifts import Shifted

MONTHS = tuple(map(str.casefold, MONTH_NAMES))
Answer = TypeVar("Answer")
SHIFTING = ("emergence", "planting_out", "first_picking", "last_picking", "fates", "cut_short")
SHORTEST = 3  # letters that tell a month
SOWING = together(
    click.option("--way", type=click.Choice(["direct", "raised", "planted"]),
                 help="In place, raised and planted out, or sets and tubers.  [the crop's first]"),
    click.option("--sow", metavar="YYYY-MM-DD", required=True, help="The day it is sown."),
)


SHIFT = click.option("--shift", is_flag=True,
                     help="Beside today's climate: +1 °C, +2 °C and the place's own trend.")


@click.command(cls=Speaking, short_help="When each crop may be sown here.")
@click.option("--crop", "crops", multiple=True, metavar="CROP", help="One crop; repeat for more.  [all]")
@click.option("--cover", "covers", type=click.Choice(COVERS), multiple=True,
              help="Repeat for more.  [the garden's, or open and tunnel]")
@YEAR
@SHIFT
@PLACE
@SEED
@WORDS
def windows(crops: tuple[str, ...], covers: tuple[CoverName, ...], year: int | None, shift: bool,
            seed: int | None, as_json: bool, **rest: Any) -> int:
    """When each crop may be sown here, and what closes its window."""
    from evenpick.report.shifts import windows_beside
    from evenpick.report.when_json import opened, warmer_shape, windows_shape
    from evenpick.report.windows import warmer_page, windows_page
    from evenpick.service.windows import windows as answer_windows

    given = asked(rest)
    _one_warmth(given, shift)
    say = words(given)

    def here(given: Asked) -> Answered:
        site, choice = where(given)
        question = (crops or None, covers_asked(given, covers), year, seed_of(seed), lowest(given),
                    seedbed(given))
        answer = answer_windows(site, replace(choice, warmer=0.0) if given.warmer else choice, *question)
        warmer = answer_windows(site, choice, *question) if given.warmer else None
        then, trend = _beside(shift, site, choice, lambda other: answer_windows(site, other, *question))
        beside = {} if warmer is None else {"warmer": warmer_shape(choice.warmer, warmer, say)}
        page = warmer_page(answer, choice.warmer, warmer, say) if warmer else windows_page(answer, say)
        return (windows_beside(page, answer, then, trend, say) if then else page,
                {**windows_shape(answer, say), **beside, **_shifts(then, lambda one: opened(one, say))})

    return answer_here(given, as_json, here)


@click.command(cls=Speaking, short_help="What may be sown in a month: the month sheet.")
@click.argument("month", metavar="MONTH")
@click.option("--cover", "covers", type=click.Choice(COVERS), multiple=True,
              help="A cover there is; repeat for more.  [the garden's, or open and tunnel]")
@click.option("--year", type=click.IntRange(1900, 2200), help="The month's year.  [the coming one]")
@SHIFT
@PLACE
@SEED
@WORDS
def month(month: str, covers: tuple[CoverName, ...], year: int | None, shift: bool, seed: int | None,
          as_json: bool, **rest: Any) -> int:
    """The month sheet: what may be sown in MONTH (6, june, jun), what to leave, what is too late."""
    from evenpick.report.month import month_page
    from evenpick.report.shifts import month_beside
    from evenpick.report.when_json import month_shape
    from evenpick.service.month import month as answer_month

    number = month_number(month)
    given = asked(rest)
    _one_warmth(given, shift)
    say = words(given)

    def here(given: Asked) -> Answered:
        site, choice = where(given)
        question = (number, year, covers_asked(given, covers), seed_of(seed), lowest(given), seedbed(given))
        answer = answer_month(site, choice, *question)
        then, trend = _beside(shift, site, choice, lambda other: answer_month(site, other, *question))
        page, shape = month_page(answer, say), month_shape(answer, say)
        told = _shifts(then, lambda one: {"now": month_shape(one, say)["now"]})
        return month_beside(page, answer, then, trend, say) if then else page, {**shape, **told}

    return answer_here(given, as_json, here)


@click.command(cls=Speaking, short_help="What comes of one crop sown on one day.")
@click.option("--crop", required=True, metavar="CROP", help="The crop, by any of its names.")
@SOWING
@click.option("--purpose", metavar="WORD", help="Such as 'baby leaf'.  [what the day is best for]")
@COVER
@SHIFT
@PLACE
@SEED
@WORDS
def outlook(crop: str, sow: str, way: str | None, purpose: str | None, cover: CoverName, shift: bool,
            seed: int | None, as_json: bool, **rest: Any) -> int:
    """What comes of one crop sown on one day: when it is up, when it is picked, what may befall it."""
    from evenpick.report.outlook import outlook_page
    from evenpick.report.shifts import outlook_beside
    from evenpick.report.when_json import outlook_shape
    from evenpick.service.outlook import outlook as answer_outlook

    given, when = asked(rest), day_of(sow, "--sow")
    _one_warmth(given, shift)
    say = words(given)

    def here(given: Asked) -> Answered:
        (site, choice), rules = where(given), (seed_of(seed), seedbed(given), lowest(given), _as_here(given))
        answer = answer_outlook(site, choice, crop, when, cover, way, purpose, *rules)
        alike = (crop, when, cover, way, answer.purpose, *rules)  # for the same purpose
        then, trend = _beside(shift, site, choice, lambda other: answer_outlook(site, other, *alike))
        page, shape = outlook_page(answer, say), outlook_shape(answer, say)
        told = _shifts(then, lambda one: {key: outlook_shape(one, say)[key] for key in SHIFTING})
        return outlook_beside(page, answer, then, trend, say) if then else page, {**shape, **told}

    return answer_here(given, as_json, here)


@click.command(cls=Speaking, short_help="Why a crop should or should not be sown on a day.")
@click.argument("crop", metavar="CROP")
@SOWING
@COVER
@SHIFT
@PLACE
@SEED
@WORDS
def why(crop: str, sow: str, way: str | None, cover: CoverName, shift: bool, seed: int | None, as_json: bool,
        **rest: Any) -> int:
    """Why CROP should or should not be sown on a day, and where every number comes from."""
    from evenpick.report.outlook import why_page
    from evenpick.report.shifts import why_beside
    from evenpick.report.when_json import why_shape
    from evenpick.service.why import why as answer_why

    given, when = asked(rest), day_of(sow, "--sow")
    _one_warmth(given, shift)
    say = words(given)

    def here(given: Asked) -> Answered:
        site, choice = where(given)
        plan = None if given.at or given.place else _kept(garden_file(given))
        question = (crop, when, cover, way, seed_of(seed), plan, seedbed(given), lowest(given),
                    _as_here(given))
        answer = answer_why(site, choice, *question)
        then, trend = _beside(shift, site, choice, lambda other: answer_why(site, other, *question))
        page, shape = why_page(answer, say), why_shape(answer, say)
        told = _shifts(then, lambda one: {key: why_shape(one, say)[key] for key in ("score", "windows")})
        return why_beside(page, answer, then, trend, say) if then else page, {**shape, **told}

    return answer_here(given, as_json, here)


def _one_warmth(given: Asked, shift: bool) -> None:
    if shift and given.warmer:
        raise click.UsageError(tell("--shift and --warmer exclude each other; give one."))


def _beside(
    shift: bool, site: Site, choice: WeatherChoice, ask: Callable[[WeatherChoice], Answer]
) -> tuple[tuple[Shifted[Answer], ...], bool]:
    """The answer in warmer climates, where they were asked for."""
    from evenpick.service.shifts import beside

    return beside(site, choice, ask) if shift else ((), False)


def _shifts(then: Sequence[Shifted[Answer]], shape: Callable[[Answer], dict[str, Any]]) -> dict[str, Any]:
    return {"shifts": [{"degrees": one.degrees, "trend": one.trend, **shape(one.answer)} for one in then]
            } if then else {}


def month_number(text: str) -> int:
    """1 to 12 from a number or a name, whole or its first three letters and more; BadRequest otherwise."""
    said = text.strip().casefold()
    if said.isdecimal() and 1 <= int(said) <= len(MONTHS):
        return int(said)
    if len(said) >= SHORTEST:
        for number, name in enumerate(MONTHS, 1):
            if name.startswith(said):
                return number
    hint = did_you_mean(said, MONTHS)
    mend = hint or tell("Give 1 to 12, or a name such as june or jun.")
    raise BadRequest(Problem(tell("'{text}' is not a month.", text=text), mend))


def _as_here(given: Asked) -> AsHere:
    """Crops as the diary of the garden asked about taught them."""
    from evenpick.crops.here import as_catalogued
    from evenpick.store.book import book_path

    if given.at or given.place or not book_path(garden_file(given)).exists():
        return as_catalogued
    from evenpick.service.learned_here import learned_here

    return learned_here(garden_file(given))


def _kept(garden: Path) -> PlanAnswer | None:
    from evenpick.service.store_plan import saved_plan

    return saved_plan(garden)
