"""What can be read of a damaged book, brought together with its kept copies in a new one."""

from __future__ import annotations

import re
import tempfile
import zlib
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from evenpick.base.errors import BadBook, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Entry, written
from evenpick.garden.diary_json import KINDS
from evenpick.garden.garden_json import KeptPlan
from evenpick.store.book import Book
from evenpick.store.kept import copied, copies, replace
from evenpick.store.pages import Row, rows
from evenpick.store.reading import of_first_form, readable

_ID = re.compile(r"[0-9a-f]{32}")

@dataclass(frozen=True, slots=True)
class Rescued:
    read: int
    """entries read off the damaged file"""
    copied: int
    """more that only the kept copies had"""
    doubtful: tuple[str, ...]
    """ids of entries whose checksum is wrong though they can be read"""
    lost: tuple[str, ...]
    """entries that the file knows of but nobody has, in words"""
    kept: Path | None
    """where the damaged file went"""


@dataclass(slots=True)
class _Found:
    sure: dict[str, Entry] = field(default_factory=dict)
    doubtful: dict[str, Entry] = field(default_factory=dict)
    named: dict[str, str] = field(default_factory=dict)
    """id → kind, of every entry that is at least named"""


def rescue(book: Path, bare: bool = False) -> Rescued:
    """Make a new book of all that can be read in the file, its log and its kept copies; put it in place.

    The damaged file is kept beside. What was written since the last copy and stood on a damaged page is lost,
    and told as far as the file's index names it. BadBook where nothing at all can be read, but of a book that
    may be `bare` of entries: then the new one is, too.
    """
    found = _read_off(rows(book))
    plan, known = _from_copies(book)
    entries = {**found.doubtful, **known, **found.sure}
    if not (entries or bare):
        mend = tell("If there is a copy of it elsewhere, put that in its place.")
        raise BadBook(Problem(tell("no entry can be read in it, nor in a kept copy."), mend, str(book)))
    with tempfile.TemporaryDirectory(dir=book.parent) as made:
        new = Book(Path(made) / book.name)
        new.add(entries.values(), plan=_plan_of(book) or plan, besides=lambda: ((), {}))
        kept = replace(book, new.path)
    doubtful = found.doubtful.keys() - known.keys() - found.sure.keys()
    lost = sorted(found.named.keys() - entries.keys())
    return Rescued(
        len(found.sure.keys() | doubtful), len(known.keys() - found.sure.keys()), tuple(sorted(doubtful)),
        tuple(f"{found.named[each]}, written {written(each):%Y-%m-%d %H:%M} UTC" for each in lost), kept,
    )


def _read_off(every: Iterable[Row]) -> _Found:
    found = _Found()
    for row in every:
        match row:
            case (str(identity), str(kind), str(body), int(crc)) if _ID.fullmatch(identity):
                found.named[identity] = kind
                _take(found, body, zlib.crc32(body.encode()) == crc)
            case (str(kind), str(identity)) if kind in KINDS and _ID.fullmatch(identity):
                found.named[identity] = kind
            case (str(_), str(body)):
                _take(found, of_first_form(body), sure=True)
    return found


def _take(found: _Found, body: str, sure: bool) -> None:
    entry = readable(body)
    if entry is not None:
        (found.sure if sure else found.doubtful)[entry.id] = entry


def _from_copies(book: Path) -> tuple[KeptPlan | None, dict[str, Entry]]:
    """The last plan and all entries that the kept copies hold; a copy that can't be read adds nothing."""
    plan: KeptPlan | None = None
    entries: dict[str, Entry] = {}
    for kept in copies(book):
        try:
            with copied(kept) as copy:
                entries |= {entry.id: entry for entry in Book(copy).entries()}
                plan = Book(copy).plan() or plan
        except BadBook:
            entries |= _read_off(rows(kept)).sure
    return plan, entries


def _plan_of(book: Path) -> KeptPlan | None:
    try:
        return Book(book).plan()
    except BadBook:
        return None
