"""Taking entries of the diary back, with what was written together with them (docs/design/record.md, R10)."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Answered, Entry, SetUp, Undid, following, new_id
from evenpick.garden.diary_names import Names
from evenpick.garden.record import Record
from evenpick.service.book import keep, record_of
from evenpick.service.log import LogEntry, find_entry, shown
from evenpick.service.log_names import names_of
from evenpick.store.book import Book, book_path

SAME_LINE_MS = 1000
"""entries of one note written within it are of one line"""


def undo(garden: Path, which: str, today: date, by: str = "") -> tuple[LogEntry, ...]:
    """Undo an entry by its id or the end of it, and what goes with it; '' undoes the line written last. What
    was undone."""
    record = record_of(garden)
    gone = with_it(record, [find_entry(record, which)] if which else _last_line(record))
    names = names_of(garden, record)
    keep(garden, [Entry(new_id(), day_number(today), Undid(each.id), "", by) for each in gone])
    return tuple(shown(each, names) for each in gone)


def undone_as(record: Record, entry: str, identity: str, day: int) -> tuple[tuple[Entry, ...], list[Entry]]:
    """What is undone with an entry of the record, and the entries that undo it: the first under the id that
    its device made, the others under those after it."""
    gone = with_it(record, [each for each in record.entries if each.id == entry])
    return gone, [Entry(following(identity, at), day, Undid(each.id)) for at, each in enumerate(gone)]


def undone_by(garden: Path, first: str, names: Names) -> tuple[LogEntry, ...]:
    """What was undone by the entries of `undone_as`, by the id of the first."""
    every = {each.id: each for each in Book(book_path(garden)).entries()}
    gone = []
    while first in every and isinstance(undoing := every[first].fact, Undid):
        gone.append(shown(every[undoing.entry], names))
        first = following(first)
    return tuple(gone)


def with_it(record: Record, entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Entries, and after each what one press wrote with it: a job answered and the fact that this wrote stand
    or fall together. A sowing undone alone would leave its job done, and be asked for no more."""
    every = {each.id: each for each in record.entries}
    answers = {each.fact.wrote: each for each in every.values() if isinstance(each.fact, Answered)}
    found: dict[str, Entry] = {}
    for each in entries:
        wrote = each.fact.wrote if isinstance(each.fact, Answered) else None
        for one in (each, every.get(wrote or ""), answers.get(each.id)):
            if one is not None:
                found[one.id] = one
    return tuple(found.values())


def _last_line(record: Record) -> list[Entry]:
    own = [each for each in record.entries if not isinstance(each.fact, SetUp | Answered)]
    if not own:
        raise BadRequest(
            Problem(tell("nothing is in the diary yet."), tell('Write into it with: evenpick log "..."'))
        )
    last = max(own, key=lambda each: each.id)
    return [each for each in own if each.note == last.note and _ms(last.id) - _ms(each.id) <= SAME_LINE_MS]


def _ms(identity: str) -> int:
    return int(identity[:12], 16)
