"""What is in the way of an item: a limit is named only where the item is served better without it
(docs/design/season.md, 16)."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass, replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.language import tell
from evenpick.base.language import together as all_of
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.kept import Exact
from evenpick.plan.parts import Part, part_of
from evenpick.plan.request import Request
from evenpick.plan.search import Step, descend, room_left
from evenpick.plan.task import Task
from evenpick.service.binding import FULL, when_full
from evenpick.service.in_the_way_words import EVERYTHING, LITTLE, OVER, TROUBLE, UNSOWN

NOTED = 0.05
"""of what the item costs the plan: what plenty of a row must gain it to be told"""
HELPS, MORE = 0.15, 0.02
"""of what is missing and might be there: what must come of a limit loosened to be named; and of a row, which
is to pay for the plan as well (our choice)"""
EASED = 0.25
"""of what a sowing must bring: from the usual two portions to the least that a garden file may ask. Where
nothing is sown at all it may be nothing: a wish for more of it would mend that as well"""
STEPS, FARTHER = 3, 8  # of descent: enough to see whether a row is in the way; and any other limit
TO_ITS_END = 100  # of descent: as many as bring what plenty of the row that is named would
ENDLESS = 1e9
NEARLY = 0.8  # of the greatest gain: nearly as good, and told if it comes first


@dataclass(frozen=True, slots=True)
class Short:
    """An item of which something is missing that might be there."""

    work: Task
    task: Exact
    areas: Floats
    number: int
    horizon: Horizon
    mendable: float
    """kg of the first year, all years together, where something that can be sown is ripe"""

    @property
    def part(self) -> Part:
        return self.task.parts[self.number]

    @property
    def now(self) -> Floats:
        return self.areas[self.part.members]

    def better(self, x: Floats) -> float:
        """What areas of the item's own leave less missing than it is, a share of what is mendable."""
        return (self._missing(self.now) - self._missing(x)) / max(self.mendable, 1e-9)

    def _missing(self, x: Floats) -> float:
        losses, weeks = self.part.losses, np.flatnonzero(self.work.request.wanted[self.number] > 0)
        unmet = losses.sweep(x).unmet[: weeks.size, -losses.request.years :]  # the last layer is the whole
        return float(unmet[weeks < YEAR_WEEKS].sum())


@dataclass(frozen=True, slots=True)
class InTheWay:
    words: str
    mends: float | None = None
    """share of what is mendable that plenty of the limit named would bring; None: no one limit is named"""
    smaller_sowings_mend: bool = False
    """whether it would be mended by letting a sowing bring less"""


def in_the_way(short: Short) -> InTheWay:
    """The one thing of which plenty, all else as it is, would better the item most; or the trouble of a
    sowing, or what would go over, where more would come of it without."""
    return _rows(short) or _of_sowings(short)


def _of_sowings(short: Short) -> InTheWay:
    """What is in the way where no limit is."""
    request = short.task.request
    if not short.now.any() and _helps(short, _eased(request, 0.0)):
        return InTheWay(tell(UNSOWN), smaller_sowings_mend=True)
    trouble = _helps(short, _eased(request, EASED))
    over = _helps(short, replace(request, spare_weight=0.0))
    found = [tell(words) for words, is_so in ((TROUBLE, trouble), (OVER, over)) if is_so]
    if found:
        return InTheWay("; ".join(found), smaller_sowings_mend=trouble)
    free = replace(_eased(request, 0.0), spare_weight=0.0)
    return InTheWay(tell(EVERYTHING if _helps(short, free, set(free.grounds.names)) else LITTLE))


def _eased(request: Request, left: float) -> Request:
    """With so much left of the trouble of each sowing."""
    c = request.candidates
    return replace(request, candidates=replace(c, trouble=left * c.trouble))


def _helps(short: Short, loosened: Request, plenty: Set[str] = frozenset()) -> bool:
    """Whether enough comes of the request as it is loosened, on the ground that the others leave."""
    part = part_of(loosened, short.number)
    way = _with_plenty(short, part, plenty, FARTHER)
    return short.better(way[-1].x) >= HELPS


def _rows(short: Short) -> InTheWay | None:
    """The row, or the two rows, of which there is not enough; None where it is not that."""
    task, areas = short.task, short.areas
    least = NOTED * _cost(short)
    gains: dict[str, float] = {}
    for name in _full(short):
        way = _with_plenty(short, short.part, {name})
        if short.better(way[-1].x) >= MORE:
            gains[name] = way[0].cost - way[-1].cost
    most = max(gains.values(), default=0.0)
    # rows come in the order of the grower's means: open ground before the tunnel, ground before hours
    best = next((name for name, gain in gains.items() if gain >= NEARLY * most), None)
    if best is not None and most >= least:
        words = tell("not enough {best}", best=when_full(task, areas, best, short.horizon))
        return InTheWay(words, short.better(_with_plenty(short, short.part, {best}, TO_ITS_END)[-1].x))
    both = [when_full(task, areas, each, short.horizon) for each in _wanting(short, least)]
    if len(both) == 1:
        return InTheWay(tell("not enough {best}", best=both[0]))
    return InTheWay(tell("not enough {plainly}, together", plainly=all_of(both))) if both else None


def _full(short: Short) -> list[str]:
    """Names of the rows that are taken up in some week in which the item might take of them: plenty of
    another changes nothing of it, such as of another family's ground, or of hours on a farm that grows none
    of it."""
    rows, request = short.task.rows, short.work.request
    full = rows.used(short.areas) >= FULL * rows.limit
    own = np.isin(rows.candidate, short.part.members) & (rows.coefficient > 0)
    full &= np.bincount(rows.row[own], minlength=len(rows.limit)) > 0
    return [request.grounds.names[row] for row in np.unique(rows.key[full] // request.weeks)]


def _cost(short: Short) -> float:
    part, c, areas = short.part, short.work.request.candidates, short.now
    trouble, cost = c.trouble[part.members], c.cost[part.members]
    return float(part.losses.items(areas)[0] + trouble @ (areas > 0) + cost @ areas)


def _with_plenty(short: Short, part: Part, plenty: Set[str], steps: int = STEPS) -> list[Step]:
    """From the areas as they are, on the ground the others leave, with no limit on some rows."""
    request, rows = short.work.request, short.task.rows
    free = np.isin(rows.key // request.weeks, [request.grounds.names.index(name) for name in plenty])
    wide = replace(rows, limit=np.where(free, ENDLESS, rows.limit))
    return descend(part, room_left(part, wide, short.areas, request.candidates.cost), short.now, steps)


def _wanting(short: Short, least: float) -> list[str]:
    """The two rows that the item would overfill most if all were plenty; none if it would gain little."""
    names, task = short.work.request.grounds.names, short.task
    way = _with_plenty(short, short.part, set(names))
    if way[0].cost - way[-1].cost < least or short.better(way[-1].x) < MORE:
        return []
    x = short.areas.copy()
    x[short.part.members] = way[-1].x
    over = task.rows.used(x) / np.maximum(task.rows.limit, 1e-9) - 1.0
    excess = np.bincount(task.rows.key // short.work.request.weeks, np.maximum(over, 0.0), len(names))
    return [names[row] for row in np.argsort(-excess, kind="stable")[:2] if excess[row] > 0]
