"""Sowings brought onto ground that is too small for all of them, most left as they are (season.md, 6)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.search import Settled

CUTS = 40  # sowings made smaller one by one; where that is not enough, all areas are settled anew
HAIR = 1e-7  # m²


def onto_ground(task: Exact, x: Floats, settled: Settled) -> Floats:
    """The areas as far as there is ground for them.

    In the fullest row one sowing is made smaller, or left out, then in the fullest of what is left: each time
    the one that costs least for what it frees, a change of what is settled counted.
    """
    for _ in range(CUTS):
        if task.fits(x):
            return x
        over = task.rows.used(x) - task.rows.limit
        row = int(np.argmax(over / np.maximum(task.rows.limit, 1.0)))
        cut = min(_cuts(task, x, row, float(over[row]), settled), key=lambda each: each.price, default=None)
        if cut is None:
            break
        x = x.copy()
        x[cut.at] = cut.area
    return x if task.fits(x) else best_areas(task, x)


@dataclass(frozen=True, slots=True)
class _Cut:
    at: int
    area: float
    price: float
    """kg-equivalents for each unit of the row that it frees, no more than it is too full by"""


def _cuts(task: Exact, x: Floats, row: int, over: float, settled: Settled) -> Iterator[_Cut]:
    """Each sowing of a row too full by `over`, with the area that would mend it and what that costs."""
    rows, c = task.rows, task.request.candidates
    for entry in np.flatnonzero((rows.row == row) & (x[rows.candidate] > 0) & (rows.coefficient > 0)):
        j, each = int(rows.candidate[entry]), float(rows.coefficient[entry])
        left = float(x[j]) - over / each - HAIR
        area = left if left >= c.least[j] else 0.0
        then = x.copy()
        then[j] = area
        more = _item_cost(task, int(c.item[j]), then, settled) - _item_cost(task, int(c.item[j]), x, settled)
        yield _Cut(j, area, more / min(over, each * (float(x[j]) - area)))


def _item_cost(task: Exact, item: int, x: Floats, settled: Settled) -> float:
    """What one item costs at areas x, changes counted."""
    part, c = task.parts[item], task.request.candidates
    own = x[part.members]
    outlay = c.trouble[part.members] @ (own > 0) + c.cost[part.members] @ own
    return float(part.losses.items(own)[0] + outlay + settled.of(part.members).changed(own).sum())
