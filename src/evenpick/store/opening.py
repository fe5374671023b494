"""A book opened: its form brought up to date, and what the database says told in words."""

from __future__ import annotations

import json
import os
import sqlite3
import time
import zlib
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from functools import partial
from pathlib import Path

from evenpick.base.errors import BadBook, BadDiary, BookNotNow, Problem
from evenpick.base.language import later, tell
from evenpick.garden.diary import Entry
from evenpick.garden.diary_json import entry_json, read_entry
from evenpick.store.reading import of_first_form, readable

PATIENCE = 10.0
"""seconds to wait for another writer"""
SHORTLY = 0.2
"""seconds to wait where what is written can be had again"""
AGAIN = 0.01
"""seconds between two tries of what the database itself does not wait for"""
OURS = 0x65766E70
"""the application id of a book in the file's head: "evnp" """
UNREADABLE = "\ufffd"
"""stands for bytes that are no text: checksums tell that what holds it is damaged"""
RESCUE = later("Bring together what can be read, and its copies: evenpick check --rescue")
RESCUE_OF = later("Bring together what can be read, and its copies: evenpick check --garden {file} --rescue")


def row_of(entry: Entry) -> tuple[str, str, str, int]:
    """An entry as it is kept: id, kind, body, checksum of the body. BadDiary where it breaks a rule."""
    shape = entry_json(read_entry(entry_json(entry)))
    body = json.dumps(shape, ensure_ascii=False, separators=(",", ":"))
    return entry.id, entry.fact.kind, body, zlib.crc32(body.encode())


def _first(db: sqlite3.Connection) -> None:
    db.execute("CREATE TABLE entries (id TEXT PRIMARY KEY, body TEXT NOT NULL) WITHOUT ROWID, STRICT")


def _kinds_and_plan(db: sqlite3.Connection) -> None:
    """Entries findable by kind, each with a checksum; the kept plan; what only this copy knows."""
    old = [_of_old(body) for (body,) in db.execute("SELECT body FROM entries ORDER BY id")]
    db.execute("DROP TABLE entries")
    db.execute("CREATE TABLE entries (id TEXT PRIMARY KEY, kind TEXT NOT NULL, body TEXT NOT NULL,"
               " crc INTEGER NOT NULL) WITHOUT ROWID, STRICT")
    db.execute("CREATE INDEX entries_kind ON entries (kind)")
    db.execute("CREATE TABLE plan (one INTEGER PRIMARY KEY CHECK (one = 1), made TEXT NOT NULL,"
               " garden TEXT NOT NULL, body TEXT NOT NULL) STRICT")
    db.execute("CREATE TABLE own (name TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID, STRICT")
    db.executemany("INSERT INTO entries VALUES (?, ?, ?, ?)", map(row_of, old))
    db.execute(f"PRAGMA application_id = {OURS}")


def _of_old(body: str) -> Entry:
    entry = readable(of_first_form(body))
    if entry is None:
        raise BadDiary(Problem(tell("an entry in the book can't be read: it is damaged."), tell(RESCUE)))
    return entry


def _bought(db: sqlite3.Connection) -> None:
    """Sowings may be of bought plants; nothing kept before says so, and its rows stay as they are."""


MIGRATIONS: tuple[Callable[[sqlite3.Connection], None], ...] = (_first, _kinds_and_plan, _bought)
"""from each form to the next, each in one transaction with its number; never changed once released"""
VERSION = len(MIGRATIONS)


@contextmanager
def opened(
    path: Path, writing: bool = False, patience: float | None = None
) -> Iterator[sqlite3.Connection]:
    """A connection to a book of the present form; it makes a new book where there is none.

    Raises BadBook, with words and a remedy, for whatever the file or the disk does not allow, also while the
    connection is in use. It waits `patience` seconds for other writers, or PATIENCE.
    """
    wait = PATIENCE if patience is None else patience
    with told(path, writing), closing(_connected(path, writing, wait)) as db:
        yield db


def _connected(path: Path, to_write: bool, patience: float) -> sqlite3.Connection:
    if to_write or writable(path):
        if not writable(path):
            raise BadBook(_read_only(path))
        try:
            return _present(connected(path, patience), path, to_write, patience)
        except sqlite3.OperationalError as error:
            if to_write or _code(error) not in (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR):
                raise
    return _present(only_read(path), path, to_write=False, patience=patience, may_change=False)


def _present(
    db: sqlite3.Connection, path: Path, to_write: bool, patience: float, may_change: bool = True
) -> sqlite3.Connection:
    """A connection to a book that is of the present form now."""
    try:
        old = _form(db, path) < VERSION  # before anything is changed: the file may not be ours
        if old and not may_change:
            what = tell("the book is of an older form and stands where it can't be brought up to date.")
            raise BadBook(Problem(what, tell("Copy it to a folder that can be written."), str(path)))
        if to_write:
            _begin_log(db, patience)
        if old:
            _bring_up(db, path)
    except BaseException:
        db.close()
        raise
    return db


def _begin_log(db: sqlite3.Connection, patience: float) -> None:
    """Have changes written into a log beside the book; a book that has one stays as it is.

    Where another program writes without a log as yet, the database does not wait but refuses at once; so
    would be some of several programs that write first into a new book.
    """
    last = time.monotonic() + patience
    while True:
        try:
            db.execute("PRAGMA journal_mode = WAL")
            return
        except sqlite3.OperationalError as error:
            if _code(error) != sqlite3.SQLITE_BUSY or time.monotonic() > last:
                raise
        time.sleep(AGAIN)


