"""Options that several commands share, and what was asked with them."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date
from math import inf
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import languages, tell
from evenpick.base.trade import COVERS, CoverName

if TYPE_CHECKING:
    from evenpick.climate.site import Site
    from evenpick.garden.garden import Garden, Seedbed, WeatherChoice
    from evenpick.garden.whose_words import English, Units
    from evenpick.report.words import Words

Command = TypeVar("Command", bound=Callable[..., Any])
FILE = click.Path(path_type=Path, dir_okay=False)
GARDEN = "garden.toml"


@dataclass(frozen=True, slots=True)
class Asked:
    """Where, with which weather, in which words; as typed."""

    at: str | None
    place: str | None
    height: str | None
    garden: Path | None
    weather: Path | None
    record: str | None
    normals: Path | None
    warmer: float | None
    english: str | None
    units: str | None


class Number(click.FloatRange):
    """A number of a range; what is none, and what has no end, is refused with the others."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        found = super().convert(value, param, ctx)
        if not math.isfinite(found):
            self.fail(tell("{value} is not a number.", value=value), param, ctx)
        return found


def together(*options: Callable[[Command], Command]) -> Callable[[Command], Command]:
    """Several options as one decorator, shown in the order given."""

    def decorate(command: Command) -> Command:
        for option in reversed(options):
            command = option(command)
        return command

    return decorate


WORDS_ONLY = together(
    click.option("--english", type=click.Choice(["british", "american"]),
                 help="Names of crops and covers.  [the garden's or the town's, or british]"),
    click.option("--language", type=click.Choice(languages()),
                 help="Everything in this language.  [the garden's, or that of --english]"),
    click.option("--units", type=click.Choice(["metric", "imperial"]),
                 help="Units of the text; JSON is always metric.  [the garden's or the town's, or metric]"),
)
WORDS = together(WORDS_ONLY, click.option("--json", "as_json", is_flag=True, help="The answer as JSON."))
PLACE = together(
    click.option("--at", metavar="LAT,LON", help="The point, north then east: 53.43,-6.24 (south is minus)."),
    click.option("--place", metavar="TOWN", help="A town such as 'Dublin, IE'."),
    click.option("--garden", type=FILE, help="A garden's file or book, if no place is given.  [garden.toml]"),
    click.option("--height", metavar="HEIGHT", help="Height above the sea of that place: '40 m', '130 ft'."),
    click.option("--weather", type=FILE, help="A daily weather record of your own, in any known form."),
    click.option("--record", metavar="NAME", help="A daily record that comes with evenpick."),
    click.option("--normals", type=FILE, help="Twelve months' normals that you typed."),
    click.option("--warmer", type=Number(0, 6), help="The same weather, so many °C warmer."),
)
SEED = click.option("--seed", type=click.IntRange(min=0), help="Of the dice; the same gives the same.")
COVER = click.option("--cover", type=click.Choice(COVERS), default="open", show_default=True, help="Over it.")
YEAR = click.option("--year", type=click.IntRange(1900, 2200), help="The year it is for.  [this one]")
ON = click.option("--on", metavar="YYYY-MM-DD", help="The day it is asked.  [today]")
A_GARDEN = click.option("--garden", type=FILE, default=GARDEN, show_default=True,
                        help="The garden's file or book.")


def asked(options: Mapping[str, Any]) -> Asked:
    """The shared ones among a command's options; a usage error where two exclude each other."""
    shared: dict[str, Any] = {field.name: options.get(field.name) for field in fields(Asked)}
    given = Asked(**shared)
    _at_most_one(("--at", given.at), ("--place", given.place), ("--garden", given.garden))
    _at_most_one(("--weather", given.weather), ("--record", given.record), ("--normals", given.normals))
    if given.height is not None and given.at is None and given.place is None:
        raise click.UsageError(tell("--height goes with --at or --place; a garden has its own in its file."))
    return given


