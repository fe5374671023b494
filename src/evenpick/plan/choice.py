"""One whole succession for every item out of those found, on the shared ground (planner.md, 9a)."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.chance import stream
from evenpick.plan.dive import Dive
from evenpick.plan.kept import Exact
from evenpick.plan.mixture import ground_prices, mixture
from evenpick.plan.solver import INF, Model, pack

NODES = 10
NEAR = 3e-3  # relative gap at which the choice ends; settling the areas gains more
FEW = 50  # items up to which an integer programme chooses; of more it takes ten times as long as diving
WIDER = 0.5  # of a plan's distance from the mixture: what a succession of a choice may cost beside it
LEAST_SHARE = 0.02  # of a succession in the mixture that is worth a trial
THINNER = 0.7  # of its areas: every succession's second form


Sowings: TypeAlias = tuple[int, bytes]
"""An item and which of its sowings are made, in whatever areas"""


@dataclass(frozen=True, slots=True)
class Succession:
    """An item's areas (its members), what they cost without charges, and what they take of each row."""

    areas: Floats
    cost: float
    used: Floats

    sowings: Sowings


def _sowings(item: int, areas: Floats) -> Sowings:
    return item, (areas > 0).tobytes()


class Choice:
    """Successions by item; sowing nothing is always one."""

    def __init__(self, task: Exact) -> None:
        self.task = task
        self.found: list[dict[bytes, Succession]] = [{} for _ in task.parts]
        self.known: dict[tuple[Sowings, ...], None] = {}
        self.add(np.zeros(len(task.request.candidates)))

    def add(self, x: Floats) -> None:
        """Every item's succession in areas x of the whole request."""
        for i, part in enumerate(self.task.parts):
            self.add_own(i, x[part.members])

    def add_own(self, item: int, areas: Floats) -> None:
        """A succession of one item, areas of its members, and a thinner one of the same sowings."""
        least = self.task.request.candidates.least[self.task.parts[item].members]
        self._keep(item, areas)
        self._keep(item, np.where(areas > 0, np.maximum(THINNER * areas, np.minimum(least, areas)), 0.0))

    def _keep(self, item: int, areas: Floats) -> None:
        own, part, c = self.found[item], self.task.parts[item], self.task.request.candidates
        if (key := np.round(areas, 6).tobytes()) not in own:
            alone = np.zeros(len(c))
            alone[part.members] = areas
            cost = float(part.losses.items(areas)[0] + c.trouble @ (alone > 0) + c.cost @ alone)
            own[key] = Succession(areas, cost, self.task.rows.used(alone), _sowings(item, areas))

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

    def unmade(self, x: Floats) -> list[tuple[Sowings, Floats]]:
        """Of each item's successions that the best mixture makes and areas of the whole request do not, the
        cheapest of the same sowings, by the share made of them, the most first."""
        columns = self._columns()
        shares, mine = self._model(columns).solve().x, set(self._sowings_of(x))
        assert shares is not None
        groups = {key: own for key, own in _by_sowings(columns).items() if key not in mine}
        made = sorted(groups, key=lambda key: -float(shares[groups[key]].sum()))
        return [
            (key, min((columns[n][1] for n in groups[key]), key=lambda one: one.cost).areas)
            for key in made if shares[groups[key]].sum() > LEAST_SHARE
        ]

    def _sowings_of(self, x: Floats) -> tuple[Sowings, ...]:
        return tuple(_sowings(i, x[part.members]) for i, part in enumerate(self.task.parts))

    def tried(self, x: Floats) -> None:
        """Areas of the whole request that were settled: their sowings are not chosen together again."""
        self.known[self._sowings_of(x)] = None

    def best(self, value: float, late: Callable[[], bool] = lambda: False) -> Floats | None:
        """Areas of the best choice that fits, of sowings not tried together; None if none was found, also
        until `late` said that it is not wanted any more.

        Sowings that the mixture's duals show to cost too much beside it and a plan at `value` are left out
        first.
        """
        columns = self._worth_it(value)
        groups = _by_sowings(columns)
        if len({i for i, _ in groups}) < len(self.found):
            return None
        model, first = self._model(columns), len(columns)
        _one_each(model, first, list(groups.values()))
        self._leave_out_tried(model, {sowings: first + n for n, sowings in enumerate(groups)})
        whose: Ints = np.array([item for item, _ in groups])
        shares = self._shares(model, first, whose, late)
        if shares is None:
            return None
        x = np.zeros(len(self.task.request.candidates))
        for (item, _), own in groups.items():
            share = shares[own]
            if share.sum() > 0.5:
                areas = share @ np.array([columns[n][1].areas for n in own]) / share.sum()
                x[self.task.parts[item].members] = areas
        return x

    def _shares(
        self, model: Model, first: int, whose: Ints, late: Callable[[], bool]
    ) -> Floats | None:
        """The columns' values where one of each item's groups is made, whose own columns begin at `first`."""
        if len(self.found) > FEW:
            chance = stream(self.task.request.seed, "choice", str(len(self.known)))
            return Dive(model, first, whose, late).best(chance)
        model.set_integer(first + np.arange(len(whose)))
        return model.solve_integer(NODES, NEAR, INF, late).x

    def _worth_it(self, value: float) -> list[tuple[int, Succession]]:
        """The columns of sowings that may be part of a better plan."""
        items, columns = len(self.found), self._columns()
        mixed = self._model(columns).solve()
        prices, most = mixed.duals, WIDER * (value - mixed.value)
        over = [s.cost - prices[i] - float(prices[items:] @ s.used) for i, s in columns]
        kept = {s.sowings for (_, s), extra in zip(columns, over, strict=True) if extra < most}
        return [(i, s) for i, s in columns if s.sowings in kept]

    def _leave_out_tried(self, model: Model, place: Mapping[Sowings, int]) -> None:
        for known in self.known:
            if all(sowings in place for sowings in known):
                own: Ints = np.array([place[sowings] for sowings in known])
                most, ones = np.array([len(known) - 1.0]), np.ones(len(known))
                model.add_rows(np.array([-INF]), most, *pack([(own, ones)]))


def _by_sowings(columns: Sequence[tuple[int, Succession]]) -> dict[Sowings, list[int]]:
    """Places of columns that differ in their areas alone. Losses are convex in areas, so a mixture of them is
    a succession that costs no more."""
    found: dict[Sowings, list[int]] = {}
    for n, (_, succession) in enumerate(columns):
        found.setdefault(succession.sowings, []).append(n)
    return found


def _one_each(model: Model, first: int, groups: Sequence[Sequence[int]]) -> None:
    """A column for each group of columns, 1 where it is the chosen one, from `first` on."""
    n = len(groups)
    model.add_columns(np.zeros(n), np.ones(n))
    rows = [
        (np.array([*own, first + k]), np.array([*np.ones(len(own)), -1.0])) for k, own in enumerate(groups)
    ]
    model.add_rows(np.zeros(n), np.zeros(n), *pack(rows))
