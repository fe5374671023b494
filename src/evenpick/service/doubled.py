"""What two copies tell alike, each in an entry of its own, which counts twice until one is undone (record.md,
R22)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import fields, replace
from typing import Any

from evenpick.garden.diary import Entry, Lost, Picked, SeedGot, Sowed
from evenpick.garden.effective import effective

COUNTED = (Sowed, Picked, Lost, SeedGot)
"""facts of which two are more than one; what is seen, tended or answered twice is as if once"""
NEAR = 3
"""days: two copies that carry out one planned sowing, or tell a loss of one sowing to the same, within so
many are asked about (our choice)"""

Pair = tuple[Entry, Entry]


def doubled(entries: Sequence[Entry], ours: Collection[str], theirs: Collection[str]) -> tuple[Pair, ...]:
    """(our entry, theirs) of a diary brought together, each of theirs with one of ours at most; `ours` and
    `theirs` are the ids that only one of the copies had."""
    counted = [entry for entry in effective(entries) if isinstance(entry.fact, COUNTED)]
    left = [entry for entry in counted if entry.id in ours]
    alike: dict[str, str] = {}
    found: list[Pair] = []
    for entry in sorted((one for one in counted if one.id in theirs), key=_sowings_first):
        mine = next((one for one in left if _one(one, _as_ours(entry, alike))), None)
        if mine is not None:
            left.remove(mine)
            alike[entry.id] = mine.id
            found.append((mine, entry))
    return tuple(sorted(found, key=lambda pair: (pair[0].day, pair[0].id)))


def lighter(pair: Pair, entries: Iterable[Entry]) -> tuple[Entry, int]:
    """Of two the one that less was told of since, theirs if neither has more; and how many such entries go
    with it when it is undone."""
    told = Counter(getattr(entry.fact, "sowing", None) for entry in entries)
    mine, theirs = pair
    light = mine if told[mine.id] < told[theirs.id] else theirs
    return light, told[light.id]


def _sowings_first(entry: Entry) -> tuple[bool, int, str]:
    return not isinstance(entry.fact, Sowed), entry.day, entry.id


def _as_ours(entry: Entry, alike: Mapping[str, str]) -> Entry:
    """Their entry about the sowing that ours would name."""
    values: dict[str, Any] = {
        each.name: alike[value] for each in fields(entry.fact)
        if isinstance(value := getattr(entry.fact, each.name), str) and value in alike
    }
    return replace(entry, fact=replace(entry.fact, **values)) if values else entry


def _one(mine: Entry, other: Entry) -> bool:
    if mine.day == other.day and mine.fact == other.fact:
        return True
    a, b = mine.fact, other.fact
    if abs(mine.day - other.day) > NEAR:
        return False
    if isinstance(a, Lost) and isinstance(b, Lost):  # two people seldom guess the same share
        return (a.sowing, a.cause, a.by) == (b.sowing, b.cause, b.by)
    return isinstance(a, Sowed) and isinstance(b, Sowed) and a.planned is not None and a.planned == b.planned
