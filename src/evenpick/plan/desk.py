"""Items' own work at one desk, their models warm; run as a process it answers what it is asked.

A process reads a request and then questions, pickled, from its standard input and writes answers to its
standard output.
"""

from __future__ import annotations

import os
import pickle
import sys
from collections.abc import Sequence
from typing import Any, BinaryIO

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.chance import stream
from evenpick.plan.parts import Part, part_of
from evenpick.plan.price import Own, Reply
from evenpick.plan.request import Request
from evenpick.plan.search import Room, Step, descend, kicked, room_at_prices
from evenpick.plan.solver import INF
from evenpick.plan.whole import Tree, Whole, own_tree, spread


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
        """So many nodes further in the item's tree, which is planted when first asked for; `start` are areas
        of the item's members, the bound holds in every case, and the value is exact."""
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


def main() -> None:
    """Answer until the questions end. What anything else prints goes to standard error."""
    questions, answers = sys.stdin.buffer, os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    load()
    serve(questions, answers)


def serve(questions: BinaryIO, answers: BinaryIO) -> None:
    """The request and a desk's items, then questions about them; till there are no more."""
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


def load() -> None:
    """What is slow to load, before it is asked for."""
    import highspy

    from evenpick.plan import loops

    del highspy, loops
