"""`evenpick log` in a real book; without a terminal, and with one made believe."""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

Run = Callable[..., tuple[int, str, str]]

LINE = "sowed 4 m parsnips bed"
LATER = ("--on", "2027-12-31")
ON = ("--on", "2027-04-10")


class Terminal(io.StringIO):
    """Standard input that says it is a terminal."""

    def isatty(self) -> bool:
        return True


def test_without_a_terminal_it_only_shows(run: Run, garden: Path) -> None:
    code, out, err = run("log", LINE, *ON)
    assert (code, out) == (0, "Sat, Apr 10, 2027  sown in place: Parsnip, 12.9 sq ft (13.1 ft of row), bed\n")
    assert err == "Nothing was written. Write it with --yes.\n"
    assert not garden.with_suffix(".book").exists()


def test_yes_writes_and_the_last_entries_are_listed(run: Run, garden: Path) -> None:
    assert run("log", LINE, "--yes", *ON)[0] == 0
    code, out, _ = run("log")
    assert code == 0
    assert "Sat, Apr 10, 2027  sown in place: Parsnip" in out
    short = out.split()[0]
    assert run("log", "--correct", short, "sowed 3 m parsnips bed", "--yes", *ON)[0] == 0
    assert "9.84 ft of row" in run("log")[1]
    assert run("log", "--undo", short)[1].startswith(f"undone  {short}")
    assert "Nothing is in the diary yet" in run("log")[1]


def test_plain_options_tell_the_same(run: Run, garden: Path) -> None:
    said = run("log", LINE, *ON)[1]
    assert run("log", "--did", "sowed", "--crop", "parsnip", "--row", "4 m", "--bed", "bed", *ON)[1] == said


def test_a_line_may_begin_with_a_minus(run: Run, garden: Path) -> None:
    """'-2 C last night' was 'No such option -2', for a shell's reasons that no grower knows."""
    code, out, _ = run("log", "-2 C last night", *ON)
    assert (code, out) == (0, "Sat, Apr 10, 2027  weather: lowest 28.4 °F\n")
    assert "weather: lowest 26.6 °F" in run("log", *ON, "--yes", "-3 C this morning")[1]
    assert "No such option" in run("log", "-x", *ON)[2]
    assert run("log", "--did", "picked", "--crop", "parsnip", "--weight", "-2 kg", *ON)[0] == 2


def test_a_question_without_a_terminal(run: Run, garden: Path) -> None:
    code, out, err = run("log", "sowed 4 m beans bed", *ON)
    assert (code, out) == (2, "")
    assert '--answer "1:crop=broad-bean"' in err
    code, out, err = run("log", "sowed 4 m beans bed", "--answer", "1:crop=broad-bean", *ON)
    assert code == 0
    assert "Fava bean" in out


MORE = "sowed 500 m early carrots"  # 100 m² at 20 cm between rows; the bed has 20 m²


