"""The commands that the README shows are run, and what it shows of their output is what they print."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from shown import agrees, commands, parts

README = (Path(__file__).resolve().parents[1] / "README.md").read_text(encoding="utf-8")
EXAMPLES = [
    (command, output)
    for kind, block in parts(README) if kind == "console"
    for command, output in commands(block)
    if not command.startswith("make ")  # make is the test's own caller
]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One folder for all commands, which follow each other as a reader would type them."""
    return tmp_path_factory.mktemp("readme")


def test_readme_shows_commands() -> None:
    assert len(EXAMPLES) >= 5


@pytest.mark.parametrize(("command", "expected"), EXAMPLES)
def test_command(command: str, expected: str, folder: Path) -> None:
    words = shlex.split(command)
    assert words[0] == "evenpick"
    ran = subprocess.run(
        [sys.executable, "-m", "evenpick", *words[1:]], cwd=folder, capture_output=True, text=True,
        env={**os.environ, "COLUMNS": "80", "NO_COLOR": "1"}, check=False, timeout=120,
    )
    assert ran.returncode == 0, ran.stderr
    assert agrees(expected, ran.stdout), ran.stdout


def test_readme_counts_the_demo_s_weather_years_as_its_answers_do() -> None:
    told = re.search(r"(\d+) years of Dublin Airport", README)
    assert told is not None
    asked = ("windows", "--crop", "radish", "--at", "53.4,-6.2", "--record", "dublin_airport")
    ran = subprocess.run([sys.executable, "-m", "evenpick", *asked], capture_output=True, text=True,
                         check=True)
    assert f"{told[1]} years" in " ".join(ran.stdout.split())
