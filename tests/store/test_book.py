"""The book: added to, whole or not at all, each entry once."""

from __future__ import annotations

from pathlib import Path

import pytest

from evenpick.base.errors import BadBook
from evenpick.garden.diary import Entry, Noted, new_id
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
