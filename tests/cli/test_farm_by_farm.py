"""What each farm of a cooperative answers for itself, asked of all; their books rescued and settled. Invented
farms."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.garden.diary import Corrected, Entry, Lost, Sowed, new_id
from evenpick.service.book import keep, record_of, write
from evenpick.service.check import Checked, check
from evenpick.service.store_plan import keep_answer
from evenpick.store.book import Book, book_path
from spoilt import spoil

RADISH = Sowed("radish", "direct", "open", 1.0)
Run = Callable[..., tuple[int, str, str]]
COOPERATIVE = """
[cooperative]
name = "Two Rivers"
[[farm]]
name = "valley"
garden = "valley/garden.toml"
[[farm]]
name = "hill"
garden = "hill.toml"
[[wish]]
item = "radish"
each_week = "100 g"
"""
FARM = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "beds"
cover = "open"
area = "8 m2"
"""


@pytest.fixture
def coop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "valley").mkdir()
    valley = f'cooperative = "../coop.toml"\n{FARM}'
    (tmp_path / "valley" / "garden.toml").write_text(valley, encoding="utf-8")
    (tmp_path / "hill.toml").write_text(f'cooperative = "coop.toml"\n{FARM}', encoding="utf-8")
    (tmp_path / "coop.toml").write_text(COOPERATIVE, encoding="utf-8")
    write(tmp_path / "hill.toml", [(date(2027, 3, 6), Sowed("radish", "direct", "open", 2.0), "")])
    return tmp_path / "coop.toml"


def test_damaged_books_of_all_farms_are_rescued_together(coop: Path, run: Run) -> None:
    """It said of a shared book that nothing in it could be read, and left a farm's that could be."""
    hill, valley = coop.parent / "hill.book", coop.parent / "valley" / "garden.book"
    write(coop.parent / "valley" / "garden.toml", [(date(2027, 3, 6), RADISH, "")])
    keep_answer(coop, "now", {"the": "plan"})
    code, page, _ = run("check", "--garden", str(coop), "--rescue")
    assert code == 0
    assert "None of the books is damaged" in page
    assert len(list(coop.parent.glob("*.kept/*"))) == 0
    check(coop)
    untouched = valley.read_bytes()
    for book in (hill, book_path(coop)):
        spoil(book, 2, 3)
    code, page, _ = run("check", "--garden", coop.name, "--rescue")
    said = " ".join(page.split())
    assert code == 0
    assert "HILL Its file: hill.toml" in said
    assert f"make it again: evenpick plan --garden {coop.name}" in said
    assert "VALLEY" not in said
    assert valley.read_bytes() == untouched
    assert [entry.fact.kind for entry in Book(hill).entries()].count("sowed") == 1
    assert check(coop).farms[1].whole
    assert isinstance(found := check(coop), Checked)
    assert not found.faults


def test_what_cant_be_rescued_at_one_farm_keeps_nothing_from_the_others(coop: Path, run: Run) -> None:
    write(coop.parent / "valley" / "garden.toml", [(date(2027, 3, 6), RADISH, "")])
    check(coop)
    (coop.parent / "valley" / "garden.book").write_bytes(b"\0" * 4096)
    for copy in (coop.parent / "valley" / "garden.kept").iterdir():
        copy.unlink()
    spoil(coop.parent / "hill.book", 2, 3)
    code, text, _ = run("check", "--garden", str(coop), "--rescue", "--json")
    valley, hill = json.loads(text)["books"]
    assert code == 2
    assert "garden.book" in valley["problem"]
    assert "read" not in valley
    assert hill["read"] + hill["copied"] == 2


def test_what_copies_say_differently_is_told_and_settled_at_the_farm(coop: Path, run: Run) -> None:
    """Asked of the cooperative it said that nothing is open, whatever was open at a farm."""
    hill = coop.parent / "hill.toml"
    (sown,) = (entry.id for entry in Book(book_path(hill)).entries() if isinstance(entry.fact, Sowed))
    for area in (3.0, 4.0):
        fact = Corrected(sown, day_number(date(2027, 3, 6)), Sowed("radish", "direct", "open", area), None)
        keep(hill, [Entry(new_id(), day_number(date(2027, 3, 7)), fact, "", "")])
    code, page, _ = run("settle", "--garden", coop.name)
    said = " ".join(page.split())
    assert code == 0
    assert "VALLEY Conflicts Its file: valley/garden.toml Nothing is open" in said
    assert "HILL: CONFLICT 1" in said
    assert "Settle it with: evenpick settle --garden hill.toml 1 --take a" in said
    code, _, said = run("settle", "--garden", coop.name, "1", "--take", "a")
    assert code == 2
    assert "Type the same with --garden valley/garden.toml or --garden hill.toml." in said


