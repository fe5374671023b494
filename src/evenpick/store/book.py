"""One SQLite file a garden: entries are only ever added (docs/design/record.md, docs/formats/book.md).

A connection lasts one call, so that several threads and several programs may write at once.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from evenpick.base.days import day_date
from evenpick.base.errors import BadBook, BadPlan, BookNotNow, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Entry, new_id
from evenpick.garden.diary_json import trusted_entry
from evenpick.garden.garden_json import KeptPlan
from evenpick.store.opening import SHORTLY, opened, rescue_of, row_of, writable, writing
from evenpick.store.plan_row import KEEP_OWN, Damaged, plan_in, put_plan
from evenpick.store.reading import readable

SUFFIX = ".book"
LATELY = """
WITH changed AS (
    SELECT coalesce(json_extract(body, '$.entry'), json_extract(body, '$.correction.entry')) AS entry
    FROM entries WHERE kind IN ('undid', 'corrected')
), gone AS (
    SELECT json_extract(body, '$.sowing') AS sowing FROM entries
    WHERE kind = 'cleared' AND json_extract(body, '$.day') < ? AND id NOT IN (SELECT entry FROM changed)
)
SELECT id, body FROM entries
WHERE (kind IN ({some}) OR (kind IN ({late}) AND json_extract(body, '$.day') >= ?))
    AND id NOT IN (SELECT sowing FROM gone)
    AND coalesce(json_extract(body, '$.sowing'), '') NOT IN (SELECT sowing FROM gone)
