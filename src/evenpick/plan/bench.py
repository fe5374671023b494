"""Items' own work, each item standing alone: here, or in two processes that keep their items' models warm.

A process is this module run by the same Python: it reads a request and then questions, pickled, from its
standard input and answers on its standard output. Nothing is forked, so it runs alike on every system and
beside threads. Which process an item falls to never changes its answer.
"""

from __future__ import annotations

import os
import pickle
import signal
import subprocess
import sys
from collections.abc import Callable, Collection, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from types import TracebackType
from typing import Any

import numpy as np

import evenpick
from evenpick.base.arrays import Floats, Ints
from evenpick.base.chance import stream
from evenpick.plan.hands import HERE, Asked, Hands
from evenpick.plan.parts import Part, part_of, split
from evenpick.plan.price import Own, Reply
from evenpick.plan.request import Request
from evenpick.plan.search import Room, Step, descend, kicked, room_at_prices
from evenpick.plan.solver import INF
from evenpick.plan.whole import Tree, Whole, own_tree, spread

PROCESSES = 2
LARGE = 30_000  # supply entries from which starting processes pays


class WorkerLost(RuntimeError):
    """A process of ours ended early; what it wrote is on standard error."""


class Desk:
    """Some items' parts and warm models; `ask` is all that a process answers."""

    def __init__(self, request: Request, parts: dict[int, Part]) -> None:
        self.request, self.parts = request, parts
        self.own: dict[int, Own] = {}
        self.trees: dict[int, Tree] = {}

    def begin(self, request: Request, items: Sequence[int]) -> None:
        """Nothing: it was told when it was made."""

    def ask(self, question: str, item: int, *rest: Any) -> Any:
        return getattr(self, question)(item, *rest)

    def close(self) -> None:
        """Nothing: it is at home."""

    def _own(self, item: int) -> Own:
        if item not in self.own:
            self.own[item] = Own(self.request, self.parts[item])
        return self.own[item]

    def relax(self, item: int, charge: Floats, tolerance: float, rounds: int) -> Reply:
        return self._own(item).relax(charge, tolerance, rounds)

    def whole(
        self, item: int, start: Floats, nodes: int, charge: Floats, gap: float, fine: float
    ) -> Whole:
        """So many nodes further in the item's tree, which is planted when first asked for; `start` are areas of
        the item's members, the bound holds in every case, and the value is exact."""
        own = self._own(item)
        if not own.part.size:
            return Whole(start, own.nothing, own.nothing)
        tree = self.trees.get(item)
        if tree is None or not np.array_equal(tree.charge, charge):
            tree = self.trees[item] = own_tree(own, charge, start, gap, fine)
        else:
            tree.offer(spread(own, start))
        found = tree.run(nodes)
        return Whole(found.x[own.part.members], found.value, found.bound)

    def descent(self, item: int, charge: Floats, steps: int) -> Reply:
        """Plans on the way from bare ground at charges. The last gives the item's relaxation its cuts too,
        because they are tight there."""
        part = self.parts[item]
        way = descend(part, self._room(item, charge), np.zeros(part.size), steps)
        self._own(item).note(way[-1].x)
        return _reply(part, charge, way)

    def kicks(self, item: int, start: Floats, charge: Floats, kicks: int, steps: int, turn: int) -> Reply:
        """Better plans at charges from areas `start` of the item's members; they too give cuts."""
        part, own = self.parts[item], self._own(item)
        chance = stream(self.request.seed, "kicks", str(item), str(turn))
        way = kicked(part, self._room(item, charge), start, kicks, steps, chance, own.likely())
        own.note(way[-1].x)
        return _reply(part, charge, way)

    def _room(self, item: int, charge: Floats) -> Room:
        return room_at_prices(self.parts[item], self.request.candidates.cost + charge)


def _reply(part: Part, charge: Floats, way: Sequence[Step]) -> Reply:
    own = charge[part.members]
    return Reply(-INF, [step.x for step in way], [step.cost - float(own @ step.x) for step in way])


