"""Some items together, on some ground, with cuts for losses (planner.md, 6).

Columns: areas x, sowings z, then each part's loss and its loss by year. The same model serves one item
at prices, all items on the whole ground, and a few items on the ground the others leave.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.cuts import MADE
from evenpick.plan.ground import GroundRows
from evenpick.plan.parts import Part, Row
from evenpick.plan.request import Request
from evenpick.plan.solver import INF, Answer, Model, pack

PACE = 1 / 3  # of its most: the area a sowing is taken to be made in before it ever was


@dataclass(frozen=True, slots=True)
class Point:
    """Areas and sowings over the whole request's candidates."""

    x: Floats
    z: Floats


class CutModel:
    """Parts on ground rows. `pace` is the area over the whole request's candidates at which each was last
    made, or would be."""

    def __init__(
        self, request: Request, parts: Sequence[Part], rows: GroundRows | None = None,
        pace: Floats | None = None,
    ) -> None:
        self.request, self.parts = request, list(parts)
        self.members = np.concatenate([part.members for part in parts])
        self.n = n = len(self.members)
        self.cuts: list[tuple[int, Row]] = []
        self._place(n, request.years)
        c = request.candidates
        self.most, self.least = c.most[self.members], c.least[self.members]
        self.trouble = c.trouble[self.members]
        losses = np.zeros(len(parts) * (1 + request.years))
        losses[:: 1 + request.years] = 1.0
        self.cost = np.concatenate([c.cost[self.members], self.trouble, losses])
        self.upper = np.concatenate([self.most, np.ones(n), np.full(len(losses), INF)])
        self.model = Model(self.cost, np.zeros(len(self.cost)), self.upper, request.seed)
        self._link(self.most, -INF, 0.0)
        self._link(self.least, 0.0, INF)
        self.grounds = 0 if rows is None else self._ground(rows)
        self.fixed = 2 * n + self.grounds
        """rows that are no cuts"""
        self.pace = PACE * c.most if pace is None else pace

    def _place(self, n: int, years: int) -> None:
        """Where each part's own columns stand among the model's."""
        self.place: list[Ints] = []
        start, loss = 0, 2 * n
        for part in self.parts:
            own = start + np.arange(part.size)
            self.place.append(np.concatenate([own, n + own, loss + np.arange(1 + years)]))
            start, loss = start + part.size, loss + 1 + years

    def _link(self, factor: Floats, lower: float, upper: float) -> None:
        n, j = self.n, np.arange(self.n)
        columns, values = np.stack([j, n + j], 1).ravel(), np.stack([np.ones(n), -factor], 1).ravel()
        self.model.add_rows(np.full(n, lower), np.full(n, upper), 2 * j, columns, values)

    def _ground(self, rows: GroundRows) -> int:
        mine = np.full(len(self.request.candidates), -1, dtype=np.int64)
        mine[self.members] = np.arange(self.n)
        column = mine[rows.candidate]
        keep = column >= 0
        row, column, value = rows.row[keep], column[keep], rows.coefficient[keep]
        starts = np.searchsorted(row, np.arange(len(rows.limit)))
        if len(rows.limit):
            self.model.add_rows(np.full(len(rows.limit), -INF), rows.limit, starts, column, value)
        return len(rows.limit)

    def add(self, cuts: Sequence[tuple[int, Row]]) -> None:
        """Cuts, each with the number of its part."""
        if not cuts:
            return
        self.cuts += cuts
        lower = np.array([row.lower for _, row in cuts])
        packed = pack([(self.place[part][row.columns], row.values) for part, row in cuts])
        self.model.add_rows(lower, np.full(len(cuts), INF), *packed)

    def clear(self) -> None:
        """Leave out the cuts that are slack at the last answer, which stays as it is."""
        kept = self.model.drop_slack_rows(self.fixed)
        self.cuts = [cut for cut, keep in zip(self.cuts, kept, strict=True) if keep]

    def count_sowings(self, order: Ints) -> Ints:
        """Columns for the number of sowings made up to each in `order`; to be called once, before any cut."""
        n, first = self.n, len(self.cost) + np.arange(self.n)
        self.model.add_columns(np.zeros(n), np.full(n, float(n)))
        columns = [np.array([first[k], n + order[k], *first[k - 1 : k][:k]]) for k in range(n)]
        values = [np.array([1.0, -1.0, -1.0])[: len(own)] for own in columns]
        self.model.add_rows(np.zeros(n), np.zeros(n), *pack(list(zip(columns, values, strict=True))))
        self.fixed += n
        return np.asarray(first)

    def set_charge(self, charge: Floats, trouble: Floats | None = None) -> None:
        """Charge areas (whole request's order) on top of their cost; other trouble for slope scaling."""
        cost = self.cost.copy()
        cost[: self.n] = (self.request.candidates.cost + charge)[self.members]
        if trouble is not None:
            cost[self.n : 2 * self.n] = trouble[self.members]
        self.model.set_cost(cost)

    def set_ground(self, limit: Floats) -> None:
        """Other limits of the ground rows. Every cut holds on any ground."""
        self.model.set_row_limits(2 * self.n, limit)

    def hold(self, made: Bools | None) -> None:
        """Only these sowings, each made; None frees all. `made` is over the model's own order."""
        lower, upper = np.zeros(len(self.upper)), self.upper.copy()
        if made is not None:
            upper[: self.n] = np.where(made, self.most, 0.0)
            lower[self.n : 2 * self.n] = upper[self.n : 2 * self.n] = made
        self.model.set_bounds(lower, upper)

    def point(self, answer: Answer) -> Point:
        """An answer as areas and sowings of the whole request, nought for other parts."""
        assert answer.x is not None
        n, total = self.n, len(self.request.candidates)
        x, z = np.zeros(total), np.zeros(total)
        x[self.members] = np.where(answer.x[:n] > MADE, np.minimum(answer.x[:n], self.most), 0.0)
        z[self.members] = np.clip(answer.x[n : 2 * n], 0.0, 1.0)
        return Point(x, z)

    def refine(self, point: Point, slack: float = 0.0, answer: Answer | None = None) -> tuple[float, float]:
        """Add every part's cuts at a point; returns exact losses and the cuts' values there, summed.

        Cuts within `slack` of what the answer already had for the year are left out.
        """
        exact = bound = 0.0
        made = point.x > MADE
        pace = point.x[made] / np.maximum(point.z[made], 1e-12)
        self.pace[made] = np.minimum(pace, self.request.candidates.most[made])
        for number, part in enumerate(self.parts):
            x, z = point.x[part.members], point.z[part.members]
            loss, value, rows = part.cut(x, z, self.pace[part.members])
            exact, bound = exact + loss, bound + value
            if answer is not None and answer.x is not None:
                own = answer.x[self.place[number]]
                rows = [row for row in rows if row.lower - row.values @ own[row.columns] > slack]
            self.add([(number, row) for row in rows])
        return exact, bound

    def prices(self, answer: Answer) -> Floats:
        """What a unit more of each ground row would save, ≥ 0."""
        return np.maximum(-answer.duals[2 * self.n : 2 * self.n + self.grounds], 0.0)

    def priced(self, answer: Answer) -> Bools:
        """Which cuts have a price at the answer, of those there were."""
        return np.asarray(np.abs(answer.duals[self.fixed :]) > 1e-9)
