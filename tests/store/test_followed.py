"""A book followed gives what the book itself gives, whatever happens to it."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from evenpick.garden.diary import Cleared, Corrected, Entry, Noted, Picked, Reading, Sowed, Undid, new_id
from evenpick.service.book import LATELY, WHOLE
from evenpick.store.book import Book
from evenpick.store.followed import Followed

DAY = 20_800


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return Book(tmp_path / "garden.book")


def same(book: Book, followed: Followed) -> None:
    """Entries in any order: folding puts them in their own."""
    assert set(followed.entries()) == set(book.entries())
    lately = {each.id: each for each in followed.lately(WHOLE, LATELY, DAY)}
    assert lately == {each.id: each for each in book.lately(WHOLE, LATELY, DAY)}


def test_no_book_yet_and_then_one(book: Book) -> None:
    followed = Followed(book.path)
    assert followed.entries() == followed.lately(WHOLE, LATELY, DAY) == ()
    book.add([Entry(new_id(), DAY, Noted(), "first")])
    same(book, followed)


def test_random_lives_are_followed(book: Book) -> None:
    """Ids out of order as from two devices, undoing, correcting, clearing, one and many at a time."""
    dice, followed = random.Random(7), Followed(book.path)
    known: list[Entry] = []
    for _ in range(120):
        made = [_entry(dice, known) for _ in range(dice.choice((1, 1, 1, 3)))]
        book.add(made)
        known += made
        if dice.random() < 0.7:
            same(book, followed)
    same(book, followed)


def _entry(dice: random.Random, known: list[Entry]) -> Entry:
    identity = new_id(1.7e9 + dice.randrange(10_000))
    day = DAY + dice.randrange(-30, 30)
    sown = [each.id for each in known if isinstance(each.fact, Sowed)]
    facts = [Noted(), Reading(rain=1.0), Sowed("radish", "direct", "open", 1.0)]
    if sown:
        about = dice.choice(sown)
        facts += [Picked("radish", about, kg=0.5), Picked("radish", about, kg=0.7), Cleared(about)]
    if known:
        about = dice.choice(known).id
        facts += [Undid(about), Corrected(about, day, Noted())]
    return Entry(identity, day, dice.choice(facts))


def test_a_book_put_in_its_place_is_read_anew(book: Book, tmp_path: Path) -> None:
    followed, other = Followed(book.path), Book(tmp_path / "other.book")
    book.add([Entry(new_id(1.7e9), DAY, Noted(), "one"), Entry(new_id(1.7e9 + 1), DAY, Noted(), "two")])
    same(book, followed)
    other.add([Entry(new_id(1.7e9 + 2), DAY, Noted(), "three"),
               Entry(new_id(1.7e9 + 3), DAY, Noted(), "four")])
    for suffix in ("", "-wal", "-shm"):
        there, here = Path(f"{other.path}{suffix}"), Path(f"{book.path}{suffix}")
        here.unlink(missing_ok=True)
        if there.exists():
            there.rename(here)
    same(book, followed)
