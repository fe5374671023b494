"""The rule that the plan is held against: each wanted crop every so many weeks where it is in season, in
equal amounts, on the same ground and under the same covers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.request import Request
from evenpick.plan.task import Option, Task

INTERVALS = (14, 21, 35, 56)
"""days: as seed packets advise, two or three weeks, and longer for whoever has no time for so many"""
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
        each = f"every {self.interval // 7} weeks"
        return f"{each}, the year's wish" if self.scale == 1 else (
            f"{each}, {self.scale:g} times the year's wish")


def rules(task: Task) -> Iterator[Rule]:
    """All its settings, each made as far as the ground goes."""
    for interval in INTERVALS:
        chosen = _chosen(task.options, interval)
        for scale in SCALES:
            yield Rule(interval, scale, fitted(task.request, _equal(task.request, chosen, scale)))


def _chosen(options: tuple[Option, ...], interval: int) -> Ints:
    """Candidates on which the rule sows: each crop at the interval, in its usual way, in the open where it is
    in season there and else under cover."""
    in_season = [n for n, option in enumerate(options) if option.batch.score.worth[option.day]]
    last: dict[tuple[int, int, str], int] = {}
    chosen = []
    for number in sorted(in_season, key=lambda n: (options[n].day, options[n].batch.cover != "open", n)):
        option = options[number]
        key = (option.farm, option.item, option.batch.crop.key)
        if option.day - last.get(key, -interval) >= interval:
            chosen.append(number)
            last[key] = option.day
    return np.array(chosen, dtype=np.int64)


def _equal(request: Request, chosen: Ints, scale: float) -> Floats:
    """Equal areas for the sowings of an item, together giving `scale` times what it wants; none is less than
    the least worth sowing, which is more than its share where a household wants little of it."""
    n = len(request.candidates)
    given = np.bincount(request.supply.candidate, request.supply.kg, n) / request.years
    item = request.candidates.item[chosen]
    total = np.bincount(item, given[chosen], len(request.items))
    wanted = request.wanted.sum(axis=1)
    area = np.divide(scale * wanted, total, out=np.zeros_like(wanted), where=total > 0)
    areas = np.zeros(n)
    areas[chosen] = np.maximum(area[item], request.candidates.least[chosen])
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
