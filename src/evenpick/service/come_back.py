"""Entries that come back in a table, held against those that are there: a spreadsheet saves numbers as it
shows them (docs/formats/diary-csv.md)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import isclose
from typing import Any

from evenpick.base.errors import BadDiary, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Entry
from evenpick.garden.diary_json import entry_json

SHOWN = 1e-4
"""share by which a number that a spreadsheet showed may be off (our choice): nobody weighs so closely"""
SHORT_ID = 6
"""signs of an id by which `evenpick log` knows an entry"""


def as_there(coming: Iterable[Entry], there: Iterable[Entry], file: str) -> tuple[Entry, ...]:
    """What comes in, with each entry that is there already as it is there.

    BadDiary where one was changed in between, with what of it: an entry is put right by a correction.
    """
    known = {entry.id: entry for entry in there}
    problems: list[Problem] = []
    found: list[Entry] = []
    for entry in coming:
        ours = known.get(entry.id, entry)
        problems += _changed(ours, entry, file)
        found.append(ours)
    if problems:
        raise BadDiary(problems)
    return tuple(found)


def _changed(ours: Entry, theirs: Entry, file: str) -> Iterator[Problem]:
    if ours == theirs:
        return
    old, new = dict(_flat(entry_json(ours))), dict(_flat(entry_json(theirs)))
    for name in dict.fromkeys((*old, *new)):
        if not _alike(old.get(name), new.get(name)):
            what = tell("{day}, {kind}: the diary has {old}, and this {new}.", day=old["day"],
                        kind=old["kind"], old=_shown(old.get(name)), new=_shown(new.get(name)))
            mend = tell("Leave it as the diary has it, or take the row out; an entry is put right by its id: "
                        "evenpick log --correct {id}", id=ours.id[-SHORT_ID:])
            yield Problem(what, mend, file, None, name)


def _flat(shape: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    for name, value in shape.items():
        if isinstance(value, dict):
            yield from _flat(value)
        else:
            yield name, value


def _alike(old: object, new: object) -> bool:
    if _is_number(old) and _is_number(new):
        return isclose(old, new, rel_tol=SHOWN)  # type: ignore[arg-type]
    return old == new


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _shown(value: object) -> str:
    if value in (None, ""):
        return tell("nothing")
    return f"{value:g}" if isinstance(value, float) else str(value)

