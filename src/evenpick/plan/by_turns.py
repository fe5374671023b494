"""Items bettered one after another on the ground that the others leave by then."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.kept import Exact
from evenpick.plan.search import descend, room_left
from evenpick.plan.settled import Settled

STEPS = 6  # of descent, for each item


def bettered(task: Exact, start: Floats, items: Iterable[int], settled: Settled | None) -> Floats:
    """Areas, m² per candidate, after one descent of each of the items in that order; `settled` where it costs
    to change what is."""
    x = start.copy()
    for item in items:
        part = task.parts[item]
        room = room_left(part, task.rows, x, task.request.candidates.cost, settled)
        x[part.members] = descend(part, room, x[part.members], STEPS)[-1].x
    return x


def all_told(task: Exact, x: Floats, settled: Settled) -> float:
    """What areas cost, changes of what is settled counted; without end where they do not fit."""
    return task.cost(x) + settled.cost(x) if task.fits(x) else np.inf
