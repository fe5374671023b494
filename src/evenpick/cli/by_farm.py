"""Questions that each farm of a cooperative answers for itself, asked of all of them at once."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from evenpick.report.as_json import Shape
    from evenpick.report.page import Page

Answered = tuple["Page", "Shape"]


def answer(garden: Path, as_json: bool, asked: Callable[[Path], Answered]) -> None:
    """Show what a garden's file is answered; of a cooperative's, what each of its farms' is, one after
    another."""
    from evenpick.cli.cooperative import is_cooperative
    from evenpick.report.as_json import as_text
    from evenpick.report.terminal import render

    page, shape = _of_farms(garden, asked) if is_cooperative(garden) else asked(garden)
    click.echo(as_text(shape) if as_json else render(page).rstrip())


def _of_farms(file: Path, asked: Callable[[Path], Answered]) -> Answered:
    from evenpick.report.farm_by_farm import farms_page
    from evenpick.service.cooperative_files import cooperative_of

    found = cooperative_of(file)
    told = [(farm.name, found.named(farm), *asked(farm.file)) for farm in found.own.farms]
    shape = {"cooperative": found.own.name,
             "farms": [{"name": name, "file": own, **part} for name, own, _, part in told]}
    return farms_page(found.own.name, [(name, own, page) for name, own, page, _ in told]), shape
