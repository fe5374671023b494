"""Items' own work, each item standing alone: here, or in processes that keep their items' models warm.

A process is a `seat`. Which process an item falls to never changes its answer.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Collection, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from threading import Lock
from types import TracebackType
from typing import Any

import numpy as np

from evenpick.base.arrays import Ints
from evenpick.plan.desk import Desk
from evenpick.plan.hands import HERE, Asked, Hands
from evenpick.plan.parts import Part, split
from evenpick.plan.request import Request

MOST = 8  # processes, each of which holds its items' share of the request
LARGE = 30_000  # supply entries from which starting processes pays


class Late(Exception):
    """What was asked is not wanted any more; no fault of anybody's."""


def processes(request: Request) -> int:
    """How many work on a request: one for each core, none where they do not pay."""
    cores = min(os.cpu_count() or 1, MOST, len(request.items))
    return cores if cores > 1 and sys.executable and len(request.supply.kg) >= LARGE else 0


@dataclass(slots=True)
class Bench:
    """All items of a request, at one desk or shared among processes; use it in a `with`."""

    request: Request
    hands: Hands = HERE
    parts: list[Part] = field(init=False)
    _desks: list[tuple[Asked, list[int]]] = field(init=False)
    _seats: list[Asked] = field(init=False)
    over: bool = field(init=False, default=False)
    """broken off: nothing more is wanted"""

    def __post_init__(self) -> None:
        items = range(len(self.request.items))
        seats = self.hands.seats(processes(self.request))
        shared = _shares(self.request, len(seats)) if seats else []
        self._seats = [seat() for seat in seats]
        self.parts = split(self.request)  # while they start
        for seat, share in zip(self._seats, shared, strict=True):
            seat.begin(self.request, share)
        self._desks = list(zip(self._seats, shared, strict=True))
        if not self._seats:
            self._desks = [(Desk(self.request, dict(enumerate(self.parts))), list(items))]

    def __enter__(self) -> Bench:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._close()

    def _close(self) -> None:
        self.over = True
        for seat in self._seats:
            seat.close()

    @contextmanager
    def _threads(self, many: int) -> Iterator[ThreadPoolExecutor]:
        """Threads that ask. Where it is broken off, what they wait for is ended and not waited for."""
        with ThreadPoolExecutor(many) as pool:
            try:
                yield pool
            except BaseException:
                self._close()
                raise

    def beside(self, asking: Callable[[], None], other: Callable[[], None]) -> None:
        """Do `other`, which asks nothing here, while the processes answer what `asking` asks; one after the
        other at a single desk. This thread only waits, so that it hears a break at once."""
        with self._threads(2) as pool:
            asked = pool.submit(asking)
            if not self._seats:
                asked.result()
            pool.submit(other).result()
            asked.result()

    def every(
        self, question: str, *rest: Any, each: Sequence[tuple[Any, ...]] | None = None,
        among: Collection[int] | None = None, late: Callable[[], bool] = lambda: False,
        heard: Callable[[int, Any], None] = lambda item, answer: None,
    ) -> list[Any]:
        """Every item's answer in the order of items; `each` holds further arguments per item. Items that are
        not `among` the asked ones have None. Raises Late once `late` says so, which is asked before each
        item. `heard` is told each answer as it comes, one at a time, in no order to rely on."""
        answers: list[Any] = [None] * len(self.request.items)
        one_at_a_time = Lock()

        def ask(desk: Asked, items: list[int]) -> None:
            for i in items:
                if self.over or late():
                    raise Late
                if among is None or i in among:
                    own = () if each is None else each[i]
                    answers[i] = desk.ask(question, i, *own, *rest)
                    with one_at_a_time:
                        heard(i, answers[i])

        with self._threads(len(self._desks)) as pool:
            for done in [pool.submit(ask, desk, items) for desk, items in self._desks]:
                done.result()
        return answers


def halves(request: Request) -> list[list[int]]:
    """The items in two shares of like work, however many processes there are."""
    return _shares(request, 2)


def _shares(request: Request, count: int) -> list[list[int]]:
    """Items in shares of like work: candidates times weeks in which they are wanted, the largest first."""
    size: Ints = np.bincount(request.candidates.item, minlength=len(request.items))
    work = (size + 10.0) * ((request.wanted > 0).sum(axis=1) + 10.0)
    found: list[list[int]] = [[] for _ in range(count)]
    load = [0.0] * count
    for i in np.argsort(-work, kind="stable"):
        least = load.index(min(load))
        found[least].append(int(i))
        load[least] += float(work[i])
    return found
