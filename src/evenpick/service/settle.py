"""Two things written apart of one entry: settled by new entries, nothing taken away (record.md, R5)."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Literal

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Corrected, Entry, Fact, SetUp, Undid, new_id
from evenpick.garden.effective import Conflict, disputed, judged
from evenpick.service.book import keep
from evenpick.service.setups import rewrite, setup_text
from evenpick.store.book import Book, book_path

Side = Literal["a", "b"]
"""a: what stands; b: what is against it"""


def open_conflicts(garden: Path) -> tuple[Conflict, ...]:
    """What is open, always in the same order."""
    return disputed(judged(Book(book_path(garden)).entries()))


def settle(garden: Path, number: int, take: Side, by: str = "") -> tuple[Entry, ...]:
    """Settle the conflict of that number (from 1) in favour of one side; the entries written.

    BadRequest where there is no such conflict.
    """
    found = open_conflicts(garden)
    if not 1 <= number <= len(found):
        what = tell("there is no conflict {number}; open: {found}.", number=number, found=len(found))
        raise BadRequest(Problem(what, tell("See them with: evenpick settle"), str(garden)))
    conflict = found[number - 1]
    entries = Book(book_path(garden)).entries()
    facts = _settling(conflict, take, entries)
    made = keep(garden, [Entry(new_id(after=entries[-1].id), day_number(date.today()), fact, "", by)
                         for fact in facts])
    if isinstance(conflict.stands.fact, SetUp):
        rewrite(garden, setup_text(book_path(garden)), max(entry.id for entry in made))
    return made


def _settling(conflict: Conflict, take: Side, entries: Sequence[Entry]) -> list[Fact]:
    chosen = (conflict.stands if take == "a" else conflict.against).fact
    if isinstance(chosen, SetUp):
        return [SetUp(chosen.text, each.id) for each in (conflict.against, conflict.stands)]
    if isinstance(conflict.stands.fact, Undid):
        if isinstance(chosen, Corrected):
            return [Undid(conflict.stands.id)]
        alive = judged(entries).alive
        return [Undid(each.id) for each in entries
                if each.id in alive and isinstance(each.fact, Corrected)
                and each.fact.entry == conflict.about]
    if isinstance(chosen, Corrected):
        return [Corrected(conflict.about, chosen.day, chosen.fact, each.id)
                for each in (conflict.against, conflict.stands)]
    raise TypeError(conflict)
