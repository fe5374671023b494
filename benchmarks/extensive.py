"""A planning task as one plain programme over all years and flows: what the planner is measured beside."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.kept import Exact
from evenpick.plan.parts import Part
from evenpick.plan.request import Request
from evenpick.plan.solver import INF, Model


def extensive(request: Request) -> tuple[Model, int]:
    """Areas, sowings (not yet whole), and in every year kilograms from cells to layers of each week; with the
    number of candidates n: areas stand in the first n columns, sowings in the next n."""
    task, c = Exact.of(request), request.candidates
    n = len(c)
    costs, uppers, rows = [c.cost, c.trouble], [c.most, np.ones(n)], []
    lows, highs = [np.full(n, -INF), np.zeros(n)], [np.zeros(n), np.full(n, INF)]
    for factor in (-c.most, -c.least):
        rows += [(np.array([j, n + j]), np.array([1.0, factor[j]])) for j in range(n)]
    at = 2 * n
    for row in range(len(task.rows.limit)):
        own = task.rows.row == row
        rows.append((task.rows.candidate[own], task.rows.coefficient[own]))
    lows.append(np.full(len(task.rows.limit), -INF))
    highs.append(task.rows.limit)
    for part in task.parts:
        at = _item(part, at, request, costs, uppers, rows, lows, highs)
    model = Model(np.concatenate(costs), np.zeros(at), np.concatenate(uppers), request.seed)
    starts = np.concatenate([[0], np.cumsum([len(own) for own, _ in rows])[:-1]])
    model.add_rows(np.concatenate(lows), np.concatenate(highs), starts,
                   np.concatenate([own for own, _ in rows]), np.concatenate([value for _, value in rows]))
    return model, n


def _item(
    part: Part, at: int, request: Request, costs: list[Floats], uppers: list[Floats],
    rows: list[tuple[Ints, Floats]], lows: list[Floats], highs: list[Floats],
) -> int:
    """Columns: loss, threshold of the worst years, excess by year, then kilograms; rows for each."""
    own, r, years = part.losses, part.losses.request, request.years
    cells, s, weight = own.cells, r.supply, float(own.weight[0])
    threshold, excess, loss = at, at + 1 + np.arange(years), at + 1 + years + np.arange(years)
    lam, tail = request.risk_share, request.risk_tail
    costs += [np.array([lam]), np.full(years, lam / (tail * years)), np.full(years, (1 - lam) / years)]
    uppers += [np.full(1 + 2 * years, INF)]
    at += 1 + 2 * years
    spans = cells.last - cells.ripe + 1
    cell = np.repeat(np.arange(len(spans)), spans)
    week = cells.ripe[cell] + np.arange(len(cell)) - np.repeat(np.cumsum(spans) - spans, spans)
    layers, year = len(r.levels), cells.column
    flow = at + np.arange(len(cell) * layers).reshape(len(cell), layers)
    costs.append(np.zeros(flow.size))
    uppers.append(np.full(flow.size, INF))
    at += flow.size
    bounds = []
    entries = np.argsort(cells.of, kind="stable")
    first = np.searchsorted(cells.of[entries], np.arange(len(spans) + 1))
    firsts = np.cumsum(np.append(0, spans))
    for k in range(len(spans)):  # what is taken of a cell ≤ what ripens in it
        e = entries[first[k] : first[k + 1]]
        taken = flow[firsts[k] : firsts[k + 1]].ravel()
        rows.append((np.concatenate([taken, part.members[s.candidate[e]]]),
                     np.concatenate([np.ones(len(taken)), -s.kg[e]])))
        bounds.append((-INF, 0.0))
    wants = np.diff(r.levels, prepend=0.0)[:, None] * r.wanted[0]
    spare = r.spare_weight * weight
    for y in range(years):
        here = np.flatnonzero(year[cell] == y)
        for w in np.unique(week[here]):
            for k in range(layers):
                own_flow = flow[here[week[here] == w], k]
                rows.append((own_flow, np.ones(len(own_flow))))
                bounds.append((-INF, float(wants[k, w])))
        mine = flow[here]
        ripe = own.ripe_per_m2[:, y]
        rows.append((np.concatenate([[loss[y]], mine.ravel(), part.members]), np.concatenate(
            [[1.0], np.tile(weight * np.array(r.values) + spare, len(mine)), -spare * ripe])))
        bounds.append((float(own.all_lost[0]), INF))
        rows.append((np.array([excess[y], loss[y], threshold]), np.array([1.0, -1.0, 1.0])))
        bounds.append((0.0, INF))
    lows.append(np.array([a for a, _ in bounds]))
    highs.append(np.array([b for _, b in bounds]))
    return at
