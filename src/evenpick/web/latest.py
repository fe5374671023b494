"""Answers kept while the garden and its book are as they were, so that a page costs only its words."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Hashable
from pathlib import Path
from typing import Any, TypeVar

from evenpick.service.store_plan import plan_path
from evenpick.store.book import book_path

Answer = TypeVar("Answer")
Stamp = tuple[tuple[int, int, int], ...]
TOO_YOUNG_NS = 50_000_000
"""a file changed this lately may change again within one tick of the file system's clock"""
MOST = 500
"""answers kept; beyond it all are dropped"""


class Latest:
    """Of one garden: an answer is kept until the garden file, its book or its older plan file changes."""

    def __init__(self, garden: Path) -> None:
        book = book_path(garden)
        self._files = (garden, book, book.with_name(f"{book.name}-wal"), plan_path(garden))
        self._stamp: Stamp = ()
        self._kept: dict[Hashable, Any] = {}
        self._lock = threading.Lock()
        self._asking: dict[Hashable, threading.Lock] = {}

    def get(self, question: Hashable, answer: Callable[[], Answer]) -> Answer:
        """The answer kept, or made now; two who ask the same at once wait for one."""
        with self._lock:
            self._drop_old()
            if question in self._kept:
                found: Answer = self._kept[question]
                return found
            turn = self._asking.setdefault(question, threading.Lock())
        with turn:
            stamp = self.stamp()
            with self._lock:
                if stamp == self._stamp and question in self._kept:
                    again: Answer = self._kept[question]
                    return again
            made = answer()
            with self._lock:
                if stamp == self.stamp() and stamp == self._stamp and not self._young(stamp):
                    if len(self._kept) >= MOST:
                        self._kept.clear()
                    self._kept[question] = made
                self._asking.pop(question, None)
            return made

    def _drop_old(self) -> None:
        now = self.stamp()
        if now != self._stamp:
            self._stamp = now
            self._kept.clear()

    def stamp(self) -> Stamp:
        """Changes whenever something was written."""
        return tuple(_look(file) for file in self._files)

    @staticmethod
    def _young(stamp: Stamp) -> bool:
        return any(time.time_ns() - changed < TOO_YOUNG_NS for changed, size, _ in stamp if size)


def _look(file: Path) -> tuple[int, int, int]:
    """Moment of change, size, number of the file; an empty or absent file is nothing."""
    try:
        seen = file.stat()
    except FileNotFoundError:
        return 0, 0, 0
    return (seen.st_mtime_ns, seen.st_size, seen.st_ino) if seen.st_size else (0, 0, 0)
