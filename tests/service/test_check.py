"""A book looked through, its copies, and what is saved of a damaged one. Invented entries."""

from __future__ import annotations

import json
import os
import random
import sqlite3
from datetime import date
from pathlib import Path

import pytest

from evenpick.base.errors import BadBook, BadPlan, BadRequest
from evenpick.garden.diary import Entry, Noted, Picked, SetUp
from evenpick.garden.garden_json import KeptPlan
from evenpick.report.book import check_page
from evenpick.report.terminal import render
from evenpick.service.book import write
from evenpick.service.check import check, rescue, restore
from evenpick.service.exchange import document
from evenpick.service.store_plan import last_plan
from evenpick.store.book import Book, kept_folder
from evenpick.store.kept import COPIES, copies
from spoilt import PAGE, spoil


def entries(count: int, first: int = 0) -> list[Entry]:
    """Lines, with a long text now and then that needs overflow pages."""
    return [Entry(f"{first + n:012x}{n:020x}", 20_000 + n,
                  SetUp(f"{n}" * 9000) if n % 40 == 7 else Picked("carrot", kg=n / 10), f"note {n} é")
            for n in range(count)]


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    Book(tmp_path / "garden.book").add(entries(400))
    return tmp_path / "garden.toml"


def test_a_whole_book_is_copied_once_for_each_diary(garden: Path) -> None:
    first = check(garden)
    assert (first.entries, first.faults, first.by_kind) == (400, (), (("picked", 390), ("set up", 10)))
    assert first.kept is not None
    assert check(garden).kept is None
    for number in range(COPIES + 2):
        write(garden, [(date(2027, 3, 1), Noted(), f"{number}")])
        assert check(garden).kept is not None
    assert len(check(garden).copies) == COPIES
    assert first.kept not in check(garden).copies


def test_going_back_to_a_copy_keeps_what_was_there(garden: Path) -> None:
    book = Book(garden.with_suffix(".book"))
    check(garden)
    book.add(entries(5, first=10**6))
    copy, before = restore(garden, "last")
    assert len(book.entries()) == 400
    assert before is not None
    assert len(Book(before).entries()) == 405
    with pytest.raises(BadRequest, match=copy.stem):
        restore(garden, "yesterday")
    spoil(copy, 1)
    with pytest.raises(BadBook):
        restore(garden, "last")
    assert len(book.entries()) == 400


def test_a_changed_byte_is_found_and_saved_from_the_copy(garden: Path) -> None:
    book = garden.with_suffix(".book")
    check(garden)
    data = book.read_bytes()
    assert data.count(b"note 33 ") == 1
    book.write_bytes(data.replace(b"note 33 ", b"nope 33 "))
    found = check(garden)
    assert len(found.faults) == 1
    assert "not as it was written" in found.faults[0]
    saved = rescue(garden)
    assert (saved.doubtful, saved.lost) == ((), ())
    assert Book(book).entries() == tuple(entries(400))


def test_a_changed_byte_without_a_copy_is_told(garden: Path) -> None:
    book = garden.with_suffix(".book")
    book.write_bytes(book.read_bytes().replace(b"note 33 ", b"nope 33 "))
    assert rescue(garden).doubtful == (entries(400)[33].id,)
    assert len(Book(book).entries()) == 400


def keep_plan_and_spoil_it(garden: Path, *bytes_: tuple[bytes, bytes]) -> Book:
    book = Book(garden.with_suffix(".book"))
    body = json.dumps({"sowings": ["radish " * 30], "pickings": []})
    book.keep_plan(KeptPlan("2027-03-06T10:00:00.000000+00:00", "0123456789abcdef", body))
    assert book.plan() is not None
    with sqlite3.connect(book.path) as db:
        db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    data = book.path.read_bytes()
    for old, new in bytes_:
        assert data.count(old) == 1
        data = data.replace(old, new)
    book.path.write_bytes(data)
    return book


@pytest.mark.parametrize("spoilt", [
    (b'{"sowings": ["radish radish', b'{"sowings": ["radish \xffadish'),  # no text any more
    (b'{"sowings": ["radish radish', b'{"sowings": ["radish cadish'),  # still JSON
])
def test_a_changed_byte_of_the_plan_is_found_and_the_diary_saved(
    garden: Path, spoilt: tuple[bytes, bytes]
) -> None:
    book = keep_plan_and_spoil_it(garden, spoilt)
    assert check(garden).faults == ("the kept plan is not as it was written",)
    with pytest.raises(BadPlan, match="evenpick plan"):
        book.plan()
    with pytest.raises(BadPlan):
        document(garden)
    assert last_plan(garden) is None
    saved = rescue(garden)
    assert (saved.read, saved.doubtful, saved.lost) == (400, (), ())
    assert book.entries() == tuple(entries(400))
    assert book.plan() is None
    assert check(garden).faults == ()


