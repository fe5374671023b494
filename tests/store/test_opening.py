"""Books of older and newer forms, files that are none, and disks that refuse. Invented entries."""

from __future__ import annotations

import json
import multiprocessing
import os
import sqlite3
import threading
from contextlib import closing
from pathlib import Path

import pytest

from evenpick.base.errors import BadBook, BadDiary
from evenpick.garden.diary import Entry, Lost, Noted, SetUp, Sowed, new_id
from evenpick.garden.garden_json import KeptPlan
from evenpick.store import opening
from evenpick.store.book import Book, kept_folder
from evenpick.store.rescue import rescue

SOWN = Entry(new_id(1), 20_000, Sowed("carrot", "direct", "open", 1.2))
EATEN = Entry(new_id(2), 20_010, Lost(SOWN.id, "eaten", 0.5, "slugs"), "half gone", "Ann")


@pytest.fixture
def book(tmp_path: Path) -> Book:
    made = Book(tmp_path / "garden.book")
    made.add([SOWN, EATEN])
    return made


def older(path: Path, form: int) -> None:
    """A book as the first form wrote it, by that form's own statements."""
    db = sqlite3.connect(path)
    db.execute("CREATE TABLE entries (id TEXT PRIMARY KEY, body TEXT NOT NULL) WITHOUT ROWID, STRICT")
    for entry in (SOWN, EATEN):
        kind = {"crop": "carrot", "way": "direct", "cover": "open", "area": 1.2, "kind": "sowed"}
        lost = {"sowing": SOWN.id, "cause": "eaten", "share": 0.5, "by": "slugs", "kind": "lost",
                "note": "half gone"}
        body = {"id": entry.id, "day": "2024-10-04", **(kind if entry is SOWN else lost)}
        db.execute("INSERT INTO entries VALUES (?, ?)", (entry.id, json.dumps(body)))
    db.execute(f"PRAGMA user_version = {form}")
    db.commit()
    db.close()


def test_a_book_of_the_first_form_is_brought_up(tmp_path: Path) -> None:
    book = Book(tmp_path / "garden.book")
    older(book.path, 1)
    sown, eaten = book.entries()
    assert sown.fact == SOWN.fact
    assert (eaten.fact, eaten.note) == (EATEN.fact, "half gone")
    assert book.entries(["lost"]) == (eaten,)
    assert book.add([eaten]) == 0


@pytest.mark.parametrize("body", ["{\"id\": \"\x01", "3", "{}"])
def test_a_spoilt_book_of_the_first_form_says_so_and_is_rescued(tmp_path: Path, body: str) -> None:
    """A power cut garbled one in the midst of being brought up (authorities/book.py, trial 1000 and on)."""
    book = Book(tmp_path / "garden.book")
    older(book.path, 1)
    with sqlite3.connect(book.path) as db:
        db.execute("UPDATE entries SET body = ? WHERE id = ?", (body, EATEN.id))
    before = book.path.read_bytes()
    with pytest.raises(BadBook, match="--rescue") as told:
        book.entries()
    assert str(book.path) in str(told.value)
    assert book.path.read_bytes() == before
    rescue(book.path)
    assert [entry.fact for entry in book.entries()] == [SOWN.fact]


