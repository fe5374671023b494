"""A plan mended from the one before: the first answer after a loss or a change, in a second or two
(docs/design/season.md, 6)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.request import Request
from evenpick.plan.search import descend, room_left

STEPS = 6  # of descent, for each item
FINE = 1e-3  # of the stake: how near to their best the areas are brought


@dataclass(frozen=True, slots=True)
class Before:
    """The plan before, as m² for each candidate of the new one."""

    areas: Floats
    """to be sown on that very day"""
    late: Floats
    """of sowings whose own day can't be kept, on the first that is still open for them"""


@dataclass(frozen=True, slots=True)
class Mended:
    """Areas in m² per candidate, their exact cost, and that of sowing nothing more. Nothing is proven."""

    areas: Floats
    value: float
    nothing: float


def mended(request: Request, before: Floats, late: Floats | None = None) -> Mended:
    """The areas of the plan before, m² per candidate, bettered item by item on the ground the others leave;
    what came `late` is taken up first, as far as there is ground for it and it pays.

    The item at the greatest loss is worked on first, and each once. Same inputs, same plan; no other process
    is started.
    """
    task = Exact.of(request)
    x = _fitting(task, before if late is None else before + late)
    nothing = task.cost(np.zeros(len(x)))
    for i in np.argsort(-task.losses(x), kind="stable"):
        part = task.parts[i]
        room = room_left(part, task.rows, x, request.candidates.cost)
        x[part.members] = descend(part, room, x[part.members], STEPS)[-1].x
    settled = best_areas(task, x, FINE) if len(x) else x
    found = min((x, settled), key=lambda areas: task.cost(areas) if task.fits(areas) else np.inf)
    return Mended(found, task.cost(found), nothing)


def _fitting(task: Exact, before: Floats) -> Floats:
    """The areas as far as they still may be: within their bounds, and on the ground there is."""
    c = task.request.candidates
    x = np.where(before > 0, np.clip(before, c.least, c.most), 0.0)
    return x if task.fits(x) else best_areas(task, x)

