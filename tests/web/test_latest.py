"""Answers are kept while what they rest on stays, and made once for all who ask."""

from __future__ import annotations

import os
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import fields
from pathlib import Path

import pytest

from evenpick.base.errors import BadGarden
from evenpick.garden.garden import WeatherChoice
from evenpick.service.setups import fetched_path, garden_of
from evenpick.store.book import book_path
from evenpick.web.latest import TOO_YOUNG_NS, Latest


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text("one", encoding="utf-8")
    path.with_suffix(".book").write_text("one", encoding="utf-8")
    return path


def test_an_answer_is_kept_until_the_book_changes_the_set_up_until_the_file_does(garden: Path) -> None:
    latest, made = Latest(garden), []

    def ask(question: str, set_up: bool) -> None:
        latest.get(question, lambda: made.append(question), set_up)

    for _ in range(2):
        ask("jobs", False)
        ask("garden", True)
    assert made == ["jobs", "garden"]
    garden.with_suffix(".book").write_text("two more", encoding="utf-8")
    ask("jobs", False)
    ask("garden", True)
    assert made == ["jobs", "garden", "jobs"]
    garden.write_text("three more words", encoding="utf-8")
    ask("garden", True)
    assert made == ["jobs", "garden", "jobs", "garden"]


def test_what_was_written_just_now_is_waited_for_and_made_once(garden: Path) -> None:
    latest, made = Latest(garden), []
    with ThreadPoolExecutor(8) as pool:
        for _ in range(3):
            garden.with_suffix(".book").write_text("x" * (len(made) + 5), encoding="utf-8")
            list(pool.map(lambda _: latest.get("jobs", lambda: made.append(1)), range(16)))
    assert len(made) == 3


def test_two_writings_in_one_tick_of_the_clock_are_told_apart(garden: Path) -> None:
    """The second leaves the file with the moment and the size of the first: it was not read before that."""
    latest, book = Latest(garden), garden.with_suffix(".book")
    book.write_text("aaa", encoding="utf-8")
    moment = time.time_ns()
    os.utime(book, ns=(moment, moment))
    read: list[str] = []

    def answer() -> str:
        read.append(book.read_text(encoding="utf-8"))
        assert time.time_ns() - moment >= TOO_YOUNG_NS
        return read[-1]

    assert latest.get("book", answer) == "aaa"


def test_a_garden_without_a_file_rests_on_its_book(tmp_path: Path) -> None:
    garden, made = tmp_path / "garden.toml", []
    latest = Latest(garden)
    for words in ("a", "ab"):
        garden.with_suffix(".book").write_text(words, encoding="utf-8")
        latest.get("garden", lambda: made.append(1), set_up=True)
    assert len(made) == 2


def test_of_a_cooperative_every_farms_files_count(garden: Path) -> None:
    farm = garden.with_name("hill.toml")
    farm.write_text("one", encoding="utf-8")
    latest, made = Latest(garden, (farm,)), []
    for _ in range(2):
        latest.get("described", lambda: made.append("described"), set_up=True)
        latest.get("plan", lambda: made.append("plan"))
    assert made == ["described", "plan"]
    farm.with_suffix(".book").write_text("two more", encoding="utf-8")
    latest.get("described", lambda: made.append("described"), set_up=True)
    latest.get("plan", lambda: made.append("plan"))
    assert made == ["described", "plan", "plan"]
    farm.write_text("three more words", encoding="utf-8")
    latest.get("described", lambda: made.append("described"), set_up=True)
    assert made == ["described", "plan", "plan", "described"]


BESIDE = {"record": 'weather = "./own.csv"', "normals": 'normals = "own.csv"',
          "readings": 'readings = "own.csv"', "diary": "", "fetched": ""}
"""by field of the weather's choice: what in [site] names its file"""


def whole(folder: Path, kind: str) -> tuple[Path, Path]:
    """A garden whose weather is of one kind, and the file that it is read from."""
    garden, more = folder / "plot.toml", "" if kind in ("diary", "fetched") else f"{BESIDE[kind]}\n"
    files = {"diary": book_path(garden), "fetched": fetched_path(garden)}
    file = files.get(kind, folder / "own.csv")
    if kind != "diary":
        file.write_text("one", encoding="utf-8")
    garden.write_text(f'[site]\nat = "51.5, -1.25"\n{more}[[ground]]\nname = "bed"\ncover = "open"\n'
                      'area = "9 m2"\n[[wish]]\nitem = "rocket"\neach_week = "1 kg"\n', encoding="utf-8")
    assert getattr(garden_of(garden).weather, kind) == file
    return garden, file


def test_every_file_of_the_weather_is_asked_after() -> None:
    assert {each.name for each in fields(WeatherChoice) if "Path" in str(each.type)} == set(BESIDE)


@pytest.mark.parametrize("kind", BESIDE)
@pytest.mark.parametrize("farms", [False, True])
def test_an_answer_is_made_again_when_its_weather_changes(tmp_path: Path, kind: str, farms: bool) -> None:
    garden, file = whole(tmp_path, kind)
    together = tmp_path / "coop.toml"
    together.write_text('[[farm]]\nname = "plot"\ngarden = "plot.toml"\n', encoding="utf-8")
    latest, made = Latest(together, (garden,)) if farms else Latest(garden), []
    for words in ("", "two more", "three more words"):
        if words:
            file.write_text(words, encoding="utf-8")
        for _ in range(2):
            latest.get("windows", lambda said=words: made.append(said))
    assert made == ["", "two more", "three more words"]


def test_another_weather_file_is_followed_when_the_garden_names_it(tmp_path: Path) -> None:
    garden, first = whole(tmp_path, "record")
    latest, made = Latest(garden), []
    latest.get("windows", lambda: made.append("first"))
    second = first.with_name("other.csv")
    second.write_text("one", encoding="utf-8")
    garden.write_text(garden.read_text(encoding="utf-8").replace("own.csv", "other.csv"), encoding="utf-8")
    latest.get("windows", lambda: made.append("second"))
    second.write_text("two more", encoding="utf-8")
    latest.get("windows", lambda: made.append("second again"))
    first.write_text("three more words", encoding="utf-8")
    latest.get("windows", lambda: made.append("nobody's"))
    assert made == ["first", "second", "second again"]


def test_a_weather_file_that_goes_and_comes_back_is_noticed(tmp_path: Path) -> None:
    garden, file = whole(tmp_path, "record")
    latest, told = Latest(garden), []
    for there in (True, False, True):
        if there:
            file.write_text("one and more", encoding="utf-8")
        else:
            file.unlink()
        try:
            told.append(latest.get("garden", lambda: garden_of(garden), set_up=True).weather.record)
        except BadGarden:
            told.append(None)
    file.write_text("two", encoding="utf-8")
    latest.get("windows", lambda: told.append(file))
    file.write_text("three", encoding="utf-8")
    latest.get("windows", lambda: told.append(file))
    assert told == [file, None, file, file, file]
