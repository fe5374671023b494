"""Nothing is said past the catalogues: in a pseudo-language (pseudo.py) no plain word of prose comes out.

What may stay plain: the grower's own names, names of crops and places, months, units, and sentences that the
INVENTED answers hold in place of a service's.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import click
import pytest
import test_pages
import test_paper
import test_trial_pages
import test_water_page
from pseudo import plain_words, pseudo

from evenpick.base.language import MONTH_NAMES, MONTHS, using
from evenpick.cli.main import COMMANDS, command
from evenpick.report.page import Page
from evenpick.report.terminal import render

TESTS = Path(__file__).resolve().parents[1]
UNITS = {"kg", "lb", "oz", "ft", "sq", "cm", "mm", "km", "in", "UTC"}
NAMES = {
    "gate", "corner", "well", "beef", "leeks", "peas", "slugs", "north", "south", "csv", "ab", "an", "memory",
    "anna", "evenpick", "root", "ground", "tunnel", "boxes", "stall", "kitchen",
}
"""of the invented answers, where they are single words in small letters; ab: groups of like varieties"""
COLUMNS = {"weight", "days", "to", "picking", "taste", "came", "up", "sown"}
"""of the trial's sheet, as its file has them (docs/formats/trial-sheet.md)"""

PAGES: dict[str, Callable[[], Page]] = {**test_pages.PAGES, **test_trial_pages.PAGES, **test_water_page.PAGES}
TYPST_TEXT = re.compile(r'#text\((?:size: [\d.]+em, weight: "bold", )?"((?:[^"\\]|\\.)*)"\)')


def texts(path: Path) -> Iterator[str]:
    """The strings of a module of tests that are more than one small word, which would be a key."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        match node:
            case ast.Constant(value=str(text)) if " " in text or not text.islower():
                yield text


def invented(*modules: str) -> set[str]:
    said = " ".join(text for name in modules for text in texts(TESTS / "report" / f"{name}.py"))
    return {word.casefold() for word in plain_words(said)} | NAMES


def untold(said: Iterable[str], own: set[str]) -> dict[str, str]:
    """Plain words that are nobody's own, each with a line it stands on."""
    free = {word.casefold() for word in {*UNITS, *MONTHS, *MONTH_NAMES}} | own
    return {word: line for line in said for word in plain_words(line) if word.casefold() not in free}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_told_whole(name: str) -> None:
    own = invented("invented", "invented_water", "test_trial_pages") | COLUMNS
    with using(pseudo()):
        said = render(PAGES[name]()).splitlines()
    assert not untold(said, own)


@pytest.mark.parametrize("name", test_paper.SHEETS)
def test_a_sheet_is_told_whole(name: str) -> None:
    with using(pseudo()):
        said = TYPST_TEXT.findall(test_paper.SHEETS[name]().markup)
    assert said
    assert not untold(said, invented("invented", "test_paper"))


CLICK = {
    "usage", "options", "args", "commands", "command", "show", "this", "message", "and", "exit", "default",
    "range", "required", "the", "version", "help",
}
"""what click itself says in its help"""


def every_command() -> Iterator[tuple[str, click.Command]]:
    for name in sorted(COMMANDS):
        found = command(name)
        yield name, found
        if isinstance(found, click.Group):
            yield from ((f"{name} {each}", inner) for each, inner in found.commands.items())


@pytest.mark.parametrize(("name", "found"), [*every_command()])
def test_help_is_told_whole(name: str, found: click.Command) -> None:
    """But the names of commands and options, what may be typed, examples of it, and click's own words."""
    own = set(CLICK)
    for param in found.params:
        metavar = param.make_metavar(click.Context(found))
        own |= plain_words(" ".join([*param.opts, param.name or "", metavar]))
        own |= plain_words(f"{param.default} {getattr(param.type, 'choices', '')} {param.type.name}")
    inner = found.commands if isinstance(found, click.Group) else {}
    own |= {word for each in (name, *inner) for word in each.split()}
    with using(pseudo()):
        said = found.get_help(click.Context(found, info_name=name)).splitlines()
    assert not untold(said, {word.casefold() for word in own})


def test_the_list_of_commands_is_told_whole() -> None:
    from evenpick.cli.main import evenpick

    with using(pseudo()):
        said = evenpick.get_help(click.Context(evenpick, info_name="evenpick")).splitlines()
    assert not untold(said, {*CLICK, *COMMANDS, "evenpick"})