def writable(path: Path) -> bool:
    """Whether a file and its folder can be written, as far as they are there."""
    return all(os.access(each, os.W_OK) for each in (path, path.parent) if each.exists())


def connected(path: Path, patience: float = PATIENCE) -> sqlite3.Connection:
    """A bare connection, for what looks after books of any form."""
    db = sqlite3.connect(path, timeout=patience, isolation_level=None)
    db.text_factory = _text
    db.execute("PRAGMA synchronous = FULL")
    return db


def only_read(path: Path) -> sqlite3.Connection:
    """A bare connection to what lies on a disk that can't be written or has no room left: nobody else changes
    it either, unless a log with something in it lies beside."""
    log = path.with_name(path.name + "-wal")
    still = "" if log.exists() and log.stat().st_size else "&immutable=1"
    uri = f"{path.absolute().as_uri()}?mode=ro{still}"
    db = sqlite3.connect(uri, uri=True, timeout=PATIENCE, isolation_level=None)
    db.text_factory = _text
    return db


_text = partial(str, encoding="utf-8", errors="replace")
"""a damaged text is given as far as it can be read, so that its checksum can be asked"""


def is_damage(error: sqlite3.Error) -> bool:
    """Whether the database says that its file is damaged, not that it can't be had just now."""
    return _code(error) in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


def _code(error: sqlite3.Error) -> int:
    """The kind of an error, without its finer division."""
    return int(getattr(error, "sqlite_errorcode", 0)) & 0xFF


def _form(db: sqlite3.Connection, path: Path) -> int:
    """The form's number; BadBook for a newer one and for another program's file."""
    form, owner, tables = db.execute(  # in one statement, lest another program makes the book meanwhile
        "SELECT (SELECT user_version FROM pragma_user_version),"
        " (SELECT application_id FROM pragma_application_id), (SELECT count(*) FROM sqlite_schema)"
    ).fetchone()
    if owner not in (0, OURS) or (form == 0 and tables):
        what = tell("this database is another program's, no garden's book.")
        raise BadBook(Problem(what, tell("Give the garden another name, or move that file away."), str(path)))
    if form > VERSION:
        what = tell("the book was written by a newer evenpick (form {form}, here {version}).", form=form,
                    version=VERSION)
        raise BadBook(Problem(what, tell("Bring this evenpick up to date."), str(path)))
    return int(form)


def _bring_up(db: sqlite3.Connection, path: Path) -> None:
    """All missing migrations in one transaction: the book is of the old form or of the new one."""
    with writing(db):
        for number, migrate in enumerate(MIGRATIONS[_form(db, path):], _form(db, path) + 1):
            try:
                migrate(db)
            except BadDiary as error:
                raise BadBook(
                    Problem(problem.what, rescue_of(path), str(path)) for problem in error.problems
                ) from error
            db.execute(f"PRAGMA user_version = {number}")


@contextmanager
def writing(db: sqlite3.Connection) -> Iterator[None]:
    """A transaction that no other writer can come between; whole or not at all."""
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        if db.in_transaction:  # a full disk has ended it already
            db.execute("ROLLBACK")
        raise
    db.execute("COMMIT")


@contextmanager
def told(path: Path, writing: bool = False) -> Iterator[None]:
    """What the database complains of as BadBook; a fault in our own statements raises as it is."""
    try:
        yield
    except sqlite3.Error as error:
        problem = _problem(_code(error), path, writing)
        if problem is None:
            raise
        raise (BookNotNow if _code(error) in _PASSING else BadBook)(problem) from error


def _problem(code: int, path: Path, writing: bool) -> Problem | None:
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM):
        return _read_only(path)
    if code == sqlite3.SQLITE_IOERR:
        what = tell("the disk gave an error") + (tell(", and it is not sure that this was written.")
                                                 if writing else ".")
        return Problem(what, tell("See to the disk and its room, then: evenpick check"), str(path))
    if code == sqlite3.SQLITE_CANTOPEN and path.exists() and not os.access(path, os.R_OK):
        what = tell("you may not read the book: it may belong to another user of this machine.")
        mend = tell("Have whoever it belongs to allow it or give you a copy; if it is yours, allow it.")
        return Problem(what, mend, str(path))
    if code not in _WORDS:
        return None
    what, mend = _WORDS[code]
    return Problem(tell(what, seconds=PATIENCE), tell(mend, file=_garden_of(path)), str(path))


def rescue_of(book: Path) -> str:
    """What mends a damaged book, of whichever of several gardens it is."""
    return tell(RESCUE_OF, file=_garden_of(book))


def _garden_of(book: Path) -> Path:
    garden = book.with_suffix(".toml")
    return garden if garden.exists() else book


_PASSING = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED, sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR)
_HELD = (later("another program has held the book for {seconds:g} seconds; nothing was written."),
         later("Try again when it has ended."))
_WORDS = {
    sqlite3.SQLITE_NOTADB: (later("this is no garden's book, or its beginning is damaged."), RESCUE_OF),
    sqlite3.SQLITE_CORRUPT: (later("the book is damaged."), RESCUE_OF),
    sqlite3.SQLITE_BUSY: _HELD,
    sqlite3.SQLITE_LOCKED: _HELD,
    sqlite3.SQLITE_CANTOPEN: (
        later("the book can't be opened."),
        later("Check the name, and that its folder is there and may be written.")),
    sqlite3.SQLITE_FULL: (later("the disk is full; nothing was written."),
                          later("Make room, then write again.")),
}


def _read_only(path: Path) -> Problem:
    mend = tell("Allow writing to it and to its folder, or copy it to a folder that can be written.")
    return Problem(tell("the book can only be read here."), mend, str(path))
