"""Taking entries of the diary back, with what was written together with them (docs/design/record.md, R10)."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Answered, Corrected, Entry, SetUp, Undid, following, new_id
from evenpick.garden.diary_names import Names
from evenpick.garden.effective import judged
from evenpick.garden.record import Record, fold
from evenpick.service.book import keep, one_garden
from evenpick.service.log import LogEntry, find_entry, shown
from evenpick.service.log_names import names_of
from evenpick.store.book import Book, book_path

SAME_LINE_MS = 1000
"""entries of one note written within it are of one line"""


def undo(garden: Path, which: str, today: date, by: str = "") -> tuple[LogEntry, ...]:
    """Undo an entry by its id or the end of it, and what goes with it; '' undoes what was written last: a
    line, a file of lines, a correction, or what settled two copies. What was undone."""
    one_garden(garden)
    entries = Book(book_path(garden)).entries()
    record = fold(entries)
    first = [find_entry(record, which)] if which else _last_act(record, entries)
    gone = with_it(record, first)
    names, newest = names_of(garden, record), max(entry.id for entry in entries)
    keep(garden, [Entry(new_id(after=newest), day_number(today), Undid(each.id), "", by) for each in gone])
    return tuple(shown(each, names) for each in gone if each in first or not isinstance(each.fact, Corrected))


def undone_as(record: Record, entry: str, identity: str, day: int) -> tuple[tuple[Entry, ...], list[Entry]]:
    """What is undone with an entry of the record, and the entries that undo it: the first under the id that
    its device made, the others under those after it."""
    gone = with_it(record, [each for each in record.entries if each.id == entry])
    return gone, [Entry(following(identity, at), day, Undid(each.id)) for at, each in enumerate(gone)]


def undone_by(garden: Path, first: str, names: Names) -> tuple[LogEntry, ...]:
    """What was undone by the entries of `undone_as`, by the id of the first; each as last put right."""
    every = {each.id: each for each in Book(book_path(garden)).entries()}
    gone: dict[str, Entry] = {}
    while first in every and isinstance(undoing := every[first].fact, Undid):
        one = every[undoing.entry]
        if isinstance(fact := one.fact, Corrected):
            gone[fact.entry] = replace(every[fact.entry], day=fact.day, fact=fact.fact)
        else:
            gone[one.id] = one
        first = following(first)
    return tuple(shown(each, names) for each in gone.values())


def with_it(record: Record, entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Entries, and after each what one press wrote with it: a job answered and the fact that this wrote stand
    or fall together, or a sowing undone alone would leave its job done, and be asked for no more. And its
    corrections: one left behind would disagree with the undoing, as if two copies did."""
    every = {each.id: each for each in record.entries}
    answers = {each.fact.wrote: each for each in every.values() if isinstance(each.fact, Answered)}
    found: dict[str, Entry] = {}
    for each in entries:
        wrote = each.fact.wrote if isinstance(each.fact, Answered) else None
        for one in (each, every.get(wrote or ""), answers.get(each.id)):
            if one is not None:
                found |= {one.id: one, **{put.id: put for put in record.corrections.get(one.id, ())}}
    return tuple(found.values())


def _last_act(record: Record, entries: Collection[Entry]) -> list[Entry]:
    """What was written last of what counts: an undoing is passed over, so that the next goes a step further
    back, but for one that settled two copies by undoing another."""
    own = [each for each in record.entries if not isinstance(each.fact, SetUp | Answered)]
    own += [put for several in record.corrections.values() for put in several]
    own += _settled_by_undoing(entries)
    if not own:
        raise BadRequest(
            Problem(tell("nothing is in the diary yet."), tell('Write into it with: evenpick log "..."'))
        )
    last = max(own, key=lambda each: each.id)
    run = _run({each.id for each in entries}, last.id)
    return [each for each in own if each.id in run or (
        each.note == last.note and _about(each) == _about(last)
        and _ms(last.id) - _ms(each.id) <= SAME_LINE_MS)]


def _run(ids: Container[str], last: str) -> set[str]:
    """The ids that lie one by one before `last`, and it: what a file of lines wrote, which one act did."""
    found = {last}
    while (before := following(last, -1)) in ids:
        found.add(before)
        last = before
    return found


def _settled_by_undoing(entries: Iterable[Entry]) -> list[Entry]:
    diary = judged(entries)
    undid = {each.id: each.fact.entry for each in diary.every.values() if isinstance(each.fact, Undid)}
    return [diary.every[each] for each, about in undid.items()
            if each in diary.alive and about in undid and undid[about] not in undid]


def _about(entry: Entry) -> str:
    """Of a correction the entry that it puts right."""
    return entry.fact.entry if isinstance(entry.fact, Corrected | Undid) else ""


def _ms(identity: str) -> int:
    return int(identity[:12], 16)
