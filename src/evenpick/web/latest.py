"""Answers kept while the garden and its book are as they were, so that a page costs only its words."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from evenpick.base.errors import EvenpickError
from evenpick.service.other_farms import neighbours
from evenpick.service.setups import fetched_path, garden_of, is_cooperative
from evenpick.service.store_plan import plan_path
from evenpick.store.book import SUFFIX, book_path

Answer = TypeVar("Answer")
Stamp = tuple[tuple[int, int, int], ...]
TOO_YOUNG_NS = 20_000_000
"""a file changed this lately may change again within one tick of the file system's clock"""
MOST = 500
"""answers kept; beyond it all are dropped"""


@dataclass(frozen=True, slots=True)
class _Named:
    """Files that gardens name."""

    weather: tuple[Path, ...] = ()
    others: tuple[Path, ...] = ()
    """a farm's cooperative and the other farms, with what is written of them"""


class Latest:
    """Of one garden, or of a cooperative with its farms: an answer is kept until what it rests on changes.
    That is the description (its file, where there is one, the weather files that it names and the weather
    fetched for it), or that, the book and the older plan file; of a farm the other farms' books too, for what
    is lost there is picked here."""

    def __init__(self, garden: Path, farms: Sequence[Path] = ()) -> None:
        self.gardens = (garden, *farms)
        self._described = tuple(file for each in self.gardens for file in (each, fetched_path(each)))
        self._written = tuple(file for each in self.gardens for file in _written(each))
        self._kept: dict[Hashable, tuple[Stamp, Any]] = {}
        self._lock = threading.Lock()
        self._asking: dict[Hashable, threading.Lock] = {}
        self._named: tuple[Stamp, _Named] | None = None

    def get(self, question: Hashable, answer: Callable[[], Answer], set_up: bool = False) -> Answer:
        """The answer kept, or made now; two who ask the same at once wait for one. With `set_up` it rests on
        the garden's description alone."""
        with self._lock:
            kept = self._kept.get(question)
            if kept is not None and kept[0] == self.stamp(set_up):
                found: Answer = kept[1]
                return found
            turn = self._asking.setdefault(question, threading.Lock())
        with turn:
            stamp = self._settled(set_up)
            with self._lock:
                kept = self._kept.get(question)
                if kept is not None and kept[0] == stamp:
                    again: Answer = kept[1]
                    return again
            made = answer()
            with self._lock:
                if stamp == self.stamp(set_up) and not _young(stamp):
                    if len(self._kept) >= MOST:
                        self._kept.clear()
                    self._kept[question] = stamp, made
                self._asking.pop(question, None)
            return made

    def stamp(self, set_up: bool = False) -> Stamp:
        """Changes whenever something was written, or only in the garden's description."""
        described, written = _looks(self._described), _looks(self._written)
        alone = all(each.exists() and each.suffix != SUFFIX for each in self.gardens)
        named = self._files_named(described if alone else (*described, *written))
        weather = _looks(named.weather)
        if set_up and alone:
            return *described, *weather
        return *described, *weather, *written, *_looks(named.others)

    def _files_named(self, said: Stamp) -> _Named:
        """The files that the gardens name, read anew when what says so has another stamp. A garden at fault
        names none; it is read again the next time, for the fault may be a file that was not there."""
        if self._named is not None and self._named[0] == said:
            return self._named[1]
        try:
            named = _named_by(self.gardens)
        except EvenpickError:
            return _Named()
        if not _young(said):
            self._named = said, named
        return named

    def _settled(self, set_up: bool) -> Stamp:
        """The stamp, once its files have rested for a moment: whatever is written from then on changes it."""
        stamp = self.stamp(set_up)
        if _young(stamp):
            time.sleep(TOO_YOUNG_NS / 1e9)
            stamp = self.stamp(set_up)
        return stamp


def _named_by(gardens: Sequence[Path]) -> _Named:
    described = {each: garden_of(each) for each in gardens if not is_cooperative(each)}
    return _Named(
        tuple(file for garden in described.values() for file in garden.weather.files),
        tuple(file for each, garden in described.items() if garden.cooperative is not None
              for other in (garden.cooperative, *neighbours(each, garden))
              if other not in gardens for file in (other, *_written(other))),
    )


def _written(garden: Path) -> tuple[Path, ...]:
    """What is written of a garden while it is grown: its book, the book's log, the older plan file."""
    book = book_path(garden)
    return book, book.with_name(f"{book.name}-wal"), plan_path(garden)


def _looks(files: Iterable[Path]) -> Stamp:
    return tuple(map(_look, files))


def _young(stamp: Stamp) -> bool:
    return any(time.time_ns() - changed < TOO_YOUNG_NS for changed, size, _ in stamp if size)


def _look(file: Path) -> tuple[int, int, int]:
    """Moment of change, size, number of the file; an empty or absent file is nothing."""
    try:
        seen = file.stat()
    except FileNotFoundError:
        return 0, 0, 0
    return (seen.st_mtime_ns, seen.st_size, seen.st_ino) if seen.st_size else (0, 0, 0)