class Process:
    """A desk in a process of its own."""

    def __init__(self) -> None:
        root = str(Path(evenpick.__file__).parent.parent)
        path = os.pathsep.join([root, *filter(None, [os.environ.get("PYTHONPATH")])])
        one = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
        self._process = subprocess.Popen(
            [sys.executable, "-m", "evenpick.plan.bench"], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            env={**os.environ, **one, "PYTHONPATH": path},
        )

    def begin(self, request: Request, items: Sequence[int]) -> None:
        """What every later question is about; to be called once, first."""
        self._tell((request, list(items)))

    def _tell(self, thing: Any) -> None:
        assert self._process.stdin is not None
        try:
            pickle.dump(thing, self._process.stdin, pickle.HIGHEST_PROTOCOL)
            self._process.stdin.flush()
        except BrokenPipeError as lost:
            raise WorkerLost("a planning process ended early") from lost

    def ask(self, question: str, item: int, *rest: Any) -> Any:
        assert self._process.stdout is not None
        self._tell((question, item, *rest))
        try:
            return pickle.load(self._process.stdout)
        except EOFError as lost:
            raise WorkerLost("a planning process ended early") from lost

    def close(self) -> None:
        """End it, whatever it is doing."""
        self._process.kill()
        self._process.wait()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                try:
                    pipe.close()
                except BrokenPipeError:  # a question it never read
                    continue


@dataclass(slots=True)
class Bench:
    """All items of a request, at one desk or shared among processes; use it in a `with`."""

    request: Request
    hands: Hands = HERE
    parts: list[Part] = field(init=False)
    _desks: list[tuple[Asked, list[int]]] = field(init=False)
    _seats: list[Asked] = field(init=False)

    def __post_init__(self) -> None:
        items = range(len(self.request.items))
        alone = len(self.request.supply.kg) < LARGE or (os.cpu_count() or 1) < 2 or not sys.executable
        elsewhere = self.hands.seats()
        seats = ([] if alone else [Process] * PROCESSES) if elsewhere is None else elsewhere
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
        for seat in self._seats:
            seat.close()

    def beside(self, asking: Callable[[], None], other: Callable[[], None]) -> None:
        """Do `other`, which asks nothing here, while the processes answer what `asking` asks; one after the
        other at a single desk."""
        if not self._seats:
            asking()
            other()
            return
        with ThreadPoolExecutor(1) as pool:
            asked = pool.submit(asking)
            other()
            asked.result()

    def every(
        self, question: str, *rest: Any, each: Sequence[tuple[Any, ...]] | None = None,
        among: Collection[int] | None = None,
    ) -> list[Any]:
        """Every item's answer in the order of items; `each` holds further arguments per item. Items that are
        not `among` the asked ones have None."""
        answers: list[Any] = [None] * len(self.request.items)

        def ask(desk: Asked, items: list[int]) -> None:
            for i in items:
                if among is None or i in among:
                    own = () if each is None else each[i]
                    answers[i] = desk.ask(question, i, *own, *rest)

        with ThreadPoolExecutor(len(self._desks)) as pool:
            for done in [pool.submit(ask, desk, items) for desk, items in self._desks]:
                done.result()
        return answers


def halves(request: Request) -> list[list[int]]:
    """The items as two processes share them."""
    return _shares(request, PROCESSES)


def _shares(request: Request, processes: int) -> list[list[int]]:
    """Items in shares of like work: candidates times weeks in which they are wanted, the largest first."""
    size: Ints = np.bincount(request.candidates.item, minlength=len(request.items))
    work = (size + 10.0) * ((request.wanted > 0).sum(axis=1) + 10.0)
    found: list[list[int]] = [[] for _ in range(processes)]
    load = [0.0] * processes
    for i in np.argsort(-work, kind="stable"):
        least = load.index(min(load))
        found[least].append(int(i))
        load[least] += float(work[i])
    return found


def main() -> None:
    """Answer until the questions end. What anything else prints goes to standard error; a break at the
    keyboard is the asking process's to handle."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    questions, answers = sys.stdin.buffer, os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    request, items = pickle.load(questions)
    desk = Desk(request, {i: part_of(request, i) for i in items})
    while True:
        try:
            question = pickle.load(questions)
        except EOFError:
            return
        answer = pickle.dumps(desk.ask(*question), pickle.HIGHEST_PROTOCOL)
        try:
            answers.write(answer)
            answers.flush()
        except BrokenPipeError:  # whoever asked has gone: nobody is left to be told
            os._exit(0)


if __name__ == "__main__":
    main()
