"""The garden's diary: what was written, and writing into it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.garden.diary import Entry, Fact, SetUp, new_id
from evenpick.garden.record import Record, fold
from evenpick.store.book import Book, book_path


def record_of(garden: Path) -> Record:
    """The folded diary of a garden; empty where nothing was written yet. BadBook if it can't be read."""
    return fold(Book(book_path(garden)).entries())


def write(garden: Path, facts: Sequence[tuple[date, Fact, str]], by: str = "") -> tuple[Entry, ...]:
    """Write facts (day, fact, note) into the garden's book, all or none, and with them the garden file if
    it is another than the book last saw."""
    return keep(garden, [Entry(new_id(), day_number(day), fact, note, by) for day, fact, note in facts])


def keep(garden: Path, entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """As `write`, for entries made already."""
    book = Book(book_path(garden))
    book.add((*_changed_setup(garden, book), *entries))
    return tuple(entries)


def _changed_setup(garden: Path, book: Book) -> tuple[Entry, ...]:
    if not garden.exists():
        return ()
    text = garden.read_text(encoding="utf-8")
    known = fold(book.entries()).setup
    if known is not None and isinstance(known.fact, SetUp) and known.fact.text == text:
        return ()
    after = None if known is None else known.id
    return (Entry(new_id(), day_number(date.today()), SetUp(text, after)),)
