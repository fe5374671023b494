"""A book that one program reads again and again: only what was added since is read."""

from __future__ import annotations

import threading
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from evenpick.garden.diary import Cleared, Corrected, Entry, SetUp, Undid
from evenpick.store.book import Book, Since

Question = tuple[tuple[str, ...], tuple[str, ...], int]
ANEW = (Cleared, Corrected, SetUp, Undid)
"""facts that bear on which others are asked for"""
LAST = "g"
"""after every id, for an id is hexadecimal"""


@dataclass(frozen=True, slots=True)
class _Seen:
    at: Since
    """how far the book had come before they were read, so that what comes between is read again"""
    entries: tuple[Entry, ...]


class Followed:
    """Of one book. Entries are only ever added: where there are as many more in all as there are ids after
    the last one, nothing else happened. Else everything is read anew."""

    def __init__(self, path: Path) -> None:
        self._book = Book(path)
        self._lock = threading.Lock()
        self._whole: _Seen | None = None
        self._lately: tuple[Question, _Seen] | None = None

    def entries(self) -> tuple[Entry, ...]:
        """As `Book.entries`."""
        with self._lock:
            now = self._added(self._whole)
            if now is None or self._whole is None:
                self._whole = _Seen(self._book.since(LAST), self._book.entries())
            else:
                self._whole = _Seen(now, (*self._whole.entries, *now.new))
            return self._whole.entries

    def lately(self, kinds: Collection[str], recent: Collection[str], since: int) -> tuple[Entry, ...]:
        """As `Book.lately`; the question asked last is followed."""
        question = tuple(kinds), tuple(recent), since
        with self._lock:
            before = self._lately[1] if self._lately is not None and self._lately[0] == question else None
            now = self._added(before)
            if now is None or before is None or not _plain(now.new, before.entries):
                seen = _Seen(self._book.since(LAST), self._book.lately(kinds, recent, since))
            else:
                kept = [each for each in now.new if each.fact.kind in kinds
                        or (each.fact.kind in recent and each.day >= since)]
                seen = _Seen(now, (*before.entries, *kept))
            self._lately = question, seen
            return seen.entries

    def _added(self, before: _Seen | None) -> Since | None:
        """What was added since; None where that is not all that happened, or nothing was read yet."""
        if before is None:
            return None
        now = self._book.since(before.at.last)
        same = now.file == before.at.file and now.count == before.at.count + len(now.new)
        return now if same else None


def _plain(new: Collection[Entry], known: Collection[Entry]) -> bool:
    """Whether new entries only add to what is known: they change no other, and tell of no sowing left out."""
    if not new:
        return True
    sowings = {None, *(each.id for each in known), *(each.id for each in new)}
    return all(
        not isinstance(each.fact, ANEW) and getattr(each.fact, "sowing", None) in sowings for each in new
    )
