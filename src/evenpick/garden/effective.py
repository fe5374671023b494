"""What the diary says once undoing and correcting are done (record.md, R3 to R5)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from operator import attrgetter

from evenpick.garden.diary import Corrected, Entry, SetUp, Undid


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two things written of one entry, neither knowing of the other; the later stands till it is settled."""

    about: str
    """id of the entry; of a set-up the one that both were made from, or empty"""
    stands: Entry
    against: Entry


@dataclass(frozen=True, slots=True)
class Judged:
    """A diary with what undoing and correcting say of it."""

    every: Mapping[str, Entry]
    alive: frozenset[str]
    heads: Mapping[str, Sequence[Entry]]
    """by entry: its corrections that no other was made upon, oldest first"""


def judged(entries: Iterable[Entry]) -> Judged:
    every = {entry.id: entry for entry in entries}
    alive = living(every)
    return Judged(every, alive, _heads(every, alive))


def effective(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Entries that count, each as last corrected, in order of day and then of writing."""
    return counted(judged(entries))


def counted(diary: Judged) -> tuple[Entry, ...]:
    """As `effective`."""
    alive, heads = diary.alive, diary.heads
    kept = [
        _as_corrected(entry, heads[entry.id][-1]) if entry.id in heads else entry
        for entry in diary.every.values()
        if entry.id in alive and type(entry.fact) not in (Undid, Corrected)
    ]
    return tuple(sorted(kept, key=attrgetter("day", "id")))


def _as_corrected(entry: Entry, correction: Entry) -> Entry:
    if not isinstance(correction.fact, Corrected):
        raise TypeError(correction)
    return replace(entry, day=correction.fact.day, fact=correction.fact.fact)


def living(every: Mapping[str, Entry]) -> frozenset[str]:
    """Ids of entries that are not undone; undoing an undoing brings the first back."""
    undoings: dict[str, list[str]] = {}
    for entry in every.values():
        if isinstance(entry.fact, Undid):
            undoings.setdefault(entry.fact.entry, []).append(entry.id)
    if not undoings:
        return frozenset(every)
    lives: dict[str, bool] = {}
    for identity in sorted(undoings):
        _judge(identity, undoings, lives)
    return frozenset(identity for identity in every if lives.get(identity, True))


def _judge(first: str, undoings: Mapping[str, list[str]], lives: dict[str, bool]) -> None:
    """Whether an entry and all that undoes it, near and far, live. On a stack of its own, for a chain may be
    long; a ring of undoings, which only a forged file holds, is cut where it closes."""
    stack, seen = [first], set()
    while stack:
        identity = stack[-1]
        waiting = [undoing for undoing in sorted(undoings.get(identity, ()))
                   if undoing not in lives and undoing not in seen]
        if identity in lives or not waiting:
            stack.pop()
            lives.setdefault(identity, not any(lives.get(each, True) for each in undoings.get(identity, ())))
        seen.add(identity)
        stack += waiting


def _heads(every: Mapping[str, Entry], alive: frozenset[str]) -> dict[str, list[Entry]]:
    """By entry: its corrections that no other was made upon, oldest first."""
    corrections = [e for e in every.values() if isinstance(e.fact, Corrected) and e.id in alive]
    upon = {e.fact.after for e in corrections if isinstance(e.fact, Corrected)}
    heads: dict[str, list[Entry]] = {}
    for entry in sorted(corrections, key=lambda entry: entry.id):
        if entry.id not in upon and isinstance(entry.fact, Corrected):
            heads.setdefault(entry.fact.entry, []).append(entry)
    return heads


def setups(entries: Iterable[Entry]) -> Sequence[Entry]:
    """Set-ups that no other was made from, oldest first; the last one stands."""
    found = [entry for entry in entries if isinstance(entry.fact, SetUp)]
    upon = {entry.fact.after for entry in found if isinstance(entry.fact, SetUp)}
    return sorted((entry for entry in found if entry.id not in upon), key=lambda entry: entry.id)


def conflicts(entries: Iterable[Entry]) -> tuple[Conflict, ...]:
    """Corrections of one entry that differ, a correction of what somebody undid, two set-ups."""
    return disputed(judged(entries))


def disputed(diary: Judged) -> tuple[Conflict, ...]:
    """As `conflicts`."""
    every, alive, heads = diary.every, diary.alive, diary.heads
    found = [
        Conflict(about, several[-1], other)
        for about, several in heads.items() for other in several[:-1] if _differ(several[-1], other)
    ]
    found += [
        Conflict(undoing.fact.entry, undoing, heads[undoing.fact.entry][-1]) for undoing in every.values()
        if isinstance(undoing.fact, Undid) and undoing.fact.entry in heads and undoing.id in alive
    ]
    drafts = setups(entry for entry in every.values() if entry.id in alive)
    found += [Conflict("", drafts[-1], other) for other in drafts[:-1] if _differ(drafts[-1], other)]
    return tuple(sorted(found, key=lambda each: (each.about, each.stands.id, each.against.id)))


def _differ(one: Entry, other: Entry) -> bool:
    if isinstance(one.fact, Corrected) and isinstance(other.fact, Corrected):
        return (one.fact.day, one.fact.fact) != (other.fact.day, other.fact.fact)
    if isinstance(one.fact, SetUp) and isinstance(other.fact, SetUp):
        return one.fact.text != other.fact.text
    return True
