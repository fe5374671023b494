"""What differs between two garden files, in words."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

NAMED_BY = ("name", "item", "crop")
"""what tells tables of one heading apart"""


def changes(old: str, new: str) -> tuple[str, ...]:
    """Every value that was added, taken out or changed; how the text is laid out and its notes do not count.

    Where one of the two is no TOML, that alone is told.
    """
    try:
        before, after = dict(_values(tomllib.loads(old))), dict(_values(tomllib.loads(new)))
    except tomllib.TOMLDecodeError:
        return ("one of the two can't be read as TOML",) if old != new else ()
    told = [_told(name, before.get(name), after.get(name)) for name in {**before, **after}
            if before.get(name) != after.get(name)]
    return tuple(told) or (("notes or layout only",) if old != new else ())


def _told(name: str, old: object, new: object) -> str:
    if old is None:
        return f"{name}: {_shown(new)} added"
    return f"{name}: {_shown(old)} taken out" if new is None else f"{name}: {_shown(old)} → {_shown(new)}"


def _shown(value: object) -> str:
    if isinstance(value, list):
        return ", ".join(map(str, value)) or "none"
    return ("no", "yes")[value] if isinstance(value, bool) else str(value)


def _values(table: Mapping[str, Any], place: str = "") -> Iterator[tuple[str, Any]]:
    for key, value in table.items():
        name = f"{place} {key}".strip()
        if isinstance(value, dict):
            yield from _values(value, name)
        elif isinstance(value, list) and value and all(isinstance(each, dict) for each in value):
            yield from _listed(value, name)
        else:
            yield name, value


def _listed(tables: list[dict[str, Any]], heading: str) -> Iterator[tuple[str, Any]]:
    seen: dict[str, int] = {}
    for table in tables:
        word = str(next((table[key] for key in NAMED_BY if key in table), ""))
        seen[word] = seen.get(word, 0) + 1
        again = f" ({seen[word]})" if seen[word] > 1 else ""
        rest = {key: value for key, value in table.items() if key not in NAMED_BY or str(value) != word}
        yield from _values(rest, f"{heading} '{word}'{again}")
