"""Sowings brought onto ground that is too small for all of them, most left as they are (season.md, 6)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.search import part_cost, room_at_prices
from evenpick.plan.settled import Settled

CHANGES = 40  # sowings changed one by one; where that is not enough, all areas are settled anew
SHIFT = 14  # days by which one may be moved for it
HAIR = 1e-7  # m²


def onto_ground(task: Exact, x: Floats, settled: Settled) -> Floats:
    """The areas as far as there is ground for them.

    In the fullest row one sowing is made smaller, moved or left out, then in the fullest of what is left:
    each time the one that costs least for what it frees, a change of what is settled counted.
    """
    for _ in range(CHANGES):
        if task.fits(x):
            return x
        ways = _changes(task, x, settled)
        best = min(ways, key=lambda each: each.price, default=None)
        if best is None:
            break
        x = best.areas
    return x if task.fits(x) else best_areas(task, x)


@dataclass(frozen=True, slots=True)
class _Change:
    areas: Floats
    price: float
    """kg-equivalents for what it frees, of all rows that are too full, in parts of each"""


def _changes(task: Exact, x: Floats, settled: Settled) -> Iterator[_Change]:
    """What would make the fullest row less full: each of its sowings made smaller by what is too much, or
    moved."""
    rows, over = task.rows, _too_full(task, x)
    row = int(np.argmax(over))
    for entry in np.flatnonzero((rows.row == row) & (x[rows.candidate] > 0) & (rows.coefficient > 0)):
        j, each = int(rows.candidate[entry]), float(rows.coefficient[entry])
        left = float(x[j]) - over[row] * max(float(rows.limit[row]), 1.0) / each - HAIR
        area = left if left >= task.request.candidates.least[j] else 0.0
        item, now = int(task.request.candidates.item[j]), None
        for areas in (_with(x, j, area), *_moved(task, x, j)):
            freed = float(over.sum() - _too_full(task, areas).sum())
            if freed <= 0:
                continue
            now = _item_cost(task, item, x, settled) if now is None else now
            yield _Change(areas, (_item_cost(task, item, areas, settled) - now) / freed)


def _too_full(task: Exact, x: Floats) -> Floats:
    """By how much each row is, as a part of it."""
    over = task.rows.used(x) - task.rows.limit
    return np.asarray(np.maximum(over, 0.0) / np.maximum(task.rows.limit, 1.0))


def _with(x: Floats, j: int, area: float) -> Floats:
    after = x.copy()
    after[j] = area
    return after


def _moved(task: Exact, x: Floats, j: int) -> Iterator[Floats]:
    """Areas with a sowing on another day near by, in its own way and under its own cover."""
    c = task.request.candidates
    kind = c.label[j].rsplit("/", 1)[0]
    near = (c.item == c.item[j]) & (np.abs(c.day - c.day[j]) <= SHIFT) & (x == 0)
    for k in np.flatnonzero(near):
        if c.label[k].rsplit("/", 1)[0] == kind:
            yield _with(_with(x, j, 0.0), int(k), float(np.clip(x[j], c.least[k], c.most[k])))


def _item_cost(task: Exact, item: int, x: Floats, settled: Settled) -> float:
    """What one item costs at areas x, changes counted."""
    part = task.parts[item]
    room = replace(room_at_prices(part, task.request.candidates.cost), settled=settled.of(part.members))
    return part_cost(part, room, x[part.members])
