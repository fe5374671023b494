"""Two copies of a diary in which the same thing was written down twice. Invented diaries."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenpick.garden.diary import CameUp, Lost, Noted, Picked, Sowed
from evenpick.report.book import import_page
from evenpick.report.book_json import import_shape
from evenpick.report.terminal import render
from evenpick.service.book import record_of, write
from evenpick.service.exchange import Imported, entries_of, import_garden
from evenpick.service.undoing import undo

TEXT = '[site]\nat = "53.4, -6.2"\n[[ground]]\nname = "beds"\ncover = "open"\narea = "40 m²"\n'
DAY = date(2027, 3, 6)
RADISH = Sowed("radish", "direct", "open", 4.0, ground="beds", planned="p1")


@pytest.fixture
def copies(tmp_path: Path) -> tuple[Path, Path]:
    """The office's book, and the phone's made from it."""
    for name in ("office", "phone"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "garden.toml").write_text(TEXT, encoding="utf-8")
    office, phone = tmp_path / "office" / "garden.toml", tmp_path / "phone" / "garden.toml"
    write(office, [(date(2027, 3, 1), Noted(), "frost in the ground")])
    phone.with_suffix(".book").write_bytes(office.with_suffix(".book").read_bytes())
    return office, phone


def brought(office: Path, phone: Path) -> Imported:
    return import_garden(office, phone.with_suffix(".book"))


def test_one_sowing_written_in_both_is_told_and_one_of_them_can_be_undone(copies: tuple[Path, Path]) -> None:
    """It was counted twice, and 'Nothing is open: no two copies disagree' said of it."""
    office, phone = copies
    (mine,) = write(office, [(DAY, RADISH, "")])
    (theirs,) = write(phone, [(DAY, RADISH, "")])
    write(office, [(date(2027, 5, 3), Picked("radish", sowing=mine.id, kg=1.5), "")])
    write(phone, [(date(2027, 5, 3), Picked("radish", sowing=theirs.id, kg=1.5), ""),
                  (date(2027, 3, 20), CameUp(theirs.id), "")])
    found = brought(office, phone)
    assert found.new == 3
    assert [(a.id, b.id) for a, b in found.doubled[:1]] == [(mine.id, theirs.id)]
    assert [type(a.fact) for a, _ in found.doubled] == [Sowed, Picked]
    said = " ".join(render(import_page(found, entries_of(office))).split())
    assert "TOLD BY BOTH COPIES" in said
    assert f"evenpick log --undo {mine.id}" in said  # one line hangs on ours, two on theirs
    assert len(import_shape(found)["doubled"]) == 2
    assert len(record_of(office).sowings) == 2
    undo(office, mine.id, DAY)
    (left,) = record_of(office).sowings.values()
    assert (left.area, left.picked_kg) == (4.0, 1.5)
    assert brought(office, phone).doubled == ()


def test_the_same_planned_sowing_of_another_amount_or_day_is_told_too(copies: tuple[Path, Path]) -> None:
    office, phone = copies
    write(office, [(DAY, RADISH, "")])
    write(phone, [(date(2027, 3, 8), Sowed("radish", "direct", "open", 3.5, planned="p1"), "")])
    assert len(brought(office, phone).doubled) == 1


def test_what_differs_or_was_there_in_both_before_is_not(copies: tuple[Path, Path]) -> None:
    office, phone = copies
    write(office, [(DAY, RADISH, ""), (DAY, Sowed("pea", "direct", "open", 2.0), ""),
                   (DAY, Picked("leek", kg=1.0), "")])
    write(phone, [(date(2027, 3, 20), RADISH, ""), (DAY, Sowed("pea", "direct", "open", 3.0), ""),
                  (DAY, Picked("leek", kg=1.2), "")])
    assert brought(office, phone).doubled == ()
    assert brought(office, phone).new == 0


def test_two_sowings_alike_on_one_side_are_not_two_of_the_others(copies: tuple[Path, Path]) -> None:
    office, phone = copies
    half = Sowed("pea", "direct", "open", 2.0)
    write(office, [(DAY, half, ""), (DAY, half, "again")])
    write(phone, [(DAY, half, "")])
    assert len(brought(office, phone).doubled) == 1


def test_one_loss_guessed_at_differently_is_told(copies: tuple[Path, Path]) -> None:
    """A half and a quarter lost to the same slugs were taken off one after the other, without a word."""
    office, phone = copies
    (sowing,) = write(office, [(DAY, RADISH, "")])
    phone.with_suffix(".book").write_bytes(office.with_suffix(".book").read_bytes())
    (mine,) = write(office, [(date(2027, 3, 20), Lost(sowing.id, "eaten", 0.5, "slugs"), "")])
    (theirs, frost) = write(phone, [(date(2027, 3, 21), Lost(sowing.id, "eaten", 0.25, "slugs"), ""),
                                    (date(2027, 3, 22), Lost(sowing.id, "frosted", 0.1, "frost"), "")])
    found = brought(office, phone)
    assert [(a.id, b.id) for a, b in found.doubled] == [(mine.id, theirs.id)]
    said = " ".join(render(import_page(found, entries_of(office))).split())
    assert f"evenpick log --undo {theirs.id}" in said
    undo(office, theirs.id, DAY)
    (left,) = record_of(office).sowings.values()
    assert left.left == pytest.approx(0.5 * 0.9)
    assert frost.id in {entry.id for entry in record_of(office).entries}
