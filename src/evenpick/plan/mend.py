"""A plan mended from the one before: the first answer after a loss or a change, in a second or two
(docs/design/season.md, 6)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.by_turns import all_told, bettered
from evenpick.plan.crowded import onto_ground
from evenpick.plan.giving_way import with_room_made
from evenpick.plan.kept import Exact, best_areas
from evenpick.plan.request import Request
from evenpick.plan.settled import Farms, Settled

TINY = 1e-9  # of a loss, kg-equivalents
FINE = 1e-3  # of the stake: how near to their best the areas are brought


@dataclass(frozen=True, slots=True)
class Before:
    """The plan before, as m² for each candidate of the new one."""

    areas: Floats
    """to be sown on that very day"""
    late: Floats
    """of sowings whose own day can't be kept, on the first that is still open for them"""
    asked: tuple[int, ...] = ()
    """items of which more is wanted than the plan before was made for"""


@dataclass(frozen=True, slots=True)
class Mended:
    """Areas in m² per candidate, their exact cost, and that of sowing nothing more. Nothing is proven."""

    areas: Floats
    value: float
    nothing: float
    settled: Settled
    """what was planned before, and what it costs to make it another"""


def mended(
    request: Request, before: Floats, late: Floats | None = None, *, change: float = 0.0,
    farm: Ints | None = None, asked: Sequence[int] = (),
) -> Mended:
    """The areas of the plan before, m² per candidate, bettered item by item on the ground the others leave;
    what came `late` is taken up first, as far as there is ground for it and it pays.

    To make one of the sowings before other than it was (in another area, on another day, not at all) must be
    worth `change` times the trouble of a sowing; to make it on another farm (`farm` says whose each candidate
    is) as much again, and so where it comes late. Each item is worked on once, the one at the greatest loss
    first; and so again, the one first of which the greatest share is lost: the better of both stands. For
    items that are `asked` for more than before something gives way where that is worth it (`giving_way`).
    Same inputs, same plan; no other process is started.
    """
    task, c = Exact.of(request), request.candidates
    planned = _bounded(task, before if late is None else before + late)
    farms = None if farm is None else Farms(farm, planned)
    settled = Settled(_bounded(task, before), change * c.trouble, farms)
    x = onto_ground(task, planned, settled)
    none = np.zeros(len(x))
    lost, at_stake = task.losses(x), np.maximum(task.losses(none), TINY)
    orders = {tuple(np.argsort(-order, kind="stable").tolist()): None for order in (lost, lost / at_stake)}

    charged = change > 0
    ways = (bettered(task, x, order, settled if charged else None) for order in orders)
    x = min(ways, key=lambda areas: all_told(task, areas, settled))
    x = with_room_made(task, x, asked, settled)
    fine = best_areas(_holding(task, x, settled.same(x) & charged), x, FINE) if len(x) else x
    found = min((x, fine), key=lambda areas: task.cost(areas) if task.fits(areas) else np.inf)
    return Mended(found, task.cost(found), task.cost(none), settled)


def _bounded(task: Exact, areas: Floats) -> Floats:
    c = task.request.candidates
    return np.where(areas > 0, np.clip(areas, c.least, c.most), 0.0)


def _holding(task: Exact, x: Floats, held: Bools) -> Exact:
    """The task in which some of the sowings can be made in their areas alone."""
    c, held = task.request.candidates, held & (x > 0)
    least, most = np.where(held, x, c.least), np.where(held, x, c.most)
    return replace(task, request=replace(task.request, candidates=replace(c, least=least, most=most)))
