"""The garden's book: check, export, import, versions of the set-up, conflicts."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import click

from evenpick.base.language import tell
from evenpick.cli.exits import BAD_INPUT
from evenpick.cli.options import A_GARDEN, own_words
from evenpick.cli.speaking import Speaking

if TYPE_CHECKING:
    from evenpick.report.page import Page

JSON = click.option("--json", "as_json", is_flag=True, help="The answer as JSON.")


@click.command(cls=Speaking, short_help="Whether the garden's book is whole; copies of it.")
@A_GARDEN
@click.option("--restore", metavar="COPY", help="Go back to a kept copy, by its name, or: last")
@click.option("--rescue", "rescued", is_flag=True, help="Bring together what can be read of a damaged book.")
@JSON
def check(garden: Path, restore: str | None, rescued: bool, as_json: bool) -> int:
    """Look through every entry of the garden's book and keep a dated copy of it beside. Where there is no
    book yet, the garden file is read."""
    from evenpick.cli.cooperative import is_cooperative
    from evenpick.report import book, book_json
    from evenpick.service import check as service

    if restore is not None and rescued:
        raise click.UsageError(tell("--restore and --rescue exclude each other; give one."))
    if restore is not None:
        copy, before = service.restore(garden, restore)
        words = book.restore_words(copy, before)
        click.echo(_json(book_json.restore_shape(copy, before)) if as_json else words)
        return 0
    if rescued and is_cooperative(garden):
        return _rescued_together(garden, as_json)
    if rescued:
        found = service.rescue(garden)
        _say(book.rescue_page(found), book_json.rescue_shape(found), as_json)
        return 0
    answer = service.check(garden)
    say = own_words(garden) if answer.far else None
    _say(book.check_page(answer, say), book_json.check_shape(answer), as_json)
    damaged = isinstance(answer, service.Checked) and answer.faults
    return BAD_INPUT if damaged or not all(farm.whole for farm in answer.farms) else 0


def _rescued_together(file: Path, as_json: bool) -> int:
    """The damaged books of a cooperative and its farms rescued; an exit code that says whether all were."""
    from evenpick.report import book, book_json
    from evenpick.service.books_together import rescue_together

    found = rescue_together(file)
    _say(book.rescued_together_page(file, found), book_json.rescued_together_shape(found), as_json)
    return 0 if all(each.answer for each in found) else BAD_INPUT


@click.command("export", cls=Speaking, short_help="The whole garden as JSON, CSV and text.")
@click.argument("folder", required=False, type=click.Path(path_type=Path, file_okay=False))
@A_GARDEN
@click.option("--json", "as_json", is_flag=True, help="Name the files written as JSON.")
def export(folder: Path | None, garden: Path, as_json: bool) -> int:
    """Write the garden into FOLDER: one JSON document, the diary as CSV, the garden file. Without a folder
    the document goes to standard output. Of a cooperative its file and each farm are written into FOLDER."""
    from evenpick.cli.cooperative import is_cooperative
    from evenpick.service.exchange import document, export_garden
    from evenpick.service.export_together import export_together

    if folder is None:
        click.echo(document(garden), nl=False)
        return 0
    problems: tuple[str, ...] = ()
    if folder.suffix == ".xlsx":
        from evenpick.service.workbook import write_workbook

        files: tuple[Path, ...] = (write_workbook(garden, folder),)
    elif is_cooperative(garden):
        files, problems = export_together(garden, folder)
    else:
        files = export_garden(garden, folder)
    for problem in problems:
        click.echo(problem, err=True)
    names = [str(path) for path in files]
    click.echo(_json({"files": names}) if as_json
               else "\n".join(tell("Written: {name}", name=name) for name in names))
    return BAD_INPUT if problems else 0


@click.command("import", cls=Speaking, short_help="Bring in another copy of the garden, or a diary.")
@click.argument("source", metavar="FILE", type=click.Path(path_type=Path, dir_okay=False))
@A_GARDEN
@JSON
def import_(source: Path, garden: Path, as_json: bool) -> None:
    """Bring FILE into the garden: another copy's .book, a .json or .xlsx that export wrote, or a diary
    as .csv. Nothing is lost and nothing comes in twice."""
    from evenpick.report import book, book_json
    from evenpick.service.exchange import entries_of, import_garden

    if source.suffix == ".xlsx":
        from evenpick.service.workbook import read_in

        taken = read_in(garden, source)
        _say(book.workbook_page(taken), book_json.workbook_shape(taken), as_json)
        return
    answer = import_garden(garden, source)
    _say(book.import_page(answer, entries_of(garden)), book_json.import_shape(answer), as_json)


@click.command(cls=Speaking, short_help="Versions of the garden's set-up.")
@A_GARDEN
@click.option("--take", type=click.IntRange(min=1), metavar="NUMBER", help="Make that version stand again.")
@JSON
def versions(garden: Path, take: int | None, as_json: bool) -> None:
    """The versions of the garden file that the book holds, and what each changed."""
    from evenpick.report import book, book_json
    from evenpick.service.setups import setup_notes, take_version
    from evenpick.service.setups import versions as answer_versions

    if take is not None:
        take_version(garden, take)
    answer, notes = answer_versions(garden), setup_notes(garden)
    _say(book.versions_page(answer, notes), book_json.versions_shape(answer, notes), as_json)


@click.command(cls=Speaking, short_help="What was written apart and does not agree.")
@click.argument("number", required=False, type=click.IntRange(min=1))
@A_GARDEN
@click.option("--take", type=click.Choice(["a", "b"]), help="The side that is to stand.")
@JSON
def settle(number: int | None, garden: Path, take: Literal["a", "b"] | None, as_json: bool) -> int:
    """Show what two copies say differently of one entry; settle NUMBER by taking one side."""
    from evenpick.cli.by_farm import Answered, answer
    from evenpick.cli.cooperative import is_cooperative
    from evenpick.report import book, book_json
    from evenpick.service import settle as service
    from evenpick.service.books_together import at_the_farm
    from evenpick.service.exchange import entries_of

    if (number is None) != (take is None):
        raise click.UsageError(tell("Give both: the number of a conflict and --take a or --take b."))
    if number is not None and take is not None:
        if is_cooperative(garden):
            raise at_the_farm(garden, tell("what is open is settled at the farm whose diary it is."))
        service.settle(garden, number, take)

    def open_at(file: Path) -> Answered:
        found = service.open_conflicts(file)
        return book.conflicts_page(found, entries_of(file)), {"conflicts": book_json.conflict_shapes(found)}

    return answer(garden, as_json, open_at)


def _say(page: Page, shape: dict[str, Any], as_json: bool) -> None:
    from evenpick.report.terminal import render

    click.echo(_json(shape) if as_json else render(page).rstrip())


def _json(shape: dict[str, Any]) -> str:
    from evenpick.report.as_json import as_text

    return as_text(shape)
