"""The garden's diary: what was written, and writing into it."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.language import tell
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
    Watered,
    new_id,
)
from evenpick.garden.record import Record, fold
from evenpick.service.setups import add, is_cooperative
from evenpick.store.book import Book, Proviso, book_path
from evenpick.store.followed import Followed

UNDONE = (Undid.kind, Corrected.kind)
WHOLE = (Sowed.kind, CameUp.kind, PlantedOut.kind, Lost.kind, Cleared.kind, Answered.kind, Decided.kind,
         SetUp.kind, *UNDONE)
"""kinds of which every entry bears on what stands"""
LATELY = (Picked.kind, Tended.kind, Watered.kind, Reading.kind)
"""kinds of which only those of the last year or so do"""
YEAR = 400


def lately(garden: Path, on: int) -> Record:
    """The record as far as it bears on what stands on a day: quick where the diary goes back for years.

    Pickings, tendings, waterings and readings older than 400 days are not in it, nor sowings cleared before
    that, nor what bears on nothing that stands.
    """
    one_garden(garden)
    return fold(Book(book_path(garden)).lately(WHOLE, LATELY, on - YEAR))


def record_of(garden: Path, kinds: Collection[str] | None = None) -> Record:
    """The folded diary of a garden; empty where nothing was written yet. BadBook if it can't be read.

    With `kinds` (a fact's `kind`) only those are read, with what undoes and corrects them: quicker where the
    diary is long.
    """
    one_garden(garden)
    wanted = None if kinds is None else {*kinds, Undid.kind, Corrected.kind}
    return fold(Book(book_path(garden)).entries(wanted))


class Following:
    """The record of a garden for a program that asks again and again: only what was added is read."""

    def __init__(self, garden: Path) -> None:
        self._book = Followed(book_path(garden))

    def lately(self, on: int) -> Record:
        """As `lately`."""
        return fold(self._book.lately(WHOLE, LATELY, on - YEAR))

    def record(self) -> Record:
        """As `record_of`."""
        return fold(self._book.entries())


def write(garden: Path, facts: Sequence[tuple[date, Fact, str]], by: str = "") -> tuple[Entry, ...]:
    """Write facts (day, fact, note) into the garden's book, all or none, and with them the garden file if
    it was changed since the book last saw it."""
    newest = Book(book_path(garden)).newest()
    return keep(garden, [Entry(new_id(after=newest), day_number(day), fact, note, by)
                         for day, fact, note in facts])


def keep(garden: Path, entries: Sequence[Entry], proviso: Proviso | None = None) -> tuple[Entry, ...]:
    """As `write`, for entries made already; none where a proviso does not hold."""
    one_garden(garden)
    added = add(garden, entries, proviso=proviso)
    return tuple(entries) if proviso is None or added else ()


def keep_once(garden: Path, entries: Sequence[Entry]) -> tuple[Entry, ...]:
    """As `keep`; none where the first one's id is in the book: the same sent again, however it would be
    understood by now, with its own first sending written."""
    book = Book(book_path(garden))
    return keep(garden, entries, Proviso((), lambda _: not book.has(entries[0].id)))


def one_garden(garden: Path) -> None:
    """BadRequest for the file of a cooperative, which has no diary."""
    if is_cooperative(garden):
        from evenpick.service.books_together import at_the_farm  # which knows this module

        raise at_the_farm(garden, tell("a cooperative keeps no diary: each of its farms has its own."))
