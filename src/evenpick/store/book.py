"""One SQLite file a garden: entries are only ever added (docs/design/record.md).

A connection lasts one call, so that several threads and several programs may write at once.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from evenpick.base.errors import BadBook, Problem
from evenpick.garden.diary import Entry
from evenpick.garden.diary_json import entry_json, read_entry

SUFFIX = ".book"
SCHEMA = "CREATE TABLE entries (id TEXT PRIMARY KEY, body TEXT NOT NULL) WITHOUT ROWID, STRICT"
VERSION = 1
PATIENCE = 10.0
"""seconds to wait for another writer"""


def book_path(garden: Path) -> Path:
    """The book of a garden file, beside it."""
    return garden.with_suffix(SUFFIX)


@dataclass(frozen=True, slots=True)
class Book:
    path: Path

    def entries(self) -> tuple[Entry, ...]:
        """Every entry in the order of its writing; none where there is no book yet."""
        if not self.path.exists():
            return ()
        with self._open() as db:
            rows = db.execute("SELECT body FROM entries ORDER BY id").fetchall()
        return tuple(read_entry(json.loads(body)) for (body,) in rows)

    def add(self, entries: Iterable[Entry]) -> int:
        """Add entries, all or none, and return how many were new. One that is there already is the same entry
        sent twice; BadBook where its id is there with other words. When this returns they are on the disk."""
        rows = [(entry.id, json.dumps(entry_json(entry), ensure_ascii=False)) for entry in entries]
        with self._open() as db, _writing(db):
            new = 0
            for identity, body in rows:
                there = db.execute("SELECT body FROM entries WHERE id = ?", (identity,)).fetchone()
                if there is None:
                    db.execute("INSERT INTO entries VALUES (?, ?)", (identity, body))
                    new += 1
                elif json.loads(there[0]) != json.loads(body):
                    what = f"the entry {identity} is there already with other words."
                    raise BadBook(Problem(what, "Correct the first by a new entry.", str(self.path)))
        return new

    @contextmanager
    def _open(self) -> Iterator[sqlite3.Connection]:
        with closing(sqlite3.connect(self.path, timeout=PATIENCE, isolation_level=None)) as db:
            db.execute("PRAGMA journal_mode = WAL")
            db.execute("PRAGMA synchronous = FULL")
            version = db.execute("PRAGMA user_version").fetchone()[0]
            if version == 0:
                with _writing(db):
                    if db.execute("PRAGMA user_version").fetchone()[0] == 0:
                        db.execute(SCHEMA)
                        db.execute(f"PRAGMA user_version = {VERSION}")
            elif version > VERSION:
                what = f"the book was written by a newer evenpick (form {version}, here {VERSION})."
                raise BadBook(Problem(what, "Bring this evenpick up to date.", str(self.path)))
            yield db


@contextmanager
def _writing(db: sqlite3.Connection) -> Iterator[None]:
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        db.execute("ROLLBACK")
        raise
    db.execute("COMMIT")
