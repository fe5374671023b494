"""The book: added to, whole or not at all, each entry once."""

from __future__ import annotations

import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from evenpick.base.errors import BadBook
from evenpick.garden.diary import Cleared, Entry, Noted, Picked, Sowed, Undid, new_id
from evenpick.store.book import Book, Proviso


def test_what_is_added_is_there_and_one_id_is_one_entry(tmp_path: Path) -> None:
    book = Book(tmp_path / "garden.book")
    entries = tuple(Entry(new_id(moment), 20_000, Noted(), f"note {moment}") for moment in (3, 1, 2))
    assert book.entries() == ()
    assert book.add(entries) == 3
    assert book.add(entries[:1]) == 0
    assert book.entries() == tuple(sorted(entries, key=lambda entry: entry.id))


def test_an_id_with_other_words_is_refused_and_nothing_of_the_batch_is_kept(tmp_path: Path) -> None:
    book = Book(tmp_path / "garden.book")
    first = Entry(new_id(1), 20_000, Noted(), "as it was")
    book.add([first])
    with pytest.raises(BadBook):
        book.add([Entry(new_id(2), 20_000, Noted()), Entry(first.id, 20_000, Noted(), "otherwise")])
    assert book.entries() == (first,)


def test_lately_leaves_out_what_was_cleared_long_ago(tmp_path: Path) -> None:
    """But not where the clearing was undone, nor what is recent."""
    book = Book(tmp_path / "garden.book")
    old, back, new = (Entry(new_id(n), day, Sowed("pea", "direct", "open", 1.0))
                      for n, day in ((1, 19_000), (2, 19_001), (3, 20_000)))
    cleared = Entry(new_id(4), 19_100, Cleared(old.id))
    again = Entry(new_id(5), 19_100, Cleared(back.id))
    undone = Entry(new_id(6), 19_101, Undid(again.id))
    early, late = (Entry(new_id(n), day, Picked("pea", new.id)) for n, day in ((7, 19_050), (8, 20_050)))
    book.add([old, back, new, cleared, again, undone, early, late])
    found = book.lately(("sowed", "cleared", "undid"), ("picked",), 19_900)
    assert found == tuple(sorted([back, new, again, undone, late], key=lambda entry: entry.id))


def test_nothing_is_added_where_the_proviso_does_not_hold(tmp_path: Path) -> None:
    """It sees the entries of its kinds, and its transaction is over when it raises."""
    book, seen = Book(tmp_path / "garden.book"), []
    note = Entry(new_id(1), 20_000, Noted())
    sown = Entry(new_id(2), 20_000, Sowed("pea", "direct", "open", 1.0))

    def unsown(entries: tuple[Entry, ...]) -> bool:
        seen.append(entries)
        return not entries

    def never(entries: tuple[Entry, ...]) -> bool:
        raise KeyError

    assert book.add([note]) == 1
    assert book.add([sown], {"name": "first"}, proviso=Proviso(("sowed",), unsown)) == 1
    assert book.add([Entry(new_id(3), 20_000, Noted())], {"name": "second"},
                    proviso=Proviso(("sowed",), unsown)) == 0
    with pytest.raises(KeyError):
        book.add([Entry(new_id(3), 20_000, Noted())], proviso=Proviso(("sowed",), never))
    assert seen == [(), (sown,)]
    assert (book.entries(), book.own("name")) == ((note, sown), "first")
    assert book.add([Entry(new_id(3), 20_000, Noted())]) == 1


def test_no_other_writer_comes_between_a_proviso_and_what_is_added(tmp_path: Path) -> None:
    book = Book(tmp_path / "garden.book")
    book.add([Entry(new_id(), 20_000, Noted())])

    def unsown(entries: tuple[Entry, ...]) -> bool:
        time.sleep(0.02)  # another would be through by then
        return not entries

    def sow(_: int) -> int:
        return book.add([Entry(new_id(), 20_000, Sowed("pea", "direct", "open", 1.0))],
                        proviso=Proviso(("sowed",), unsown))

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(sow, range(8))) == 1
    assert len(book.entries(("sowed",))) == 1