def test_more_than_all_the_ground_is_asked_about(
    run: Run, garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    code, out, err = run("log", MORE, *ON)
    assert (code, out) == (2, "")
    assert "is more than all the open ground there is (215 sq ft)" in err
    monkeypatch.setattr(sys, "stdin", Terminal("1\ny\n"))
    assert run("log", MORE, *ON)[0] == 0
    assert "Bunching carrot" in run("log")[1]


def test_with_yes_it_is_written_and_said(run: Run, garden: Path) -> None:
    code, out, _ = run("log", MORE, "--yes", *ON)
    assert code == 0
    assert "is more than all the open ground there is (215 sq ft)" in out
    shape = json.loads(run("log", MORE, "--yes", "--json", *ON)[1])
    assert (len(shape["doubts"]), len(shape["written"])) == (2, 1)  # and it is there already
    assert "more than" not in run("log", "sowed 90 m early carrots", "--yes", *ON)[1]


def test_a_file_is_held_against_the_ground_too_unless_it_is_said_to_be_so(run: Run, garden: Path) -> None:
    file = garden.with_name("lines.csv")
    file.write_text(f"2027-04-10,{MORE}\n", encoding="utf-8")
    code, _, err = run("log", "--csv", str(file), *LATER)
    assert (code, "more than all the open ground" in err) == (2, True)
    out = run("log", "--csv", str(file), *LATER, "--yes")[1].splitlines()
    assert out[0].startswith("Sat, Apr 10, 2027  sown in place:")
    assert out[1].startswith("Line 1: ")
    assert "more than all the open ground" in out[1]  # taken as so, and that is told
    assert out[-1] == "1 entry understood. 1 written."


def test_days_to_come_in_a_file_are_asked_about(
    run: Run, garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A line is; a file of them was taken without a word."""
    monkeypatch.setattr("evenpick.cli.to_come.clock", lambda: date(2027, 4, 9))
    file = garden.with_name("lines.csv")
    file.write_text("2027-04-09,sowed 4 m parsnips bed\n2027-12-01,parsnips up\n", encoding="utf-8")
    code, _, err = run("log", "--csv", str(file), *LATER)
    assert (code, "line 2" in err, "line 1" in err) == (2, True, False)
    assert "is still to come" in err
    assert "--yes" in err
    out = run("log", "--csv", str(file), *LATER, "--yes")[1]
    assert "Line 2: December 1 2027 is still to come" in out
    assert out.endswith("2 entries understood. 2 written.\n")


def test_a_job_answered_on_a_day_to_come_is_asked_about(
    run: Run, garden: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert run("log", LINE, "--yes", *ON)[0] == 0
    monkeypatch.setattr("evenpick.cli.to_come.clock", lambda: date(2027, 4, 12))
    said = ("today", "--on", "2028-04-30", "--done", "ab12")
    code, _, err = run(*said)
    assert (code, "is still to come: it is" in err, "no job" in err) == (2, True, False)
    assert "there is no job 'ab12'" in run(*said, "--yes")[2]
    assert "there is no job 'ab12'" in run("today", "--on", "2027-04-12", "--done", "ab12")[2]


def test_json(run: Run, garden: Path) -> None:
    code, out, _ = run("log", "sowed 4 m beans bed", "--json", *ON)
    shape = json.loads(out)
    assert (code, shape["outcome"], shape["question"]["key"]) == (2, "asked", "1:crop")
    assert shape["written"] == []
    code, out, _ = run("log", LINE, "--json", "--yes", *ON)
    assert (code, len(json.loads(out)["written"])) == (0, 1)
    assert json.loads(run("log", "--json")[1])["entries"][0]["note"] == LINE
    code, out, _ = run("log", "should I sow", "--json", *ON)
    assert (code, json.loads(out)["outcome"]) == (2, "refused")


def test_a_refusal_says_why_and_how(run: Run, garden: Path) -> None:
    code, _, err = run("log", "should I sow carrots", *ON)
    assert code == 2
    assert err.startswith("evenpick: this is a question")


@pytest.mark.parametrize(("typed", "written"), [("9\n1\ny\n", True), ("fava\n\n", True), ("1\nn\n", False)])
def test_in_a_terminal_it_asks(
    run: Run, garden: Path, monkeypatch: pytest.MonkeyPatch, typed: str, written: bool
) -> None:
    monkeypatch.setattr(sys, "stdin", Terminal(typed))
    code, out, err = run("log", "sowed 4 m beans bed", *ON)
    assert code == 0
    assert "Which crop is meant by 'beans'?" in err + out
    assert garden.with_suffix(".book").exists() == written


def test_a_file(run: Run, garden: Path, tmp_path: Path) -> None:
    file = tmp_path / "lines.csv"
    file.write_text("2027-04-10,sowed 4 m parsnips bed\n2027-05-10,parsnips up\n", encoding="utf-8")
    read = (
        "Sat, Apr 10, 2027  sown in place: Parsnip, 12.9 sq ft (13.1 ft of row), bed\n"
        "Mon, May 10, 2027  came up: Parsnip in bed, sown April 10\n"
    )
    assert (
        run("log", "--csv", str(file), *LATER)[1]
        == read + "2 entries understood. Nothing was written. Write them with --yes.\n"
    )
    shape = json.loads(run("log", "--csv", str(file), *LATER, "--json")[1])
    assert (shape["understood"], shape["written"], shape["doubts"]) == (2, 0, [])
    assert [each["words"] for each in shape["entries"]] == [row[19:] for row in read.splitlines()]
    assert run("log", "--csv", str(file), *LATER, "--yes")[1] == read + "2 entries understood. 2 written.\n"
    file.write_text("2027-04-10,sowed 4 beans bed\n", encoding="utf-8")
    code, _, err = run("log", "--csv", str(file), *LATER, "--yes")
    assert code == 2
    assert "line 1" in err


@pytest.mark.parametrize(
    "arguments", [("x", "--undo"), ("--crop", "pea"), ("--correct", "abcdef"), ("x", "--answer", "y")]
)
def test_misused_options(run: Run, garden: Path, arguments: tuple[str, ...]) -> None:
    code, _, err = run("log", *arguments)
    assert code == 2
    assert "Usage" in err or err.startswith("evenpick: ")
    assert "Traceback" not in err
    assert not garden.with_suffix(".book").exists()


def test_what_is_put_right_keeps_its_day_and_says_what_it_was(run: Run, garden: Path) -> None:
    """Without --on it was moved to today, and a slip in the id was not seen."""
    run("log", LINE, "--yes", *ON)
    short = run("log")[1].split()[0]
    code, out, _ = run("log", "--correct", short, "sowed 3 m parsnips bed", "--yes")
    assert code == 0
    assert out.splitlines() == [
        "Sat, Apr 10, 2027  sown in place: Parsnip, 9.69 sq ft (9.84 ft of row), bed",
        "in place of: Sat, Apr 10, 2027  sown in place: Parsnip, 12.9 sq ft (13.1 ft of row), bed",
    ]
