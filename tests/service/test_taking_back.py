"""What is taken back: the last act whatever it was, a settlement whole, an entry with its corrections."""

from __future__ import annotations

import shutil
import time
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.errors import BadBook
from evenpick.garden.diary_asking import SO
from evenpick.service.book import record_of
from evenpick.service.exchange import import_garden
from evenpick.service.job_answers import answer_job, undo_job
from evenpick.service.log import commit, commit_correction, correct, latest, understand
from evenpick.service.log_file import commit_lines, read_lines
from evenpick.service.settle import open_conflicts, settle
from evenpick.service.setups import add, take_version, versions
from evenpick.service.today import today
from evenpick.service.undoing import undo
from evenpick.store.book import Book, book_path
from evenpick.store.checking import examine
from evenpick.store.opening import opened
from evenpick.store.rescue import rescue

TEXT = """
[site]
at = "51.5, -1.25"
[[ground]]
name = "long bed"
cover = "open"
area = "20 m²"
[[wish]]
item = "carrots"
crops = ["early-carrot"]
each_week = "1 kg"
"""
SPRING = date(2026, 4, 10)


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "mine" / "garden.toml"
    path.parent.mkdir()
    path.write_text(TEXT, encoding="utf-8")
    return path


def write(garden: Path, line: str, day: date = SPRING) -> str:
    return commit(garden, understand(garden, line, day))[-1].id


def put_right(garden: Path, entry: str, line: str) -> None:
    answer, identity = correct(garden, entry, line, SPRING)
    commit_correction(garden, identity, answer)


def metres(garden: Path) -> list[int]:
    return sorted(round(sowing.area / 0.2) for sowing in record_of(garden).sowings.values())


def test_the_last_act_may_be_a_correction(garden: Path) -> None:
    """The line before was taken back, and the wrong correction stood."""
    first = write(garden, "sowed 3 m carrots")
    write(garden, "rain 5 mm")
    put_right(garden, first, "sowed 4 m carrots")
    (gone,) = undo(garden, "", SPRING)
    assert "put right as: sown in place" in gone.words
    assert metres(garden) == [3]
    assert undo(garden, "", SPRING)[0].words == "weather: rain 5 mm"


def test_an_entry_put_right_and_then_undone_is_no_conflict(garden: Path) -> None:
    """Nobody else has a copy, and two were said to disagree."""
    first = write(garden, "sowed 3 m carrots")
    put_right(garden, first, "sowed 4 m carrots")
    put_right(garden, first, "sowed 5 m carrots")
    (gone,) = undo(garden, first, SPRING)
    assert "5 m" in gone.words
    assert open_conflicts(garden) == ()
    assert latest(garden) == ()


@pytest.fixture
def settled(garden: Path, tmp_path: Path) -> Path:
    """A garden in which two copies put one line right in two ways, and which is settled by the other's."""
    first = write(garden, "sowed 3 m carrots")
    shutil.copytree(garden.parent, tmp_path / "other")
    other = tmp_path / "other" / garden.name
    put_right(garden, first, "sowed 4 m carrots")
    put_right(other, first, "sowed 5 m carrots")
    write(other, "rain 3 mm")
    import_garden(garden, other.with_suffix(".book"))
    (conflict,) = open_conflicts(garden)
    settle(garden, 1, "b")
    assert conflict.about == first
    assert open_conflicts(garden) == ()
    return garden


def test_a_settlement_is_undone_whole(settled: Path) -> None:
    """The line written last was taken back in its place."""
    undo(settled, "", SPRING)
    assert len(open_conflicts(settled)) == 1
    assert [each.words for each in latest(settled)][-1] == "weather: rain 3 mm"


