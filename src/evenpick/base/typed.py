"""File names and commands as a grower types them, from the folder in which the command was given."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from contextvars import ContextVar
from pathlib import Path

OF_GARDENS = (
    "calendar", "check", "export", "ground", "import", "lessons", "log", "losses", "month", "outlook",
    "pickings", "plan", "print", "saving", "serve", "settle", "tin", "today", "trial keep", "trial kept",
    "versions", "water", "weather", "why", "windows",
)
"""commands that are about one garden's file"""
COMMAND = re.compile(rf"\bevenpick ({'|'.join(OF_GARDENS)})\b(?! --garden)")
"""one of a garden that names no file yet; in backticks or a sentence as well"""
USUAL = "garden.toml"
"""the file that commands are about when none is named"""
_named: ContextVar[Path | None] = ContextVar("named", default=None)
UNSAFE = re.compile(r"[^\w.-]+")
"""what some disk or shell minds in a file's name"""


def shortest(file: Path) -> Path:
    """The file's name without the folders that it only passes through: 'farms/../coop.toml' is 'coop.toml'.
    As it is where that would be another file, past a link."""
    short = Path(os.path.normpath(file))
    try:
        return short if short.samefile(file) else file
    except OSError:  # one of them is not there: nothing tells that both are the same
        return file


def typed(file: Path) -> str:
    """A file's name as a word of a command."""
    name = str(shortest(file))
    return f'"{name}"' if " " in name else name


def about(file: Path | None) -> None:
    """From here on commands are told as they are typed of that file."""
    _named.set(None if file is None or str(shortest(file)) == USUAL else file)


def as_typed(text: str) -> str:
    """A text with the file that was named in each command that names none: typed as it stands, a command
    would be about another garden."""
    file = _named.get()
    return text if file is None else at_file(text, file)


def at_file(text: str, file: Path) -> str:
    """A text with a garden's file in each command that names none."""
    return COMMAND.sub(lambda found: f"{found[0]} --garden {typed(file)}", text)


def apart(path: Path, names: Sequence[str]) -> list[Path]:
    """A file for each name: 'week.pdf' of 'valley' is 'week-valley.pdf'. Numbered where two names would be
    one file's."""
    words = [UNSAFE.sub("-", name).strip("-.") for name in names]
    if len({word.casefold() for word in words if word}) < len(words):
        words = [f"{number}-{word}".rstrip("-") for number, word in enumerate(words, 1)]
    return [path.with_stem(f"{path.stem}-{word}") for word in words]
