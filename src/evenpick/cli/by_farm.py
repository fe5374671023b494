"""Questions that each farm of a cooperative answers for itself, asked of all of them at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenpick.cli.exits import BAD_INPUT
from evenpick.cli.options import Asked, garden_file

if TYPE_CHECKING:
    from evenpick.report.as_json import Shape
    from evenpick.report.page import Page
    from evenpick.service.cooperative_answer import FarmTold

Answered = tuple["Page", "Shape"]


def answer(garden: Path, as_json: bool, asked: Callable[[Path], Answered]) -> int:
    """Show what a garden's file is answered; of a cooperative's, what each of its farms' is, one after
    another. The exit code says whether all could be."""
    from evenpick.cli.cooperative import is_cooperative

    if not is_cooperative(garden):
        return show(*asked(garden), as_json)
    from evenpick.report.cooperative_json import farm_shape
    from evenpick.report.farm_by_farm import farms_page
    from evenpick.service.cooperative_files import cooperative_of
    from evenpick.service.farms_asked import each_farm

    found = cooperative_of(garden)
    told = each_farm(found, lambda farm: asked(farm.file))
    pages = [farm.having(None if farm.answer is None else farm.answer[0]) for farm in told]
    shapes = [farm_shape(farm, lambda both: both[1]) for farm in told]
    show(farms_page(found.own.name, pages), {"cooperative": found.own.name, "farms": shapes}, as_json)
    return code_of(told)


def answer_here(given: Asked, as_json: bool, asked: Callable[[Asked], Answered]) -> int:
    """Show what is answered of a place, or of a garden as `answer`."""
    if given.at is not None or given.place is not None:
        return show(*asked(given), as_json)
    return answer(garden_file(given), as_json, lambda file: asked(replace(given, garden=file)))


def show(page: Page, shape: Shape, as_json: bool) -> int:
    from evenpick.report.as_json import as_text
    from evenpick.report.terminal import render

    click.echo(as_text(shape) if as_json else render(page).rstrip())
    return 0


def code_of(farms: Sequence[FarmTold[Any]]) -> int:
    """Whether every farm could answer, as an exit code."""
    return BAD_INPUT if any(farm.problem for farm in farms) else 0