def test_a_migration_that_fails_leaves_the_old_form(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    book = Book(tmp_path / "garden.book")
    older(book.path, 1)

    def fails(db: sqlite3.Connection) -> None:
        db.execute("CREATE TABLE half (done)")
        raise RuntimeError

    monkeypatch.setattr(opening, "MIGRATIONS", (*opening.MIGRATIONS, fails))
    monkeypatch.setattr(opening, "VERSION", len(opening.MIGRATIONS))
    with pytest.raises(RuntimeError):
        book.entries()
    with sqlite3.connect(book.path) as db:
        assert db.execute("PRAGMA user_version").fetchone() == (1,)
        tables = db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
    assert tables == [("entries",)]
    monkeypatch.undo()
    assert len(book.entries()) == 2


def test_a_newer_book_is_refused_and_not_touched(book: Book) -> None:
    with sqlite3.connect(book.path) as db:
        db.execute(f"PRAGMA user_version = {opening.VERSION + 1}")
    before = book.path.read_bytes()
    for use in (book.entries, lambda: book.add([SOWN])):
        with pytest.raises(BadBook, match="newer evenpick"):
            use()
    assert book.path.read_bytes() == before


def test_other_files_are_told_from_books(tmp_path: Path) -> None:
    text, other = Book(tmp_path / "text.book"), Book(tmp_path / "other.book")
    text.path.write_text("no database at all, only many words " * 9, encoding="utf-8")
    with pytest.raises(BadBook, match="no garden's book"):
        text.entries()
    with sqlite3.connect(other.path) as db:
        db.execute("CREATE TABLE songs (name)")
    with pytest.raises(BadBook, match="another program's"):
        other.add([SOWN])
    with pytest.raises(BadBook, match="can't be opened"):
        Book(tmp_path / "no folder" / "garden.book").add([SOWN])


def test_a_damaged_book_says_so(book: Book) -> None:
    with sqlite3.connect(book.path) as db:
        root = db.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'entries'").fetchone()[0]
    with book.path.open("r+b") as file:
        file.seek((root - 1) * 4096)
        file.write(b"\x55" * 4096)
    with pytest.raises(BadBook, match=r"damaged.*--rescue"):
        book.entries()


def test_an_entry_that_cannot_be_read_is_named(book: Book) -> None:
    with sqlite3.connect(book.path) as db:
        db.execute("UPDATE entries SET body = replace(body, 'carrot', 'car\"rot') WHERE id = ?", (SOWN.id,))
    with pytest.raises(BadBook, match=SOWN.id):
        book.entries()


def test_an_emptied_file_is_no_new_book_where_copies_are_kept(book: Book) -> None:
    book.path.write_bytes(b"")
    kept_folder(book.path).mkdir()
    for use in (book.entries, book.plan, lambda: book.add([SOWN])):
        with pytest.raises(BadBook, match="empty file"):
            use()


def test_a_full_disk_writes_nothing(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    connect = opening.connected

    def small(path: Path, patience: float) -> sqlite3.Connection:
        db = connect(path, patience)
        db.execute("PRAGMA max_page_count = 9")
        return db

    monkeypatch.setattr(opening, "connected", small)
    with pytest.raises(BadBook, match="disk is full"):
        book.add([Entry(new_id(3), 20_000, Noted()), Entry(new_id(4), 20_000, SetUp("x" * 100_000))])
    assert book.entries() == (SOWN, EATEN)
    assert book.add([Entry(new_id(3), 20_000, Noted())]) == 1


def test_a_book_held_too_long_is_told(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, "PATIENCE", 0.1)
    holder = sqlite3.connect(book.path, isolation_level=None)
    holder.execute("BEGIN IMMEDIATE")
    try:
        with pytest.raises(BadBook, match="another program has held"):
            book.add([Entry(new_id(3), 20_000, Noted())])
        assert len(book.entries()) == 2
    finally:
        holder.close()


def test_a_log_is_begun_when_another_program_has_written_to_its_end(book: Book) -> None:
    """The database itself does not wait there; so several first writers of a book refused each other."""
    with closing(sqlite3.connect(book.path)) as db:
        db.execute("PRAGMA journal_mode = DELETE")
    holder = sqlite3.connect(book.path, isolation_level=None, check_same_thread=False)
    holder.execute("BEGIN IMMEDIATE")
    ending = threading.Timer(0.3, holder.close)
    ending.start()
    try:
        assert book.add([Entry(new_id(3), 20_000, Noted())]) == 1
    finally:
        ending.join()


def test_a_disk_that_can_only_be_read(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: mode != os.W_OK)
    assert book.entries() == (SOWN, EATEN)
    with pytest.raises(BadBook, match="can only be read"):
        book.add([Entry(new_id(3), 20_000, Noted())])
    assert not book.path.with_name("garden.book-wal").exists()


def test_a_disk_without_any_room_left_can_still_be_read(book: Book, monkeypatch: pytest.MonkeyPatch) -> None:
    """Reading needs room for the shared memory beside the log; tried by hand on a full file system."""

    def no_room(path: Path, patience: float) -> sqlite3.Connection:
        error = sqlite3.OperationalError("disk I/O error")
        error.sqlite_errorcode = sqlite3.SQLITE_IOERR_SHMSIZE
        raise error

    monkeypatch.setattr(opening, "connected", no_room)
    assert book.entries() == (SOWN, EATEN)
    with pytest.raises(BadBook, match="not sure that this was written"):
        book.add([Entry(new_id(3), 20_000, Noted())])


def test_what_breaks_a_rule_is_not_kept(book: Book) -> None:
    with pytest.raises(BadDiary):
        book.add([Entry(new_id(3), 20_000, Noted()), Entry("7", 20_000, Noted())])
    with pytest.raises(BadDiary):
        book.add([Entry(new_id(3), 20_000, Noted(), "\ud800")])
    assert len(book.entries()) == 2


def test_the_plan_made_last_stays(book: Book) -> None:
    late, early = (KeptPlan(f"2027-01-0{n}T00:00:00.000000+00:00", "digest", "{}") for n in (2, 1))
    assert book.plan() is None
    for plan in (late, early):
        book.keep_plan(plan)
        assert book.plan() == late


def _adds(path: Path, writer: int) -> None:
    for number in range(12):
        Book(path).add([Entry(f"{number:012x}{writer:020x}", 20_000, Noted(), "x" * 500)])


def test_several_writers_at_once_even_while_the_book_is_made(tmp_path: Path) -> None:
    path = tmp_path / "garden.book"
    makers = [multiprocessing.get_context("fork").Process(target=_adds, args=(path, n)) for n in range(4)]
    for maker in makers:
        maker.start()
    for maker in makers:
        maker.join()
    assert [maker.exitcode for maker in makers] == [0] * 4
    assert len(Book(path).entries()) == 48


def test_a_book_that_may_not_be_read_says_whose_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It was said to check the name of a file that stood where it was looked for."""
    book = tmp_path / "garden.book"
    book.touch()

    def not_yours(*about: object, **more: object) -> None:
        error = sqlite3.OperationalError("unable to open database file")
        error.sqlite_errorcode = sqlite3.SQLITE_CANTOPEN  # type: ignore[attr-defined]
        raise error

    monkeypatch.setattr(opening.os, "access", lambda *about: False)  # who runs the tests may read everything
    monkeypatch.setattr(sqlite3, "connect", not_yours)
    with pytest.raises(BadBook, match="may belong to another user"):
        Book(book).entries()
