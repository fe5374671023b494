"""Exit codes and messages: one clear line for each problem, no traceback; bugs raise."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import click
import invented
import pytest

from evenpick.base.errors import BadGarden, Problem
from evenpick.cli.exits import run as run_guarded
from evenpick.cli.progress import Breaks, gently, told
from evenpick.service.store_plan import garden_digest, save_plan

Run = Callable[..., tuple[int, str, str]]
AT = ("--at", "51.5,-1.1")
ON_TIME = 1.0  # s; the bar is 0.3 on a machine that does nothing else


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("windows", "--at", "95,0"), "latitude of 95"),
        (("windows", "--place", "Nosuchtownanywhere"), "not in the list of towns"),
        (("month", "13", *AT), "'13' is not a month"),
        (("month", "juin", *AT), "Did you mean"),
        (("outlook", "--crop", "carot", "--sow", "2027-05-01", *AT), "Did you mean 'carrot'"),
        (("outlook", "--crop", "carrot", "--sow", "1 May", *AT), "Write year-month-day"),
        (("why", "carrot", "--sow", "2027-02-30", *AT), "--sow '2027-02-30' is not a date"),
        (("why", "leaf-lettuce", "--sow", "2 Jan", *AT), "--sow '2 Jan' is not a date. Write year-month-day"),
        (("today", "--on", "9999-12-31"), "too far off"), (("calendar", "--on", "1066-10-14"), "too far off"),
        (("windows", *AT, "--record", "nowhere"), "The packaged records are"),
        (("windows", *AT, "--weather", "no-such-file.csv"), "no-such-file.csv"),
        (("plan", "--garden", "no-such-garden.toml"), "no-such-garden.toml"),
        (("begin", *AT, "--ground", "20", "--tunnel", "0", "--eaters", "4", "--likes", ""), "is not an area"),
        (("begin", *AT, "--ground", "20 m²", "--tunnel", "0", "--eaters", "us", "--likes", ""),
         "how many people or boxes"),
        (("begin", *AT, "--ground", "20 m²", "--tunnel", "0", "--eaters", "4", "--likes", "radish",
          "--garden", "no/new.toml"),
         "no/new.toml: this file or folder can't be read or written (No such file"),
    ],
)
def test_what_can_be_mended_is_told_in_one_line(
    run: Run, typed: tuple[str, ...], said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    code, out, err = run(*typed)
    assert (code, out) == (2, "")
    assert said in err
    assert err.startswith("evenpick: ")
    assert err.count("\n") == 1
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "typed",
    [
        ("today", "--weight", "5 kg"), ("today", "--until", "2027-05-01"),
        ("windows", *AT, "--warmer", "nan"), ("plan", "--seconds", "nan"), ("plan", "--seconds", "inf"),
        ("windows", *AT, "--cover", "greenhouse"), ("windows", *AT, "--place", "Dublin, IE"), ("month",),
        ("windows", *AT, "--record", "a", "--normals", "b"), ("windows", "--height", "40 m"),
        ("outlook", *AT, "--crop", "leek"), ("pickings", "--weeks", "0"), ("nonsense",),
        ("windows", "--nonsense"), ("windows", *AT, "--year", "27"), ("begin", *AT, "--place", "Dublin"),
    ],
)
def test_a_misused_option_is_a_usage_error(
    run: Run, typed: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    code, out, err = run(*typed)
    assert (code, out) == (2, "")
    assert "Error: " in err
    assert "Traceback" not in err


def test_no_place_and_no_garden(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    code, _, err = run("windows")
    assert code == 2
    assert "no place is given and there is no garden.toml here" in err


def test_no_plan_yet(run: Run, garden: Path) -> None:
    code, out, err = run("pickings")
    assert (code, out) == (2, "")
    assert "Make one with: evenpick plan" in err


def test_today_needs_a_plan_or_a_diary(run: Run, garden: Path) -> None:
    code, out, err = run("today")
    assert (code, out) == (2, "")
    assert "Make one with: evenpick plan" in err


def test_every_problem_has_its_line(capsys: pytest.CaptureFixture[str]) -> None:
    def faulty() -> None:
        raise BadGarden([Problem("one.", "Mend it.", "garden.toml", 3), Problem("two\nlines.", "Mend both.")])

    assert run_guarded(faulty) == 2
    told_lines = capsys.readouterr().err.splitlines()
    assert told_lines == ["evenpick: garden.toml, line 3: one. Mend it.", "evenpick: two lines. Mend both."]


def test_a_file_that_the_system_refuses_is_told_by_its_name(capsys: pytest.CaptureFixture[str]) -> None:
    def reading() -> None:
        Path("no such folder", "notes.txt").read_bytes()

    assert run_guarded(reading) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith("evenpick: no such folder/notes.txt: this file or folder can't be read")

    def a_bug() -> None:
        raise OSError(9, "Bad file descriptor")

    with pytest.raises(OSError, match="Bad file"):
        run_guarded(a_bug)


@pytest.mark.parametrize("stop", [KeyboardInterrupt, click.Abort])
def test_stopped(stop: type[BaseException], capsys: pytest.CaptureFixture[str]) -> None:
    def stopped() -> None:
        raise stop

    assert run_guarded(stopped) == 130
    assert capsys.readouterr().err == "Stopped.\n"


def pressed() -> None:
    signal.raise_signal(signal.SIGINT)


def test_a_first_ctrl_c_asks_for_the_best_so_far_and_a_second_drops_it(
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = signal.getsignal(signal.SIGINT)  # a suite run in the background ignores breaks

    def searching() -> None:
        with gently() as stop:
            assert not stop()
            pressed()
            assert stop()
            pressed()

    assert run_guarded(searching) == 130
    first, second = capsys.readouterr().err.splitlines()
    assert first == "Stopping: the best plan so far is kept. Ctrl-C again drops it."
    assert second == "Stopped; the plan found is dropped. What was kept before stays."
    assert signal.getsignal(signal.SIGINT) is before


def test_before_there_is_a_plan_ctrl_c_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    def growing() -> None:
        with gently():
            pressed()
            pressed()

    assert run_guarded(growing) == 130
    first, second = capsys.readouterr().err.splitlines()
    assert first.startswith("Stopping with the first plan")
    assert second.startswith("Stopped before there was a plan: none is kept.")


def test_what_was_found_is_written_whatever_is_pressed(capsys: pytest.CaptureFixture[str]) -> None:
    with gently() as stop:
        stop.settle()
        pressed()
        pressed()
    assert capsys.readouterr().err == ""


def test_a_bug_raises() -> None:
    with pytest.raises(ZeroDivisionError):
        run_guarded(lambda: 1 // 0)


def piped(*typed: str, out: Any = None, **more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "evenpick", *typed], stdout=out, stderr=subprocess.PIPE,
                          encoding=more.get("PYTHONIOENCODING", "utf-8"), check=False,
                          env={**os.environ, **more})


@pytest.mark.parametrize("typed", [
    ("--help",), ("windows", "--help"), ("windows", "--crop", "radish", *AT), ("month", "6", *AT, "--json"),
])
def test_a_shut_pipe_is_no_traceback(typed: tuple[str, ...]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "w") as shut:
        done = piped(*typed, out=shut)
    assert (done.returncode, done.stderr) == (141, "")


def test_an_output_without_room_is_told() -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        done = piped("windows", "--crop", "radish", *AT, out=full)
    assert done.returncode == 2
    assert done.stderr.startswith("evenpick: nothing more can be written (No space left on device).")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("encoding", ["latin-1", "cp1252"])
def test_an_output_of_few_letters_is_written_in_others(
    encoding: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """JSON says what it does in UTF-8; a picture is drawn with the signs there are."""
    monkeypatch.chdir(tmp_path)
    text = ('[site]\nname = "Østre 東"\nat = "53.4, -6.2"\n[[ground]]\nname = "東"\ncover = "open"\n'
            'area = "30 m2"\n[[wish]]\nitem = "rocket"\neach_week = "250 g"\n')
    Path("garden.toml").write_text(text, encoding="utf-8")
    plan = replace(invented.PLAN, site=replace(invented.PLAN.site, name="Østre 東"),
                   made_from=replace(invented.PLAN.made_from, garden=garden_digest(text)))
    save_plan(Path("garden.toml"), plan)
    told = [piped("pickings", "--json", out=subprocess.PIPE, PYTHONIOENCODING=each)
            for each in ("utf-8", encoding)]
    assert json.loads(told[0].stdout) == json.loads(told[1].stdout)
    page = piped("pickings", out=subprocess.PIPE, PYTHONIOENCODING=encoding)
    assert page.returncode == 0, page.stderr
    assert "Key: # wanted and there   246 part of it" in page.stdout


HELP = """
import sys, time
began = time.process_time()
from evenpick.cli.main import main
for command in ("", "windows", "month", "outlook", "why", "plan", "pickings", "today", "begin", "demo"):
    try:
        main([*command.split(), "--help"])
    except SystemExit as left:
        assert left.code == 0, left.code
