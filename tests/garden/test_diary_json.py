"""Every fact that the rules allow comes back from JSON as it was, checked or trusted. Invented."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from invented_diary import ENTRIES, diaries

from evenpick.base.errors import BadDiary
from evenpick.garden.diary import Corrected, Entry, Lost, Undid
from evenpick.garden.diary_json import entry_json, read_entry, read_fact, trusted_entry
from evenpick.garden.effective import judged
from evenpick.garden.record import fold


@given(ENTRIES)
def test_an_entry_comes_back(entry: Entry) -> None:
    text = json.dumps(entry_json(entry))
    assert read_entry(json.loads(text)) == trusted_entry(json.loads(text)) == entry


def test_who_ate_it_and_who_wrote_it_are_two() -> None:
    entry = Entry(f"{1:032x}", 20_000, Lost("x", "eaten", 0.5, "slugs"), "", "Ann")
    assert read_entry(entry_json(entry)) == entry


@pytest.mark.parametrize("inner", [Undid("x"), Corrected("x", 0, Undid("y"))])
def test_a_correction_is_of_something_seen_or_done(inner: Undid | Corrected) -> None:
    with pytest.raises(BadDiary, match="undo it"):
        read_fact({"kind": "corrected", "entry": "x", "day": "2027-01-01",
                   "fact": {"kind": inner.kind, "entry": "y"}})


@given(diaries())
def test_a_diary_says_the_same_in_whatever_order_it_is_read(entries: list[Entry]) -> None:
    """R3 to R5, also where undoings run in a ring."""
    assert fold(entries) == fold(reversed(entries)) == fold(sorted(entries, key=lambda each: each.id))


def test_a_long_chain_of_undoing_is_followed_to_its_end() -> None:
    chain = [Entry(f"{n:032x}", 0, Undid(f"{n - 1:032x}")) for n in range(1, 5000)]
    first = Entry(f"{0:032x}", 0, Lost("x", "eaten", 0.5))
    assert first.id not in judged([first, *chain]).alive
    assert first.id in judged([first, *chain[:-1]]).alive
