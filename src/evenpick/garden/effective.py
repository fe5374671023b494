"""What the diary says once undoing and correcting are done (record.md, R3 to R5)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from evenpick.garden.diary import Corrected, Entry, SetUp, Undid


@dataclass(frozen=True, slots=True)
class Conflict:
    """Two things written of one entry, neither knowing of the other; the later stands till it is settled."""

    about: str
    """id of the entry; of a set-up the one that both were made from, or empty"""
    stands: Entry
    against: Entry


def effective(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Entries that count, each as last corrected, in order of day and then of writing."""
    every = {entry.id: entry for entry in entries}
    alive = living(every)
    fixed = {about: heads[-1] for about, heads in _heads(every, alive).items()}
    kept = (
        _as_corrected(entry, fixed.get(entry.id))
        for entry in every.values() if entry.id in alive and not isinstance(entry.fact, Undid | Corrected)
    )
    return tuple(sorted(kept, key=lambda entry: (entry.day, entry.id)))


def _as_corrected(entry: Entry, correction: Entry | None) -> Entry:
    if correction is None or not isinstance(correction.fact, Corrected):
        return entry
    return replace(entry, day=correction.fact.day, fact=correction.fact.fact)


def living(every: Mapping[str, Entry]) -> frozenset[str]:
    """Ids of entries that are not undone; undoing an undoing brings the first back."""
    undoings: dict[str, list[str]] = {}
    for entry in every.values():
        if isinstance(entry.fact, Undid):
            undoings.setdefault(entry.fact.entry, []).append(entry.id)
    if not undoings:
        return frozenset(every)
    verdict: dict[str, bool] = {}

    def lives(identity: str) -> bool:
        if identity not in verdict:
            verdict[identity] = True  # ends a ring of undoings, which only a forged file can hold
            verdict[identity] = not any(lives(undoing) for undoing in undoings.get(identity, ()))
        return verdict[identity]

    return frozenset(identity for identity in every if lives(identity))


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
    every = {entry.id: entry for entry in entries}
    alive = living(every)
    found = [
        Conflict(about, heads[-1], other)
        for about, heads in _heads(every, alive).items()
        for other in heads[:-1] if _differ(heads[-1], other)
    ]
    for about, heads in _heads(every, alive).items():
        found += [Conflict(about, undoing, heads[-1]) for undoing in every.values()
                  if isinstance(undoing.fact, Undid) and undoing.fact.entry == about and undoing.id in alive]
    drafts = setups(entry for entry in every.values() if entry.id in alive)
    found += [Conflict("", drafts[-1], other) for other in drafts[:-1] if _differ(drafts[-1], other)]
    return tuple(sorted(found, key=lambda conflict: (conflict.about, conflict.against.id)))


def _differ(one: Entry, other: Entry) -> bool:
    if isinstance(one.fact, Corrected) and isinstance(other.fact, Corrected):
        return (one.fact.day, one.fact.fact) != (other.fact.day, other.fact.fact)
    if isinstance(one.fact, SetUp) and isinstance(other.fact, SetUp):
        return one.fact.text != other.fact.text
    return True
