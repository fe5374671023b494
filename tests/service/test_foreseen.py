"""Expectations kept in the book: the same as reckoned anew, and reckoned anew when what they rest on changes.
Invented garden and diary, real weather of Dublin Airport."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Mapping, Sequence
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from evenpick.base.days import day_number
from evenpick.base.errors import BadBook
from evenpick.garden.diary import Reading, Sowed
from evenpick.garden.record import Sowing
from evenpick.service import expected as reckoning
from evenpick.service.book import record_of, write
from evenpick.service.expectation import Expected
from evenpick.service.expected import expected
from evenpick.service.foreseen import NAME, foreseen
from evenpick.service.learning import as_kept
from evenpick.service.setups import garden_of
from evenpick.store import book as book_module
from evenpick.store import opening
from evenpick.store.book import Book, book_path

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "bed 3"
cover = "open"
area = "30 m2"
[[wish]]
item = "rocket"
each_week = "250 g"
"""
ON = date(2027, 5, 1)


@pytest.fixture
def garden(garden: Path) -> Path:
    write(garden, [(date(2027, 4, 10), Sowed("radish", "direct", "open", 1.0, ground="bed 3"), ""),
                 (date(2027, 4, 12), Sowed("early-carrot", "direct", "open", 1.2, ground="bed 3"), "")])
    return garden


@pytest.fixture
def grown(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Crops of the sowings grown, as they are."""
    crops: list[str] = []

    def counted(site: Any, choice: Any, sowings: Sequence[Sowing], *rest: Any, **named: Any) -> Any:
        crops.extend(sorted(sowing.fact.crop for sowing in sowings))
        return expected(site, choice, sowings, *rest, **named)

    monkeypatch.setattr(reckoning, "expected", counted)
    return crops


def known(
    garden: Path, readings: Mapping[int, Reading] | None = None, on: date = ON,
) -> Mapping[str, Expected]:
    sowings = list(record_of(garden).sowings.values())
    return foreseen(garden, garden_of(garden), sowings, readings or {}, on, ())


def test_kept_is_what_is_reckoned_and_grows_nothing(garden: Path, grown: list[str]) -> None:
    sowings = list(record_of(garden).sowings.values())
    here = garden_of(garden)
    anew = expected(here.site, here.weather, sowings, {}, ON, as_here=as_kept(()), seedbed=here.seedbed)
    assert known(garden) == anew
    assert grown == ["early-carrot", "radish"]
    assert known(garden) == anew
    assert grown == ["early-carrot", "radish"]


def test_only_what_a_line_is_about_is_grown_again(garden: Path, grown: list[str]) -> None:
    before = known(garden)
    write(garden, [(date(2027, 4, 20), Sowed("rocket", "direct", "open", 1.0, ground="bed 3"), "")])
    after = known(garden)
    assert grown == ["early-carrot", "radish", "rocket"]
    assert before.items() <= after.items()


def test_another_day_reading_or_garden_is_reckoned_anew(garden: Path, grown: list[str]) -> None:
    known(garden)
    known(garden, on=date(2027, 5, 2))
    assert len(grown) == 4
    known(garden, {day_number(ON): Reading(tmin=-3.0)}, on=date(2027, 5, 2))
    assert len(grown) == 6
    garden.write_text(TEXT.replace("dublin-airport", "brize-norton"), encoding="utf-8")
    known(garden, on=date(2027, 5, 2))
    assert len(grown) == 8


def test_a_book_that_another_program_holds_is_answered_from_all_the_same(
    garden: Path, grown: list[str],
) -> None:
    with closing(sqlite3.connect(book_path(garden), isolation_level=None)) as holder:
        holder.execute("BEGIN IMMEDIATE")
        asked = time.monotonic()
        held = known(garden)
        assert time.monotonic() - asked < opening.PATIENCE
    assert known(garden) == held
    assert grown == ["early-carrot", "radish"] * 2


def fill_page(garden: Path) -> None:
    """What the book keeps further has no room on the pages that it has."""
    Book(book_path(garden)).add((), {f"other {number}": "x" * 950 for number in range(4)})


def test_a_full_disk_leaves_it_unwritten(garden: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fill_page(garden)
    connect, pages = opening.connected, book_path(garden).stat().st_size // 4096

    def small(*given: Any) -> sqlite3.Connection:
        db = connect(*given)
        db.execute(f"PRAGMA max_page_count = {pages}")
        return db

    monkeypatch.setattr(opening, "connected", small)
    held = known(garden)
    monkeypatch.undo()
    assert known(garden) == held
    assert Book(book_path(garden)).own(NAME) is not None


def test_a_disk_that_gives_an_error_leaves_it_unwritten(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refusing(db: sqlite3.Connection) -> Any:
        error = sqlite3.OperationalError("disk I/O error")
        error.sqlite_errorcode = sqlite3.SQLITE_IOERR_WRITE
        raise error

    monkeypatch.setattr(book_module, "writing", refusing)
    assert known(garden)
    assert Book(book_path(garden)).own(NAME) is None


def test_a_damaged_book_is_told(garden: Path) -> None:
    """Its list of free pages leads out of the file, which only writing meets."""
    path = book_path(garden)
    fill_page(garden)
    with path.open("r+b") as file:
        file.seek(32)
        file.write((99_999).to_bytes(4) + (5).to_bytes(4))
    with pytest.raises(BadBook, match="damaged"):
        known(garden)