def where(given: Asked) -> tuple[Site, WeatherChoice]:
    """The site and the weather asked for; without a place those of the garden."""
    from evenpick.garden.garden import WeatherChoice

    named = given.weather or given.record or given.normals
    warmer = given.warmer or 0.0
    choice = WeatherChoice(given.weather, given.record, given.normals, warmer=warmer)
    if given.at is None and given.place is None:
        from evenpick.service.where import garden_site

        site, own = garden_site(garden_file(given))
        if named:  # held against what the grower read here all the same
            own = replace(own, record=given.weather, packaged=given.record, normals=given.normals)
        return site, replace(own, warmer=warmer) if warmer else own
    from evenpick.service.where import site_for

    return site_for(given.at, given.place, given.height), choice


def seedbed(given: Asked) -> Seedbed:
    """What drills are drawn in: the garden's, where the question is about one."""
    from evenpick.garden.garden import LOAM

    about = _garden(given)
    return LOAM if about is None else about.seedbed


def lowest(given: Asked) -> float:
    """°C that the garden's bench is kept above, where the question is about a garden that has one."""
    about = _garden(given)
    return inf if about is None else about.lowest


def covers_asked(given: Asked, typed: Sequence[CoverName]) -> tuple[CoverName, ...]:
    """Each once, the simplest first, however often it was typed; of none typed those of the garden that the
    question is about, else open ground and a tunnel."""
    from evenpick.garden.garden import GROUND_COVERS

    about = None if typed else _garden(given)
    usual = GROUND_COVERS if about is None else about.covers_there
    return tuple(cover for cover in COVERS if cover in (typed or usual))


def _garden(given: Asked) -> Garden | None:
    """The garden that the question is about; None where it is about a place."""
    if given.at is not None or given.place is not None:
        return None
    from evenpick.service.setups import garden_of

    return garden_of(garden_file(given))


def words(given: Asked) -> Words:
    """The words asked for, else those of the garden that the question is about, or of the town's country,
    else British and metric."""
    from evenpick.climate.places import country_of
    from evenpick.crops.catalogue import load_catalogue
    from evenpick.garden.whose_words import english_of, units_of
    from evenpick.report.words import words_for

    catalogue = load_catalogue()
    english: Any = given.english
    units: Any = given.units
    country = country_of(given.place) if given.place else ""
    if given.at is None and given.place is None and not (english and units):
        own = _own_words(garden_file(given))
        english, units = english or own[0], units or own[1]
    return words_for(english or english_of(country), units or units_of(country), catalogue)


def own_words(garden: Path) -> Words:
    """The words of a garden's file, or of a cooperative's."""
    from evenpick.crops.catalogue import load_catalogue
    from evenpick.report.words import words_for

    english, units = _own_words(garden)
    return words_for(english, units, load_catalogue())


def _own_words(garden: Path) -> tuple[English, Units]:
    """English and units of a garden's file, or of a cooperative's."""
    from evenpick.service.setups import garden_of, is_cooperative

    if is_cooperative(garden):
        from evenpick.service.cooperative_files import cooperative_of

        own = cooperative_of(garden).own
        return own.english, own.units
    described = garden_of(garden)
    return described.english, described.units


def seed_of(seed: int | None) -> int:
    from evenpick.base.chance import DEFAULT_SEED

    return DEFAULT_SEED if seed is None else seed


def day_of(text: str, option: str) -> date:
    """A date as typed; BadRequest with the remedy."""
    from evenpick.base.days import day_date, parse_date, refuse_far

    found = day_date(parse_date(text, option))
    refuse_far(found, option)
    return found


def on_day(on: str | None) -> date:
    """The day of --on, or today."""
    return day_of(on, "--on") if on else date.today()


def garden_file(given: Asked) -> Path:
    """The garden a question is about where no place is given; BadRequest where there is none."""
    path = given.garden or Path(GARDEN)
    if given.garden is None and not path.exists() and not path.with_suffix(".book").exists():
        raise BadRequest(Problem(
            tell("no place is given and there is no {garden} here.", garden=GARDEN),
            tell("Give --at LAT,LON, --place 'TOWN, COUNTRY' or --garden FILE, or write one with: "
                 "evenpick begin"),
        ))
    return path


def _at_most_one(*options: tuple[str, object]) -> None:
    given = [name for name, value in options if value is not None]
    if len(given) > 1:
        raise click.UsageError(tell("{given} exclude each other; give one.", given=tell(" and ").join(given)))
