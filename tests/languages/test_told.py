"""Nothing is said past the catalogues: in a pseudo-language (pseudo.py) no plain word of prose comes out.

What may stay plain: the grower's own names, names of crops and places, months, units, and sentences that the
INVENTED answers hold in place of a service's.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pytest
import test_pages
import test_paper
import test_trial_pages
import test_water_page
from pseudo import plain_words, pseudo

from evenpick.base.language import MONTH_NAMES, MONTHS, using
from evenpick.report.page import Page
from evenpick.report.terminal import render

TESTS = Path(__file__).resolve().parents[1]
UNITS = {"kg", "lb", "oz", "ft", "sq", "cm", "mm", "km", "in", "UTC"}
NAMES = {
    "gate", "corner", "well", "beef", "leeks", "peas", "slugs", "north", "south", "csv", "ab", "an", "memory",
    "anna", "evenpick", "root", "ground", "tunnel",
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
