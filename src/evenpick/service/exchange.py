"""A garden carried elsewhere and back, and two copies brought together (record.md, R22)."""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evenpick.base.errors import BadDiary, BadGarden, BadRequest, Problem
from evenpick.base.language import tell
from evenpick.base.whole import write_whole
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Entry
from evenpick.garden.diary_bounds import Bounds, refuse_beyond
from evenpick.garden.diary_csv import read_csv, refuse_unknown_crop, table_schema, write_csv
from evenpick.garden.effective import Conflict, conflicts, effective
from evenpick.garden.garden_json import Document, read_document, write_document
from evenpick.service.book import keep, one_garden
from evenpick.service.come_back import as_there
from evenpick.service.doubled import Pair, doubled
from evenpick.service.setups import (
    SEEN,
    add,
    bring_file_up,
    garden_of,
    look,
    text_if_any,
    there_is,
)
from evenpick.service.whose_book import refuse_anothers
from evenpick.store.book import SUFFIX, Book, book_path
from evenpick.store.kept import copied, keep_copy


@dataclass(frozen=True, slots=True)
class Imported:
    source: Path
    read: int
    new: int
    """entries that were not there yet"""
    kept: Path | None
    """copy of the book as it was before"""
    garden_written: bool
    """the garden file was written, or brought up to the version that stands"""
    conflicts: tuple[Conflict, ...]
    """that the two copies brought; those of before are not among them"""
    doubled: tuple[Pair, ...] = ()
    """what both copies tell, each in an entry of its own: ours and theirs"""


def document(garden: Path) -> str:
    """The whole garden as one JSON document (docs/formats/garden-json.md).

    A garden file changed by hand is taken into the book first. BadGarden where there is no garden.
    """
    return write_document(_document(garden))


def _document(garden: Path) -> Document:
    if not there_is(garden):
        raise BadRequest(Problem(tell("there is no such garden."), tell("Check the name."), str(garden)))
    keep(garden, ())
    book = Book(book_path(garden))
    return Document(text_if_any(garden), book.plan(), book.entries())


def export_garden(garden: Path, folder: Path) -> tuple[Path, ...]:
    """Write the garden into a folder: the JSON document, the diary as CSV with its Table Schema, the garden
    file; the paths.

    BadRequest where a file with other words is there; then nothing is written.
    """
    whole, name = _document(garden), garden.stem
    table = f"{name}-diary.csv"
    schema = json.dumps(table_schema(table), ensure_ascii=False, indent=1) + "\n"
    files = {
        folder / f"{name}.json": write_document(whole),
        folder / table: write_csv(whole.diary),
        folder / f"{name}-diary.schema.json": schema,
        **({} if whole.garden is None else {folder / f"{name}.toml": whole.garden}),
    }
    write_new(files)
    return tuple(files)


def write_new(files: Mapping[Path, str]) -> None:
    """Write files with their folders. BadRequest where one with other words is there; then none is."""
    _refuse_others(files)
    for path, text in files.items():
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, text.encode())


def _refuse_others(files: Mapping[Path, str]) -> None:
    problems = [Problem(tell("the file is there with other words; it is never written over."),
                        tell("Name another folder, or move it away."), str(path))
                for path, text in files.items() if path.exists() and path.read_bytes() != text.encode()]
    if problems:
        raise BadRequest(problems)


def import_garden(garden: Path, source: Path) -> Imported:
    """Bring what a file holds into a garden: another copy's book, a JSON document or a diary as CSV.

    What is there already stays once; the plan made last stays. Everything is read before anything is written,
    and the book is copied before it is changed. BadDiary, BadBook with file, line and field; BadRequest where
    the garden is a cooperative, whose book is no place for a farm's diary, or the copy is another farm's.
    """
    one_garden(garden)
    brought = _brought(source, garden)
    book = Book(book_path(garden))
    before = book.entries()
    here, there = {entry.id for entry in before}, {entry.id for entry in brought.diary}
    refuse_anothers(garden, source, there, here)
    kept = keep_copy(book.path) if before else None
    new = add(garden, brought.diary, brought.plan, coming=brought.diary)
    written = _write_file(garden, brought.garden) or bring_file_up(garden)
    old, now = set(conflicts(before)), book.entries()
    found = tuple(each for each in conflicts(now) if each not in old)
    return Imported(source, len(brought.diary), new, kept, written, found,
                    doubled(now, here - there, there - here))


def take_in(garden: Path, entries: Sequence[Entry]) -> int:
    """Add entries to a garden's book, once each, after a copy of it; how many were new."""
    book = Book(book_path(garden))
    if entries and book.entries():
        keep_copy(book.path)
    return book.add(entries) if entries else 0


def _brought(source: Path, garden: Path) -> Document:
    if source.suffix == SUFFIX:
        with copied(source) as copy:
            book = Book(copy)
            counted = effective(book.entries())  # what was undone there can't be mended any more
            _possible(counted, source, bounds_of(garden))
            return Document(None, book.plan(), book.entries())
    if source.suffix == ".json":
        document = read_document(_text(source), str(source))
        _possible(document.diary, source, bounds_of(garden, document.garden), known_crops())
        return document
    if source.suffix == ".csv":
        read = read_csv(_text(source), str(source), known_crops(), bounds_of(garden))
        return Document(None, None, as_there(read, Book(book_path(garden)).entries(), str(source)))
    mend = tell("Name another garden's .book, a .json that export wrote, or a diary as .csv.")
    raise BadRequest(Problem(tell("this kind of file can't be imported."), mend, str(source)))


def known_crops() -> frozenset[str]:
    """Keys of the catalogue."""
    return frozenset(crop.key for crop in load_catalogue().crops)


def bounds_of(garden: Path, text: str | None = None) -> Bounds:
    """Of entries that come into a garden; `text` is the garden file that comes with them."""
    text = text_if_any(garden) or text
    try:
        ground = None if text is None else sum(piece.area for piece in garden_of(garden, text).grounds)
    except BadGarden:  # its faults are told wherever it is read; a diary is taken in all the same
        ground = None
    return Bounds(date.today(), ground)


def _possible(
    entries: Sequence[Entry], source: Path, bounds: Bounds, crops: Collection[str] | None = None
) -> None:
    """BadDiary where an entry tells of a day or an amount that can't be, or of none of the `crops`."""
    problems: list[Problem] = []
    for entry in entries:
        try:
            refuse_unknown_crop(entry, crops)
            refuse_beyond(entry, bounds)
        except BadDiary as error:
            problems += [problem.at(str(source), None, f"{entry.id}, {problem.field or 'crop'}")
                         for problem in error.problems]
    if problems:
        raise BadDiary(problems)


def _write_file(garden: Path, text: str | None) -> bool:
    """The garden file as the document has it, where there is none yet."""
    if text is None or garden.exists() or garden.suffix == SUFFIX:
        return False
    write_whole(garden, text.encode())
    version = look(garden).file_is
    if version is not None:
        Book(book_path(garden)).add((), {SEEN: version})
    return True


def _text(source: Path) -> str:
    try:
        return source.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        line = error.object[: error.start].count(b"\n") + 1
        mend = tell("Save it again as UTF-8.")
        raise BadDiary(Problem(tell("this is no text in UTF-8."), mend, str(source), line)) from error
    except OSError as error:
        what = tell("the file can't be opened ({strerror}).", strerror=error.strerror)
        raise BadRequest(Problem(what, tell("Check the name and the folder."), str(source))) from error


def entries_of(garden: Path) -> Mapping[str, Entry]:
    """Every entry of a garden's book by its id."""
    return {entry.id: entry for entry in Book(book_path(garden)).entries()}
