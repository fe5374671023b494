"""The garden file and the book: versions, changes by hand, changes from elsewhere. Invented gardens."""

from __future__ import annotations

import multiprocessing
from datetime import date
from multiprocessing.synchronize import Barrier
from pathlib import Path

import pytest

from evenpick.base.errors import BadGarden, BadRequest
from evenpick.garden.changes import changes
from evenpick.garden.diary import Noted
from evenpick.service.book import write
from evenpick.service.exchange import import_garden
from evenpick.service.settle import open_conflicts, settle
from evenpick.service.setups import (
    garden_of,
    look,
    setup_notes,
    setup_text,
    take_version,
    versions,
)
from evenpick.store.book import Book, book_path

FIRST = ('[site]\nat = "51.5, -1.25"\n[[ground]]\nname = "bed"\ncover = "open"\narea = "20 m²"\n'
         '[[wish]]\nitem = "leeks"\neach_week = "2 portions"\n')
SECOND, THIRD = FIRST.replace("20 m²", "30 m²"), FIRST.replace("2 portions", "3 portions")
NOTE = [(date(2027, 3, 1), Noted(), "")]


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text(FIRST, encoding="utf-8")
    write(path, NOTE)
    return path


def copy_of(garden: Path) -> Path:
    path = garden.parent / "other" / "garden.toml"
    path.parent.mkdir()
    for end in (".toml", ".book"):
        path.with_suffix(end).write_bytes(garden.with_suffix(end).read_bytes())
    return path


def change(garden: Path, text: str) -> None:
    """By hand, and taken into the book."""
    garden.write_text(text, encoding="utf-8")
    write(garden, ())


def test_a_change_by_hand_is_a_new_version(garden: Path) -> None:
    garden.write_text(SECOND, encoding="utf-8")
    assert look(garden).changed_by_hand
    write(garden, NOTE)
    first, second = versions(garden)
    assert second.changes == ("ground 'bed' area: 20 m² → 30 m²",)
    assert (first.stands, second.stands, second.in_file, second.after) == (False, True, True, first.id)
    write(garden, NOTE)
    assert len(versions(garden)) == 2


def test_a_byte_order_mark_is_no_change(garden: Path) -> None:
    garden.write_text(FIRST, encoding="utf-8-sig")
    assert garden_of(garden).area("open") == 20
    write(garden, NOTE)
    assert len(versions(garden)) == 1


def _first(garden: Path, together: Barrier) -> None:
    together.wait()
    write(garden, NOTE)


def test_of_several_first_writers_one_takes_the_file_in(tmp_path: Path) -> None:
    fork = multiprocessing.get_context("fork")
    for number in range(10):
        garden = tmp_path / f"{number}" / "garden.toml"
        garden.parent.mkdir()
        garden.write_text(FIRST, encoding="utf-8")
        together = fork.Barrier(4)
        writers = [fork.Process(target=_first, args=(garden, together)) for _ in range(4)]
        for writer in writers:
            writer.start()
        for writer in writers:
            writer.join()
        assert [writer.exitcode for writer in writers] == [0] * 4
        assert len(versions(garden)) == 1
        assert len(Book(book_path(garden)).entries([Noted.kind])) == 4


def test_the_book_alone_is_a_garden(garden: Path) -> None:
    book = book_path(garden)
    garden.write_text(SECOND, encoding="utf-8")
    assert (setup_text(garden), setup_text(book)) == (SECOND, FIRST)
    garden.unlink()
    assert setup_text(garden) == FIRST
    assert garden_of(book).grounds[0].area == 20
    with pytest.raises(BadGarden, match="can't be opened"):
        setup_text(garden.with_name("none.toml"))


def test_a_copy_that_did_not_change_the_file_gets_the_new_one(garden: Path) -> None:
    other = copy_of(garden)
    change(other, SECOND)
    came = import_garden(garden, book_path(other))
    assert (came.garden_written, came.conflicts) == (True, ())
    assert garden.read_text(encoding="utf-8") == SECOND


def test_files_changed_in_two_copies_are_a_conflict_and_neither_is_lost(garden: Path) -> None:
    other = copy_of(garden)
    garden.write_text(SECOND, encoding="utf-8")
    change(other, THIRD)
    came = import_garden(garden, book_path(other))
    assert len(came.conflicts) == 1
    assert garden.read_text(encoding="utf-8") == SECOND
    assert {each.text for each in versions(garden)} == {FIRST, SECOND, THIRD}
    settle(garden, 1, "a" if look(garden).versions[came.conflicts[0].stands.id].text == THIRD else "b")
    assert open_conflicts(garden) == ()
    assert garden.read_text(encoding="utf-8") == THIRD == setup_text(book_path(garden))


def test_a_file_that_is_an_older_version_is_told_and_left(garden: Path) -> None:
    change(garden, SECOND)
    garden.write_text(FIRST, encoding="utf-8")
    write(garden, NOTE)
    assert len(versions(garden)) == 2
    assert "another version" in setup_notes(garden)[0]
    take_version(garden, 1)
    assert (setup_notes(garden), setup_text(book_path(garden))) == ((), FIRST)
    with pytest.raises(BadRequest, match="no version 9"):
        take_version(garden, 9)


def test_changes_are_told_in_words() -> None:
    assert changes(FIRST, FIRST) == ()
    assert changes(FIRST, FIRST + "# a note\n") == ("notes or layout only",)
    assert changes(FIRST, "[[") == ("one of the two can't be read as TOML",)
    more = FIRST + '[[wish]]\nitem = "peas"\neach_week = "1 kg"\n'
    assert changes(FIRST, more) == ("wish 'peas' each_week: 1 kg added",)
    assert changes(more, FIRST) == ("wish 'peas' each_week: 1 kg taken out",)
