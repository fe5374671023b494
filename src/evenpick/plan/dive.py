"""One group of columns for each item, found by fixing what the relaxation is surest of (planner.md, 9a)."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Set
from dataclasses import dataclass
from math import inf

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.solver import Model

SURE = (0.9, 0.6)
"""shares from which a group is fixed, with all others that have as much, or else the surest of all. The first
dive goes by the first, each later one by one of them"""
FEWEST, MOST = 3, 18
"""items that are chosen anew at a time"""
PATIENCE, TURNS = 12, 60
"""turns in a row that better nothing, and turns in all, after which the choice is left as it is"""
HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Dived:
    """Every column's value, what they cost, and the group of each item."""

    x: Floats
    cost: float
    made: Mapping[int, int]


class Dive:
    """A relaxation in which column `first` + g says whether group g is made; `item` is whose each group is,
    and every item has one. Without groups left that fit, and once it is `late`, nothing is found."""

    def __init__(self, model: Model, first: int, item: Ints, late: Callable[[], bool]) -> None:
        model.option("presolve", "off")  # each answer is a few pivots from the one before
        self._model, self._first, self._late = model, first, late
        self._places = first + np.arange(len(item))
        self._groups = [np.flatnonzero(item == i) for i in range(int(item.max()) + 1)]

    def best(self, chance: np.random.Generator) -> Floats | None:
        """The columns of the best found: a dive, then some items at a time let go and dived for again."""
        found, waited, items = self._down({}, SURE[0], inf), 0, len(self._groups)
        for _ in range(TURNS):
            if found is None or waited >= PATIENCE:
                break
            some = chance.choice(items, min(items, int(chance.integers(FEWEST, MOST))), replace=False)
            kept = {i: group for i, group in found.made.items() if i not in some}
            other = self._down(kept, float(chance.choice(SURE)), found.cost)
            found, waited = other or found, 0 if other else waited + 1
        return None if found is None else found.x

    def _down(self, made: Mapping[int, int], sure: float, under: float) -> Dived | None:
        """What is `made` of some items, and of the others what the relaxation has most of, a few at a time:
        only the surest where they do not fit together, and another where that one does not. None once it
        costs no less than `under`."""
        made, last, out = dict(made), dict[int, int](), set[int]()
        while not self._late():
            self._fix(made | last, out)
            answer = self._model.solve()
            if answer.x is None and last:
                surest, *others = last.items()
                if not others:
                    out.add(surest[1])
                last = dict([surest]) if others else {}
                continue
            if answer.x is None or answer.value >= under - HAIR * abs(answer.value):
                break
            made |= last
            if len(made) == len(self._groups):
                return Dived(answer.x, answer.value, made)
            last = self._surest(answer.x[self._first :], made, sure)
        return None

    def _fix(self, made: Mapping[int, int], out: Set[int]) -> None:
        lower, upper = np.zeros(len(self._places)), np.ones(len(self._places))
        upper[list(out)] = 0.0
        for i, group in made.items():
            upper[self._groups[i]] = 0.0
            lower[group] = upper[group] = 1.0
        self._model.set_some_bounds(self._places, lower, upper)

    def _surest(self, share: Floats, made: Mapping[int, int], sure: float) -> dict[int, int]:
        """Of each item that nothing is made of the group with the greatest share, the surest first: those
        that are sure, or one."""
        most = {i: int(groups[np.argmax(share[groups])])
                for i, groups in enumerate(self._groups) if i not in made}
        by_share = sorted(most.items(), key=lambda one: -float(share[one[1]]))
        return dict([one for one in by_share if share[one[1]] >= sure] or by_share[:1])
