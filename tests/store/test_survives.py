"""Some dozens of the trials whose thousands stand in authorities/book.md."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[2] / "authorities"))

import book as study
from evenpick.garden.diary import Entry, Noted
from evenpick.store.book import Book

FEW = {"killed": 24, "power cut": 24, "writes cut short": 6, "disk full": 6}


@pytest.mark.parametrize("name", study.STUDIES)
def test_nothing_acknowledged_is_lost(name: str) -> None:
    tally = study.trials(FEW[name], study.STUDIES[name][1], seed=1)
    assert tally.wrong == []
    assert tally.trials == FEW[name]


def test_the_study_can_fail(tmp_path: Path) -> None:
    """An entry that was acknowledged but is not there, and half a writing, are found."""
    kept, gone = (Entry(f"{n:032x}", 20_000, Noted()) for n in (1, 2))
    Book(tmp_path / "garden.book").add([kept])
    sums = {each.id: study.opening.row_of(each)[3] for each in (kept, gone)}
    said = study.Told((sums,), ((kept.id, gone.id),))
    assert list(study.faults(tmp_path / "garden.book", [], said)) == ["lost", "by half"]


def test_a_log_by_half_is_not_being_copied(tmp_path: Path) -> None:
    """A writing may leave a page as it was: the file holds it without any copying."""
    page = b"p" * study.PAGE
    (tmp_path / "garden.book").write_bytes(page)

    def log(size_after: int) -> bytes:
        head = (1).to_bytes(4, "big") + size_after.to_bytes(4, "big")
        return bytes(study.LOG_HEAD) + head.ljust(study.FRAME_HEAD, b"s") + page

    assert not study.copying(tmp_path / "garden.book", log(size_after=0))
    assert study.copying(tmp_path / "garden.book", log(size_after=1))
