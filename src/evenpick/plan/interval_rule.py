"""The rule that the plan is held against: each wanted crop every two or three weeks in its season, in
equal amounts, on the same ground."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.options import Batch
from evenpick.plan.request import Request
from evenpick.plan.task import Option, Task

INTERVALS = (14, 21)
SCALES = (0.7, 1.0, 1.4)
"""times the year's wish that all sowings of an item together are reckoned to give"""


@dataclass(frozen=True, slots=True)
class Rule:
    """One setting of the rule, with the areas (m² per candidate) that it comes to."""

    interval: int
    scale: float
    areas: Floats

    @property
    def words(self) -> str:
        return f"every {self.interval // 7} weeks, {self.scale:g} times the year's wish"


def rules(task: Task) -> Iterator[Rule]:
    """All six settings, each made as far as the ground goes."""
    for interval in INTERVALS:
        chosen = _chosen(task.options, interval)
        for scale in SCALES:
            yield Rule(interval, scale, fitted(task.request, _equal(task.request, chosen, scale)))


def _chosen(options: tuple[Option, ...], interval: int) -> Ints:
    """Candidates on which the rule sows: the usual way and cover of each crop, at the interval."""
    usual: dict[tuple[int, int, str], Batch] = {}
    last: dict[tuple[int, int, str], int] = {}
    chosen = []
    for number, option in enumerate(options):
        batch, key = option.batch, (option.farm, option.item, option.batch.crop.key)
        # options come open before covered and in the crop's own order of ways: the first is the usual
        if batch is not usual.setdefault(key, batch) or not batch.score.worth[option.day]:
            continue
        if option.day - last.get(key, -interval) >= interval:
            chosen.append(number)
            last[key] = option.day
    return np.array(chosen, dtype=np.int64)


def _equal(request: Request, chosen: Ints, scale: float) -> Floats:
    """Equal areas for the sowings of an item, together giving `scale` times what it wants."""
    n = len(request.candidates)
    given = np.bincount(request.supply.candidate, request.supply.kg, n) / request.years
    item = request.candidates.item[chosen]
    total = np.bincount(item, given[chosen], len(request.items))
    wanted = request.wanted.sum(axis=1)
    area = np.divide(scale * wanted, total, out=np.zeros_like(wanted), where=total > 0)
    areas = np.zeros(n)
    areas[chosen] = area[item]
    return areas


def fitted(request: Request, areas: Floats) -> Floats:
    """The sowings made one after another in order of date, each as far as there is room for it."""
    ground, candidates = request.grounds, request.candidates
    room, made = ground.limit.copy(), np.zeros_like(areas)
    order = np.argsort(candidates.day, kind="stable")
    entries = np.argsort(ground.candidate, kind="stable")
    first = np.searchsorted(ground.candidate[entries], np.arange(len(candidates) + 1))
    for number in order[areas[order] > 0]:
        mine = entries[first[number] : first[number + 1]]
        row, week, each = ground.row[mine], ground.week[mine], ground.coefficient[mine]
        fits = min(float(areas[number]), float((room[row, week] / each).min(initial=np.inf)))
        if fits >= candidates.least[number]:
            made[number] = fits
            np.subtract.at(room, (row, week), each * fits)
    return made
