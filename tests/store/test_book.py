"""The book: added to, whole or not at all, each entry once."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenpick.base.errors import BadBook
from evenpick.garden.diary import Cleared, Entry, Noted, Picked, Sowed, Undid, new_id
from evenpick.store.book import Book


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