ORDER BY id
"""

Besides: TypeAlias = tuple[Sequence[Entry], Mapping[str, str]]
"""entries, and what this copy alone is to know"""


def book_path(garden: Path) -> Path:
    """The book of a garden file, beside it; a book is its own."""
    return garden.with_suffix(SUFFIX)


@dataclass(frozen=True, slots=True)
class Since:
    """Of a book at one moment."""

    file: int
    """number of the file"""
    count: int
    """of all its entries"""
    last: str
    """the highest of their ids"""
    new: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Proviso:
    """What must be so for entries to be added. It is asked in the transaction that adds them, where no other
    writer can come between."""

    kinds: Collection[str]
    """of the entries that it is about"""
    holds: Callable[[tuple[Entry, ...]], bool]
    """where it does not, nothing is added; it may also raise, to say why not"""


@dataclass(frozen=True, slots=True)
class Book:
    path: Path

    def entries(self, kinds: Collection[str] | None = None) -> tuple[Entry, ...]:
        """Every entry, or those of some kinds, in the order of writing; none where there is no book yet."""
        if not self._there():
            return ()
        with opened(self.path) as db:
            if kinds is not None:
                return self._of(db, kinds)
            found = db.execute("SELECT id, body FROM entries ORDER BY id").fetchall()
        return self._read(found)

    def _of(self, db: sqlite3.Connection, kinds: Collection[str]) -> tuple[Entry, ...]:
        marks = ", ".join("?" * len(kinds))
        return self._read(db.execute(f"SELECT id, body FROM entries WHERE kind IN ({marks}) ORDER BY id",
                                     tuple(kinds)).fetchall())

    def lately(self, kinds: Collection[str], recent: Collection[str], since: int) -> tuple[Entry, ...]:
        """Entries of some kinds, those in `recent` only if they are about the day number `since` or later.

        What is told of a sowing that was cleared before that day is left out, unless the clearing was undone
        or corrected.
        """
        if not self._there():
            return ()
        some, late = (", ".join("?" * len(each)) for each in (kinds, recent))
        day = day_date(since).isoformat()
        with opened(self.path) as db:
            found = db.execute(LATELY.format(some=some, late=late), (day, *kinds, *recent, day)).fetchall()
        return self._read(found)

    def since(self, last: str) -> Since:
        """How far the book has come, and the entries whose ids are after `last`."""
        if not self._there():
            return Since(0, 0, "", ())
        with opened(self.path) as db:
            (count,) = db.execute("SELECT count(*) FROM entries").fetchone()
            newest = db.execute("SELECT id FROM entries ORDER BY id DESC LIMIT 1").fetchone()
            rows = db.execute("SELECT id, body FROM entries WHERE id > ? ORDER BY id", (last,)).fetchall()
        return Since(self.path.stat().st_ino, count, newest[0] if newest else "", self._read(rows))

    def _read(self, rows: Sequence[tuple[str, str]]) -> tuple[Entry, ...]:
        try:
            shapes = json.loads(f"[{','.join([body for _, body in rows])}]")
            return tuple([trusted_entry(shape) for shape in shapes])
        except (ValueError, TypeError, KeyError, AttributeError) as error:
            raise BadBook(
                Problem(tell("the entry {identity} can't be read.",
                             identity=identity), rescue_of(self.path), str(self.path))
                for identity, body in rows if readable(body) is None
            ) from error

    def add(
        self, entries: Iterable[Entry], own: Mapping[str, str] | None = None, plan: KeptPlan | None = None,
        proviso: Proviso | None = None, besides: Callable[[], Besides] | None = None,
    ) -> int:
        """Add entries, all or none, and return how many were new; with them what this copy alone is to know,
        and a plan unless one made later is kept. With a proviso that does not hold, none of it.

        What hangs on what the book holds comes from `besides`: it is asked when no other writer can come
        between any more, may read the book, and what it gives is added too.

        An entry that is there already is the same sent twice; BadBook where its id is there with other words,
        BadDiary where an entry breaks a rule. When this returns they are on the disk.
        """
        rows = [row_of(entry) for entry in entries]
        if not (rows or own or plan or besides):
            return 0
        self._there()
        with opened(self.path, writing=True) as db, writing(db):
            if proviso is not None and not proviso.holds(self._of(db, proviso.kinds)):
                return 0
            more, known = besides() if besides else ((), {})
            db.executemany(KEEP_OWN, {**(own or {}), **known}.items())
            for entry in more:
                self._added(db, row_of(entry))
            if plan is not None:
                put_plan(db, plan)
            return sum(self._added(db, row) for row in rows)

    def _added(self, db: sqlite3.Connection, row: tuple[str, str, str, int]) -> bool:
        there = db.execute("SELECT body FROM entries WHERE id = ?", row[:1]).fetchone()
        if there is None:
            db.execute("INSERT INTO entries VALUES (?, ?, ?, ?)", row)
        elif there[0] != row[2]:
            what = tell("the entry {row} is there already with other words.", row=row[0])
            raise BadBook(Problem(what, tell("Correct the first by a new entry."), str(self.path)))
        return there is None

    def newest(self) -> str:
        """The highest id; '' where there is none."""
        return self.since("f" * 32).last

    def next_id(self) -> str:
        """An id for what is written here now: after all that the book has, whatever the clock says."""
        return new_id(after=self.newest())

    def has(self, identity: str) -> bool:
        """Whether an entry of that id is in the book."""
        if not self._there():
            return False
        with opened(self.path) as db:
            found = db.execute("SELECT 1 FROM entries WHERE id = ?", (identity,)).fetchone()
        return found is not None

    def plan(self) -> KeptPlan | None:
        """The plan kept; None if there is none. BadPlan where it is not as it was written."""
        if not self._there():
            return None
        with opened(self.path) as db:
            try:
                return plan_in(db)
            except Damaged as error:
                raise BadPlan(Problem(tell("the plan kept in the book is damaged."),
                                      tell("Make the plan again: evenpick plan"), str(self.path))) from error

    def keep_plan(self, plan: KeptPlan) -> None:
        """Keep a plan in place of an older one; one made later stays."""
        self.add((), plan=plan)

    def own(self, name: str) -> str | None:
        """What this copy alone knows by a name; never merged (see `add`)."""
        if not self._there():
            return None
        with opened(self.path) as db:
            row = db.execute("SELECT value FROM own WHERE name = ?", (name,)).fetchone()
        return None if row is None else str(row[0])

    def keep_if_it_can(self, name: str, value: str) -> None:
        """Keep what this copy alone knows and can reckon again: left unwritten where there is no book yet,
        where it can only be read, is held by another program, or has no room. BadBook where it is damaged."""
        if not (self._there() and writable(self.path)):
            return
        with suppress(BookNotNow), opened(self.path, True, SHORTLY) as db, writing(db):
            db.execute(KEEP_OWN, (name, value))

    def _there(self) -> bool:
        """Whether there is a book; BadBook for an empty file where copies show that it was not always so."""
        if not self.path.exists():
            return False
        if self.path.stat().st_size == 0 and kept_folder(self.path).is_dir():
            what = tell("the book is an empty file, though copies of it are kept.")
            raise BadBook(Problem(what, rescue_of(self.path), str(self.path)))
        return True


def kept_folder(book: Path) -> Path:
    """Where the copies of a book are kept, beside it."""
    return book.with_suffix(".kept")

