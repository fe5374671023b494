"""TOML text with the line of every key, so that a fault can be shown where it stands."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

from evenpick.base.errors import BadGarden, Problem
from evenpick.base.language import later, tell

Path: TypeAlias = tuple[str | int, ...]
"""keys and places in lists down to a value, such as ("wish", 3, "crops")"""

_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}' r"|'''.*?'{3,5}" r'|"(?:\\.|[^"\\\n])*"' r"|'[^'\n]*'" r"|#[^\n]*|\n|.",
    re.DOTALL,
)
_KEY = r"""\s*("(?:\\.|[^"\\])*"|'[^']*'|[A-Za-z0-9_-]+)\s*"""
_DOTTED = re.compile(rf"{_KEY}(?:\.{_KEY})*")
_ONE_KEY = re.compile(_KEY)

_MENDS = (
    ("Cannot overwrite", later("This name is given twice under one heading; keep one of the two lines.")),
    ("Cannot declare", later("This heading stands twice; headings that repeat are written [[so]], others "
                             "once.")),
    ("Invalid date", later("Write a date as year-month-day, such as 2027-03-14, and check that it exists.")),
    ("Invalid value", later('Words stand in quotes, such as "open"; lists in [ ], parts divided by commas.')),
    ("Illegal character '\\n'", later("A closing quote is missing on this line.")),
    ("Unterminated string", later("A closing quote is missing.")),
    ("Unclosed array", later("A closing ] is missing.")),
    ("Expected '='", later("Write name = value, or put # before a note.")),
    ("Invalid statement", later("Write name = value, a [heading], or put # before a note.")),
)


@dataclass(frozen=True, slots=True)
class Lines:
    """The line on which each key and heading of a TOML text stands."""

    at: Mapping[Path, int]

    def line(self, path: Path) -> int | None:
        """The line of a path, or of the nearest thing that holds it."""
        for length in range(len(path), 0, -1):
            if path[:length] in self.at:
                return self.at[path[:length]]
        return None


def parse_toml(text: str, file: str) -> tuple[dict[str, Any], Lines]:
    """The values of a TOML text and their lines; BadGarden with the line where it can't be read."""
    try:
        return tomllib.loads(text), Lines(dict(_lines(text)))
    except tomllib.TOMLDecodeError as error:
        raise BadGarden(_syntax_problem(str(error), text, file)) from error
    except (RecursionError, ValueError) as error:  # nested beyond reason, or a number of 5,000 digits
        raise BadGarden(
            Problem(tell("the file is nested too deeply, or holds a number too long to read."),
                    tell("Write it as the example in docs/formats/garden-toml.md does."), file)
        ) from error


def _syntax_problem(message: str, text: str, file: str) -> Problem:
    found = re.search(r"at line (\d+)", message)
    rows = text.split("\n")
    line = min(int(found[1]), len(rows)) if found else len(rows)
    while line > 1 and not rows[line - 1].strip():  # what is missing is missed at the end of the last words
        line -= 1
    mend = next((tell(mend) for start, mend in _MENDS if message.startswith(start)),
                tell('Write name = value, words in "quotes", lists in [ ], and # before a note.'))
    return Problem(tell("this line can't be read: '{rows}'.",
                        rows=rows[line - 1].strip()[:60]), mend, file, line)


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Each heading or `key = value` of a valid TOML text with its first line."""
    parts: list[str] = []
    line, start, depth = 1, 1, 0
    for match in _TOKEN.finditer(text):
        token = match[0]
        if token == "\n" and depth == 0:
            yield start, "".join(parts)
            parts, start = [], line + 1
        elif not token.startswith("#"):
            depth += (token in "[{") - (token in "]}")
            parts.append(token)
        line += token.count("\n")
    yield start, "".join(parts)


def _keys(dotted: str) -> list[str]:
    return [key[1:-1] if key[0] in "\"'" else key for key in _ONE_KEY.findall(dotted)]


def _lines(text: str) -> Iterator[tuple[Path, int]]:
    counts: dict[Path, int] = {}
    heading: Path = ()
    for line, statement in _statements(text):
        stripped = statement.strip()
        if stripped.startswith("["):
            heading = _open_table(_keys(stripped.strip("[]")), stripped.startswith("[["), counts)
            yield heading, line
        elif match := _DOTTED.match(stripped):
            path = heading
            for key in _keys(match[0]):
                path = (*path, key)
                yield path, line


def _open_table(keys: list[str], repeats: bool, counts: dict[Path, int]) -> Path:
    """The path of a heading; keys that name a list of tables mean its last one."""
    path: Path = ()
    for depth, key in enumerate(keys):
        path = (*path, key)
        last = depth == len(keys) - 1
        if last and repeats:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path
