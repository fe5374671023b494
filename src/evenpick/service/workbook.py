"""The garden as a spreadsheet, out and in (docs/formats/workbook.md)."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from evenpick.base.errors import BadGarden, BadRequest, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.base.whole import write_whole
from evenpick.garden.diary import Entry, SetUp
from evenpick.garden.diary_bounds import Bounds
from evenpick.garden.diary_csv import read_rows, refuse_heads, write_csv
from evenpick.garden.workbook import DIARY, TABLES, Cell, Rows, located, rows_of, with_rows
from evenpick.service.book import keep, one_garden
from evenpick.service.come_back import as_there
from evenpick.service.exchange import bounds_of, known_crops, take_in
from evenpick.service.setups import garden_of, setup_text, there_is
from evenpick.service.whose_book import refuse_anothers
from evenpick.store.book import SUFFIX, Book, book_path
from evenpick.store.workbook import read_workbook, workbook


@dataclass(frozen=True, slots=True)
class Taken:
    """What came in from a spreadsheet."""

    source: Path
    sheets: tuple[str, ...]
    garden_changed: bool
    read: int
    new: int
    """entries of the diary, and those that were not there yet"""


def write_workbook(garden: Path, path: Path) -> Path:
    """Wishes, ground, what comes anyway, seed and diary as XLSX. BadRequest where the file is there, and
    for a cooperative, which has none of these but the wishes."""
    one_garden(garden)
    if path.exists():
        raise BadRequest(Problem(tell("the file is there; it is never written over."), tell("Name another."),
                                 str(path)))
    sheets: dict[str, Rows] = {**rows_of(setup_text(garden)), DIARY: _diary(garden)}
    write_whole(path, workbook(sheets))
    return path


def _diary(garden: Path) -> Rows:
    """Set-ups left out: they are the other sheets, and longer than a cell can hold."""
    entries = [entry for entry in Book(book_path(garden)).entries() if not isinstance(entry.fact, SetUp)]
    return list(csv.reader(io.StringIO(write_csv(entries), newline="")))


def read_in(garden: Path, source: Path) -> Taken:
    """Take in what a spreadsheet holds. All or nothing; every fault with its sheet, row and column.

    Sheets that are there stand in place of the garden file's own tables; diary rows that are new are added.
    """
    sheets = read_workbook(source)
    known = {*TABLES, DIARY}
    strange = [name for name in sheets if name not in known]
    if strange:
        said = tell("Sheets: {known}.", known=", ".join(sorted(known)))
        raise BadGarden(
            Problem(tell("no sheet is called '{name}'.",
                         name=name), did_you_mean(name, known) or said, str(source))
            for name in strange
        )
    if not there_is(garden):
        what = tell("there is no garden here to bring it into, and a spreadsheet has no place of its own.")
        raise BadRequest(Problem(what, tell("Import the .json that export writes, or begin a garden first: "
                                            "evenpick begin"), str(garden)))
    before = setup_text(garden)
    tables = {name: rows for name, rows in sheets.items() if name in TABLES}
    text = _changed(garden, before, tables, str(source))
    entries = _entries(sheets[DIARY], str(source), bounds_of(garden, text)) if DIARY in sheets else ()
    ours = Book(book_path(garden)).entries()
    refuse_anothers(garden, source, {entry.id for entry in entries}, {entry.id for entry in ours})
    entries = as_there(entries, ours, f"{source}, {DIARY}")
    if text != before:
        if garden.suffix == SUFFIX:
            raise BadRequest(Problem(tell("a book alone has no garden file to change."),
                                     tell("Name the garden file."),
                                     str(garden)))
        write_whole(garden, text.encode())
        keep(garden, ())
    return Taken(source, tuple(sheets), text != before, len(entries), take_in(garden, entries))


def _changed(garden: Path, before: str, tables: Mapping[str, Rows], file: str) -> str:
    """The garden file with those tables, held to be readable as one; unchanged where they say the same."""
    same = rows_of(before)
    other = {name: rows for name, rows in tables.items() if _plain(rows) != _plain(same[name])}
    if not other:
        return before
    text = with_rows(before, other, file)
    try:
        garden_of(garden, text)
    except BadGarden as error:
        place = located(text, other, file)
        raise BadGarden(place(problem) for problem in error.problems) from error
    return text


def _plain(rows: Rows) -> list[list[str]]:
    """Rows as words, empty cells at their ends left off, empty rows left out."""
    found = []
    for row in rows:
        cells = [_word(cell) for cell in row]
        while cells and not cells[-1]:
            cells.pop()
        if cells:
            found.append(cells)
    return found


def _word(cell: Cell) -> str:
    if cell is None:
        return ""
    return str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell)


def _entries(rows: Rows, file: str, bounds: Bounds) -> tuple[Entry, ...]:
    place = f"{file}, {DIARY}"
    cells = [(at, [_word(cell) for cell in row]) for at, row in enumerate(rows, 1)]
    filled = [(at, row) for at, row in cells if any(row)]
    if not filled:
        return ()
    heads = [cell.strip() for cell in filled[0][1]]
    while heads and not heads[-1]:
        heads.pop()
    refuse_heads(heads, place, filled[0][0])
    return read_rows(heads, [(at, row[: len(heads)]) for at, row in filled[1:]], place,
                     known_crops(), bounds)
