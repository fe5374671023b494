"""Answers are kept while what they rest on stays, and made once for all who ask."""

from __future__ import annotations

import os
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

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
