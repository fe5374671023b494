"""The commands that the README shows are run, and what it shows of their output is what they print."""

from __future__ import annotations

import doctest
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

README = Path(__file__).resolve().parents[1] / "README.md"
BLOCK = re.compile(r"^```console\n(.*?)^```", re.MULTILINE | re.DOTALL)
FLAGS = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE


def examples() -> list[tuple[str, str]]:
    """(command, expected output) of every console block; make is the test's own caller and is left out."""
    found = []
    for block in BLOCK.findall(README.read_text(encoding="utf-8")):
        for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
            command, _, output = part.partition("\n")
            if not command.startswith("make "):
                found.append((command, output))
    return found


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One folder for all commands, which follow each other as a reader would type them."""
    return tmp_path_factory.mktemp("readme")


def test_readme_shows_commands() -> None:
    assert len(examples()) >= 5


@pytest.mark.parametrize(("command", "expected"), examples())
def test_command(command: str, expected: str, folder: Path) -> None:
    words = shlex.split(command)
    assert words[0] == "evenpick"
    ran = subprocess.run(
        [sys.executable, "-m", "evenpick", *words[1:]], cwd=folder, capture_output=True, text=True,
        env={**os.environ, "COLUMNS": "80", "NO_COLOR": "1"}, check=False, timeout=120,
    )
    assert ran.returncode == 0, ran.stderr
    if expected.strip():
        assert doctest.OutputChecker().check_output(expected, ran.stdout, FLAGS), ran.stdout