def test_no_spreadsheet_of_a_cooperative_without_its_farms(coop: Path, run: Run) -> None:
    """It wrote one that looked like a garden's, with nobody's diary."""
    code, _, said = run("export", str(coop.parent / "all.xlsx"), "--garden", str(coop))
    assert code == 2
    assert "a cooperative keeps no diary" in said
    assert f"--garden {coop.parent / 'hill.toml'}." in said
    assert not (coop.parent / "all.xlsx").exists()


@pytest.mark.parametrize("command", ["water", "losses", "lessons", "tin", "weather"])
def test_what_a_farm_answers_for_itself_is_asked_of_all(coop: Path, run: Run, command: str) -> None:
    """It sent who asked to the farms' files, one by one."""
    code, page, _ = run(command, "--garden", coop.name, "--on", "2027-05-01")
    said = " ".join(page.split())
    assert code == 0
    assert said.startswith("Two Rivers")
    assert said.index("Its file: valley/garden.toml") < said.index("Its file: hill.toml")
    code, text, _ = run(command, "--garden", str(coop), "--on", "2027-05-01", "--json")
    shape = json.loads(text)
    _, own, _ = run(command, "--garden", str(coop.parent / "hill.toml"), "--on", "2027-05-01", "--json")
    assert shape["cooperative"] == "Two Rivers"
    assert shape["farms"][1] == {"name": "hill", "file": "hill.toml", **json.loads(own)}


def test_what_is_to_be_typed_names_the_farm(coop: Path, run: Run) -> None:
    (sown,) = (entry.id for entry in Book(book_path(coop.parent / "hill.toml")).entries()
               if isinstance(entry.fact, Sowed))
    write(coop.parent / "hill.toml", [(date(2027, 4, 6), Lost(sown, "eaten", 0.5), "")])
    _, page, _ = run("losses", "--garden", coop.name, "--on", "2027-05-01")
    said = " ".join(page.split())
    assert "evenpick losses --garden hill.toml LOSS" in said
    code, _, _ = run("losses", "x", "--garden", str(coop), "--on", "2027-05-01")
    assert code == 2


SOWN = ("--sow", "2027-05-01")
ABOUT_A_PLACE = pytest.mark.parametrize("typed", [
    ("windows", "--crop", "radish"), ("outlook", "--crop", "radish", *SOWN), ("why", "radish", *SOWN),
    ("water", "--crop", "radish", *SOWN, "--on", "2027-05-01"), ("saving", "radish"),
], ids=lambda typed: typed[0])


@ABOUT_A_PLACE
def test_what_is_asked_of_a_place_is_asked_of_all_farms(coop: Path, run: Run, typed: tuple[str, ...]) -> None:
    """It said that this is the file of a cooperative, and which commands answer for all."""
    code, page, _ = run(*typed, "--garden", str(coop))
    assert code == 0
    assert page.startswith("Two Rivers\n")
    assert page.index("\nVALLEY\n") < page.index("\nHILL\n")
    code, text, _ = run(*typed, "--garden", str(coop), "--json")
    _, own, _ = run(*typed, "--garden", str(coop.parent / "hill.toml"), "--json")
    assert code == 0
    assert json.loads(text)["farms"][1] == {"name": "hill", "file": "hill.toml", **json.loads(own)}


def test_a_damaged_book_hides_nothing_of_the_other_farms(coop: Path, run: Run) -> None:
    """One farm's damaged book was all that anybody was told."""
    hill = coop.parent / "hill.book"
    spoil(hill, 2, 3)
    code, page, _ = run("losses", "--garden", coop.name, "--on", "2027-05-01")
    said = " ".join(page.split())
    assert code == 2
    assert "VALLEY Losses Its file:" in said
    assert "Nothing was lost in the last four months" in said
    assert "HILL Its file: hill.toml hill.book: the book is damaged." in said
    assert "evenpick check --garden hill.toml --rescue" in said
    code, text, _ = run("losses", "--garden", str(coop), "--on", "2027-05-01", "--json")
    valley, damaged = json.loads(text)["farms"]
    assert code == 2
    assert "problem" not in valley
    assert set(damaged) == {"name", "file", "problem"}


