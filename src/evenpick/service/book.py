"""The garden's diary: what was written, and writing into it."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.garden.diary import Corrected, Entry, Fact, Undid, new_id
from evenpick.garden.record import Record, fold
from evenpick.service.setups import taken_in
from evenpick.store.book import Book, book_path


def record_of(garden: Path, kinds: Collection[str] | None = None) -> Record:
    """The folded diary of a garden; empty where nothing was written yet. BadBook if it can't be read.

    With `kinds` (a fact's `kind`) only those are read, with what undoes and corrects them: quicker where the
    diary is long.
    """
    wanted = None if kinds is None else {*kinds, Undid.kind, Corrected.kind}
    return fold(Book(book_path(garden)).entries(wanted))


def write(garden: Path, facts: Sequence[tuple[date, Fact, str]], by: str = "") -> tuple[Entry, ...]:
    """Write facts (day, fact, note) into the garden's book, all or none, and with them the garden file if
    it was changed since the book last saw it."""
    return keep(garden, [Entry(new_id(), day_number(day), fact, note, by) for day, fact, note in facts])


def keep(garden: Path, entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """As `write`, for entries made already."""
    setup, seen = taken_in(garden)
    Book(book_path(garden)).add((*setup, *entries), seen)
    return tuple(entries)