def test_a_plan_made_again_takes_the_place_of_a_damaged_one(garden: Path) -> None:
    """Also where its moment can't be read any more, and seems later."""
    book = keep_plan_and_spoil_it(garden, (b"+00:00012345", b"+00:\xff0012345"))
    again = KeptPlan("2027-03-06T11:00:00.000000+00:00", "0123456789abcdef", "{}")
    with pytest.raises(BadPlan):
        book.plan()
    book.keep_plan(again)
    assert book.plan() == again
    assert check(garden).faults == ()


def test_a_byte_of_an_entry_that_is_no_text_is_found(garden: Path) -> None:
    book = garden.with_suffix(".book")
    check(garden)
    book.write_bytes(book.read_bytes().replace(b"note 33 ", b"not\xff 33 "))
    assert ["not as it was written" in fault for fault in check(garden).faults] == [True]
    rescue(garden)
    assert Book(book).entries() == tuple(entries(400))


@pytest.mark.parametrize("seed", range(8))
def test_of_damaged_pages_all_else_is_saved_and_the_lost_are_named(garden: Path, seed: int) -> None:
    book = garden.with_suffix(".book")
    pages = book.stat().st_size // PAGE
    spoil(book, *random.Random(seed).sample(range(1, pages + 1), 3))
    saved = rescue(garden)
    found = Book(book).entries()
    assert set(found) <= set(entries(400))
    assert len(found) == saved.read
    assert len(found) + len(saved.lost) <= 400
    assert len(found) >= 400 - 3 * 45  # rows of a page, or the long texts that ran over it
    assert check(garden).faults == ()
    assert saved.kept is not None
    assert saved.kept.exists()


def test_lost_entries_are_named_by_the_index(garden: Path) -> None:
    book = garden.with_suffix(".book")
    db = sqlite3.connect(book)
    root = db.execute("SELECT rootpage FROM sqlite_schema WHERE name = 'entries_kind'").fetchone()[0]
    db.close()
    leaf = next(page for page in range(2, 40) if page != root and book.read_bytes()[(page - 1) * PAGE] == 0x0A
                and b"note" in book.read_bytes()[(page - 1) * PAGE : page * PAGE])
    spoil(book, leaf)
    saved = rescue(garden)
    assert saved.read + len(saved.lost) == 400
    assert saved.lost
    assert all("picked, written 1970" in line or "set up" in line for line in saved.lost)


def test_with_a_copy_nothing_is_lost_though_the_file_is_gone_or_empty(garden: Path) -> None:
    book = garden.with_suffix(".book")
    check(garden)
    book.write_bytes(b"")
    with pytest.raises(BadBook, match="--rescue"):
        Book(book).entries()
    assert rescue(garden).copied == 400
    book.unlink()
    with pytest.raises(BadBook, match="--restore"):
        check(garden)
    assert rescue(garden).copied == 400


def test_entries_in_the_log_alone_are_saved(garden: Path, tmp_path: Path) -> None:
    """As after a kill, with the file's head gone too."""
    book = garden.with_suffix(".book")
    holder = sqlite3.connect(book)
    holder.execute("SELECT count(*) FROM entries").fetchone()
    Book(book).add(entries(3, first=10**6))
    there = tmp_path / "after" / "garden.book"
    there.parent.mkdir()
    for end in ("", "-wal"):
        there.with_name(there.name + end).write_bytes(book.with_name(book.name + end).read_bytes())
    holder.close()
    spoil(there, 1)
    assert rescue(there).read == 403


def test_what_never_was_a_book_stays_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "garden.book"
    path.write_bytes(b"not a book" * 1000)
    with pytest.raises(BadBook, match="no entry can be read"):
        rescue(path)
    assert path.read_bytes() == b"not a book" * 1000
    assert not kept_folder(path).exists()
    assert copies(path) == ()


def test_where_nothing_can_be_written_the_book_is_looked_through_all_the_same(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: mode != os.W_OK)
    found = check(garden)
    assert (found.entries, found.faults, found.kept, found.only_read) == (400, (), None, True)
    assert not kept_folder(garden.with_suffix(".book")).exists()
    assert "Copies kept: 0; none was made now, for here the book can only" in render(check_page(found))
    monkeypatch.undo()
    assert check(garden).kept is not None
    monkeypatch.setattr(os, "access", lambda path, mode: mode != os.W_OK)
    found = check(garden)
    assert (len(found.copies), found.kept) == (1, None)
    assert "none was made now" in render(check_page(found))
