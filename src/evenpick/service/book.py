"""The garden's diary: what was written, and writing into it."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.garden.diary import (
    Answered,
    CameUp,
    Cleared,
    Corrected,
    Decided,
    Entry,
    Fact,
    Lost,
    Picked,
    PlantedOut,
    Reading,
    SetUp,
    Sowed,
    Tended,
    Undid,
    new_id,
)
from evenpick.garden.record import Record, fold
from evenpick.service.setups import taken_in
from evenpick.store.book import Book, book_path

UNDONE = (Undid.kind, Corrected.kind)
WHOLE = (Sowed.kind, CameUp.kind, PlantedOut.kind, Lost.kind, Cleared.kind, Answered.kind, Decided.kind,
         SetUp.kind, *UNDONE)
"""kinds of which every entry bears on what stands"""
LATELY = (Picked.kind, Tended.kind, Reading.kind)
"""kinds of which only those of the last year or so do"""
YEAR = 400


def lately(garden: Path, on: int) -> Record:
    """The record as far as it bears on what stands on a day: quick where the diary goes back for years.

    Pickings, tendings and readings older than 400 days are not in it, nor sowings cleared before that, nor
    what bears on nothing that stands.
    """
    return fold(Book(book_path(garden)).lately(WHOLE, LATELY, on - YEAR))


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