seconds = time.process_time() - began
slow = {"numpy", "rich", "highspy", "evenpick.service", "evenpick.report"} & set(sys.modules)
print(seconds, slow, file=sys.stderr)
"""


def test_help_is_quick_and_loads_nothing_slow() -> None:
    done = subprocess.run([sys.executable, "-c", HELP], capture_output=True, text=True, check=True)
    seconds, slow = done.stderr.split(" ", 1)
    assert slow.strip() == "set()"
    assert float(seconds) < ON_TIME
    assert max(map(len, done.stdout.splitlines())) <= 100


def test_progress_is_a_plain_line_a_stage_off_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    with told() as progress:
        for stage, share in (("weather", 0.0), ("planning", 0.25), ("planning", 0.5)):
            progress(stage, share)
    said = capsys.readouterr()
    assert (said.out, said.err) == ("", "  0 %  weather\n 25 %  planning\n")


def test_the_solvers_greeting_does_not_stand_in_the_answer() -> None:
    code = ("from evenpick.cli.progress import told\n"
            "with told():\n"
            "    import highspy\n"
            "    highspy.Highs()\n"
            "print('the answer')")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "the answer\n"


def test_a_break_while_a_line_is_being_written_is_heard(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    """Ctrl-C that came within the write of a stage ended in a traceback: a writer can't be entered twice."""
    breaks = Breaks()

    class Pressed(io.FileIO):
        def write(self, said: Any) -> int:
            if not breaks():
                breaks.press(signal.SIGINT, None)
            return super().write(said) or 0

    with Pressed(2, "w", closefd=False) as raw, io.TextIOWrapper(
        io.BufferedWriter(raw), "utf-8", write_through=True, line_buffering=True
    ) as stderr:
        monkeypatch.setattr(sys, "stderr", stderr)
        with told() as progress:
            progress("weather", 0.0)
        monkeypatch.undo()
    said = capfd.readouterr().err
    assert "weather" in said
    assert "Ctrl-C again" in said