def test_a_clock_set_back_writes_after_what_is_written(garden: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Lines were listed before older ones, and the older one undone."""
    write(garden, "sowed 3 m carrots")
    monkeypatch.setattr(time, "time", lambda: 1.0e9)  # 2001, as after a flat battery
    for line in ("rain 5 mm", "sowed 4 m carrots"):
        day = SPRING if "rain" in line else date(2026, 4, 11)
        commit(garden, understand(garden, line, day, {"0:doubt:clock": SO}))
    assert latest(garden)[-1].words.startswith("sown in place: Early carrot, 0.8")
    undo(garden, "", SPRING)
    assert metres(garden) == [3]
    assert latest(garden)[-1].words == "weather: rain 5 mm"


def test_a_file_of_lines_is_one_act_and_taken_back_as_one(garden: Path, tmp_path: Path) -> None:
    """A notebook of a year read with the wrong year could be undone a line at a time only."""
    write(garden, "rain 5 mm")
    notebook = tmp_path / "notebook.csv"
    notebook.write_text("2026-04-02,sowed 3 m carrots\n2026-04-03,rain 2 mm\n2026-04-04,sowed 4 m carrots\n",
                        encoding="utf-8")
    made = read_lines(garden, notebook, SPRING).entries
    commit_lines(garden, made)
    assert [each.id for each in made] == sorted(each.id for each in made)
    undo(garden, made[1].id, SPRING)
    gone = undo(garden, "", SPRING)
    assert {each.id for each in gone} == {made[0].id, made[2].id}
    assert [each.words for each in latest(garden)] == ["weather: rain 5 mm"]
    assert undo(garden, "", SPRING)[0].words == "weather: rain 5 mm"


def test_a_set_up_taken_in_by_a_clock_set_back_is_after_the_others(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It was listed as the first of the versions."""
    write(garden, "rain 5 mm")
    monkeypatch.setattr(time, "time", lambda: 1.0e9)
    garden.write_text(TEXT.replace("20 m²", "30 m²"), encoding="utf-8")
    add(garden, ())
    assert ["30 m²" in each.text for each in versions(garden)] == [False, True]
    take_version(garden, 1)
    assert [each.stands for each in versions(garden)] == [False, False, True]


def test_an_answer_to_a_job_by_a_clock_set_back_is_after_what_is_written(
    garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What it wrote was listed, and undone, before older lines; an undoing of it came before the answer."""
    write(garden, "sowed 3 m carrots", date(2026, 3, 1))
    monkeypatch.setattr(time, "time", lambda: 1.0e9)
    (job,) = (each for each in today(garden, SPRING).jobs if each.kind == "look")
    newest = Book(book_path(garden)).newest()
    said = answer_job(garden, job.id, "done", SPRING)
    assert all(each.id > newest for each in said)
    assert "came up" in latest(garden)[-1].words
    newest = Book(book_path(garden)).newest()
    assert all(each.id > newest for each in undo_job(garden, job.id, SPRING))


def test_rows_without_a_body_are_damage_and_no_crash(garden: Path) -> None:
    """So SQLite gives the rows of a page whose end was cut off. All that read them ended in a traceback."""
    write(garden, "rain 5 mm")
    gone = write(garden, "sowed 3 m carrots")
    book = garden.with_suffix(".book")
    with opened(book, writing=True) as db:
        db.execute("PRAGMA writable_schema = ON")
        db.execute("UPDATE sqlite_schema SET sql = replace(sql, 'body TEXT NOT NULL', 'body TEXT')")
        db.commit()
    with opened(book, writing=True) as db:
        db.execute("UPDATE entries SET body = NULL WHERE id = ?", (gone,))
        db.commit()
    with pytest.raises(BadBook, match=f"{gone} can't be read"):
        Book(book).entries()
    assert any(gone in fault for fault in examine(book).faults)
    assert rescue(book).read == 2
    assert len(Book(book).entries()) == 2


def test_a_clock_that_was_set_back_is_asked_about(garden: Path) -> None:
    """Lines of today were kept as of years ago."""
    today = date.today()
    write(garden, "sowed 3 m carrots", today)
    long_ago = date(2001, 9, 9)
    question = understand(garden, "rain 5 mm", long_ago, now=long_ago).question
    assert question is not None
    assert question.text.endswith("Is the clock right?")
    assert understand(garden, "rain 5 mm", long_ago, {question.key: SO}, long_ago).outcome == "understood"
    assert understand(garden, "rain 5 mm", long_ago, now=today).outcome == "understood"


def test_a_garden_tried_ahead_of_the_clock_is_not_asked_about_it(garden: Path) -> None:
    ahead = date.today() + timedelta(30)
    write(garden, "sowed 3 m carrots", ahead)
    assert understand(garden, "rain 5 mm", date.today()).outcome == "understood"