def test_a_wrong_question_is_told_once(coop: Path, run: Run) -> None:
    code, page, said = run("why", "no such crop", *SOWN, "--garden", str(coop))
    assert (code, page) == (2, "")
    assert said.count("evenpick:") == 1


def test_files_are_named_as_seen_from_here(
    coop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """They were named as seen from the cooperative's folder, and could not be typed."""
    away = coop.parent / "elsewhere"
    away.mkdir()
    monkeypatch.chdir(away)
    _, page, _ = run("losses", "--garden", "../coop.toml", "--on", "2027-05-01")
    assert "Its file: ../valley/garden.toml" in page
    monkeypatch.chdir(coop.parent / "valley")
    (coop.parent / "valley" / "garden.toml").rename(coop.parent / "valley" / "my garden.toml")
    coop.write_text(COOPERATIVE.replace("valley/garden.toml", "valley/my garden.toml"), encoding="utf-8")
    _, _, said = run("log", "sowed 2 m radish", "--yes", "--garden", "../coop.toml")
    assert 'Type the same with --garden "my garden.toml" or --garden ../hill.toml.' not in said
    assert 'Type the same with --garden "../valley/my garden.toml" or --garden ../hill.toml.' in said


def test_export_writes_every_farm_as_it_lies_here(coop: Path, run: Run) -> None:
    out = coop.parent / "out"
    code, page, _ = run("export", str(out), "--garden", str(coop))
    assert code == 0
    assert page.count("Written:") == 9
    assert (out / "coop.toml").read_text(encoding="utf-8") == COOPERATIVE
    assert (out / "valley" / "garden.json").is_file()
    assert "radish" in (out / "hill-diary.csv").read_text(encoding="utf-8")
    assert run("losses", "--garden", str(out / "coop.toml"), "--on", "2027-05-01")[0] == 0
    spoil(coop.parent / "hill.book", 2, 3)
    code, page, said = run("export", str(coop.parent / "again"), "--garden", str(coop))
    assert code == 2
    assert page.count("Written:") == 5
    assert said.startswith("hill: ")


@pytest.mark.parametrize(("command", "told"), [
    (("log", "sowed 2 m radish", "--yes", "--on", "2027-03-06"), ""),
    (("today", "--on", "2027-04-20"), "evenpick today --garden hill.toml --done JOB"),
    (("losses", "--on", "2027-04-20"), "evenpick losses --garden hill.toml LOSS"),
    (("losses", "zzzz", "--on", "2027-04-20"), "Take a mark of: evenpick losses --garden hill.toml"),
    (("settle", "4", "--take", "a"), "evenpick settle --garden hill.toml"),
    (("ground", "--on", "2027-04-20"), "evenpick plan --garden coop.toml"),
])
def test_what_is_to_be_typed_names_the_file_that_was_asked(
    coop: Path, run: Run, command: tuple[str, ...], told: str
) -> None:
    """A farm's page told 'evenpick today --done JOB', which is about garden.toml."""
    write(coop.parent / "hill.toml", [(date(2027, 4, 10), Lost(
        next(iter(record_of(coop.parent / "hill.toml").sowings)), "eaten", 0.5), "")])
    _, page, said = run(*command, "--garden", "hill.toml")
    told_all = " ".join((page + said).split())
    assert told in told_all
    assert "hill.toml --garden" not in told_all


def test_of_all_farms_a_loss_is_asked_about_at_its_farm(coop: Path, run: Run) -> None:
    """The day of all farms told 'evenpick losses LOSS' under a farm's name."""
    sowing = next(iter(record_of(coop.parent / "hill.toml").sowings))
    write(coop.parent / "hill.toml", [(date(2027, 4, 10), Lost(sowing, "eaten", 0.5), "")])
    keep_answer(coop, "of before", {})
    _, page, _ = run("today", "--garden", "coop.toml", "--on", "2027-04-12")
    assert "evenpick losses --garden hill.toml LOSS" in " ".join(page.split())


def test_of_the_usual_file_nothing_is_named(coop: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(coop.parent / "valley")
    assert "evenpick log \"sowed" in run("log")[1]
    assert "evenpick log --garden hill.toml \"sowed" not in run("log", "--garden", "../hill.toml")[1]
