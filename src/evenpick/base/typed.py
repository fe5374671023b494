"""File names as a grower types them, from the folder in which the command was given."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from pathlib import Path

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


def apart(path: Path, names: Sequence[str]) -> list[Path]:
    """A file for each name: 'week.pdf' of 'valley' is 'week-valley.pdf'. Numbered where two names would be
    one file's."""
    words = [UNSAFE.sub("-", name).strip("-.") for name in names]
    if len({word.casefold() for word in words if word}) < len(words):
        words = [f"{number}-{word}".rstrip("-") for number, word in enumerate(words, 1)]
    return [path.with_stem(f"{path.stem}-{word}") for word in words]
