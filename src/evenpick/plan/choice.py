"""One whole succession for every item out of those found, on the shared ground (planner.md, 9)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.kept import Exact
from evenpick.plan.mixture import ground_prices, mixture
from evenpick.plan.solver import INF, Model, pack

NODES = 30
NEAR = 1e-3  # relative gap at which the choice ends
WIDER = 1.0  # of a plan's distance from the mixture: what a succession of a choice may cost beside it


@dataclass(frozen=True, slots=True)
class Succession:
    """An item's areas (its members), what they cost without charges, and what they take of each row."""

    areas: Floats
    cost: float
    used: Floats


class Choice:
    """Successions by item; sowing nothing is always one."""

    def __init__(self, task: Exact) -> None:
        self.task = task
        self.found: list[dict[bytes, Succession]] = [{} for _ in task.parts]
        self.known: list[list[Succession]] = []
        self.add(np.zeros(len(task.request.candidates)))

    def add(self, x: Floats) -> None:
        """Every item's succession in areas x of the whole request."""
        for i, part in enumerate(self.task.parts):
            self.add_own(i, x[part.members])

    def add_own(self, item: int, areas: Floats) -> None:
        """A succession of one item, areas of its members."""
        own, part, c = self.found[item], self.task.parts[item], self.task.request.candidates
        if (key := np.round(areas, 6).tobytes()) not in own:
            alone = np.zeros(len(c))
            alone[part.members] = areas
            cost = float(part.losses.items(areas)[0] + c.trouble @ (alone > 0) + c.cost @ alone)
            own[key] = Succession(areas, cost, self.task.rows.used(alone))

    def cheapest(self, charge: Floats) -> list[Floats]:
        """Each item's areas (its members) that cost least at charges per m² of candidates."""
        return [areas for _, areas in self._cheapest(charge)]

    def least(self, charge: Floats) -> Floats:
        """What they cost with the charges, (items,)."""
        return np.array([cost for cost, _ in self._cheapest(charge)])

    def _cheapest(self, charge: Floats) -> list[tuple[float, Floats]]:
        best = []
        for own, part in zip(self.found, self.task.parts, strict=True):
            extra = charge[part.members]
            charged = ((s.cost + float(extra @ s.areas), s.areas) for s in own.values())
            best.append(min(charged, key=lambda one: one[0]))
        return best

    def _columns(self) -> list[tuple[int, Succession]]:
        return [(i, s) for i, own in enumerate(self.found) for s in own.values()]

    def _model(self, columns: list[tuple[int, Succession]]) -> Model:
        owner, found = [i for i, _ in columns], [s for _, s in columns]
        cost, used = [s.cost for s in found], [s.used for s in found]
        rows, seed = self.task.rows.limit, self.task.request.seed
        return mixture(len(self.found), owner, cost, used, rows, 1.0, seed)

    def prices(self) -> Floats:
        """Prices on the ground at which the best mixture of successions stands."""
        return ground_prices(self._model(self._columns()), len(self.found))

    def tried(self, x: Floats) -> None:
        """Areas of the whole request that were settled: their successions are not chosen together again."""
        keys = (np.round(x[part.members], 6).tobytes() for part in self.task.parts)
        self.known.append([own[key] for own, key in zip(self.found, keys, strict=True)])

    def best(self, value: float) -> Floats | None:
        """Areas of the best choice that fits and was not tried; None if none was found.

        What the mixture's duals show to cost too much beside it and a plan at `value` is left out first.
        """
        items, columns = len(self.found), self._columns()
        mixed = self._model(columns).solve()
        prices, most = mixed.duals, WIDER * (value - mixed.value)
        over = [s.cost - prices[i] - float(prices[items:] @ s.used) for i, s in columns]
        columns = [column for column, extra in zip(columns, over, strict=True) if extra < most]
        if len({i for i, _ in columns}) < items:
            return None
        model = self._model(columns)
        self._leave_out_tried(model, columns)
        model.set_integer(np.arange(len(columns)))
        answer = model.solve_integer(NODES, NEAR, INF)
        if answer.x is None:
            return None
        x = np.zeros(len(self.task.request.candidates))
        for n in np.flatnonzero(answer.x > 0.5):
            i, succession = columns[n]
            x[self.task.parts[i].members] = succession.areas
        return x

    def _leave_out_tried(self, model: Model, columns: list[tuple[int, Succession]]) -> None:
        place = {id(succession): n for n, (_, succession) in enumerate(columns)}
        for known in self.known:
            if all(id(succession) in place for succession in known):
                most, ones = np.array([len(known) - 1.0]), np.ones(len(known))
                own: Ints = np.array([place[id(succession)] for succession in known])
                model.add_rows(np.array([-INF]), most, *pack([(own, ones)]))
