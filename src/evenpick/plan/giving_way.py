"""Room made for what is newly wished for, where the ground is full: something not sown yet gives way where
that is worth it (docs/design/season.md, 6)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.by_turns import STEPS, all_told, bettered
from evenpick.plan.crowded import onto_ground
from evenpick.plan.kept import Exact
from evenpick.plan.search import descend, room_left
from evenpick.plan.settled import Settled
from evenpick.plan.worth import Worth

SHARES = (1.0, 0.5, 0.0)  # of the ground's prices at which what is wished for answers


def with_room_made(task: Exact, x: Floats, asked: Sequence[int], settled: Settled) -> Floats:
    """Areas, m² per candidate, no dearer than `x`, changes of what is settled counted: each item that is
    `asked` for more sows as it would if it had all the ground at its present prices, the others give way
    where least is lost, and are bettered on what is left to them."""
    losses = task.losses(x)
    for item in sorted(asked, key=lambda each: -losses[each]):
        ways = [x, *(bettered(task, way, _fallen_to(task, x, way), settled)
                     for way in _ways(task, x, item, settled))]
        x = min(ways, key=lambda areas: all_told(task, areas, settled))
    return x


def _ways(task: Exact, x: Floats, item: int, settled: Settled) -> Iterator[Floats]:
    """The areas with what an item would sow at several shares of the ground's prices, brought onto the
    ground."""
    part, cost = task.parts[item], task.request.candidates.cost
    charge, tried = _charge(task, x), set[bytes]()
    for share in SHARES:
        room = room_left(part, task.rows, np.zeros(len(x)), cost + share * charge, settled)
        after = x.copy()
        after[part.members] = descend(part, room, x[part.members], STEPS)[-1].x
        if not np.array_equal(after, x) and after.tobytes() not in tried:
            tried.add(after.tobytes())
            yield onto_ground(task, after, settled)


def _charge(task: Exact, x: Floats) -> Floats:
    """What a square metre of each candidate takes of the ground at the ground's prices, kg-equivalents."""
    g, price = task.request.grounds, Worth(task.request, x).price
    taken = g.coefficient * price[g.row, g.week]
    return np.asarray(np.bincount(g.candidate, taken, minlength=len(x)), dtype=np.float64)


def _fallen_to(task: Exact, before: Floats, x: Floats) -> list[int]:
    """Items that have other areas than before."""
    return [item for item, part in enumerate(task.parts)
            if not np.array_equal(x[part.members], before[part.members])]
