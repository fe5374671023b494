"""Limits on how many: separate sowings in a week, crops to buy seed for (docs/design/season.md, 12).

The planner's own model knows areas only. What is over is taken out of the plan, the least missed first, and
the plan mended without it, until nothing is over.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.amounts import rounded
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS
from evenpick.plan.kept import Exact
from evenpick.plan.mend import mended
from evenpick.plan.request import Grounds, Request
from evenpick.plan.rows import seeds_per_m2
from evenpick.plan.task import Task

ROUNDS = 8
SHUT = "not to be sown"


@dataclass(frozen=True, slots=True)
class Counts:
    sowings_a_week: int | None = None
    fixed: Ints = field(default_factory=lambda: np.zeros(WEEKS, dtype=np.int64))
    """sowings of each week that are fixed already; (weeks,)"""
    packets: int | None = None
    """crops for which seed may be bought in the first year"""
    have: Mapping[str, float] = field(default_factory=dict)
    """seeds in the tin, by catalogue key"""
    farm: int = 0
    """of a cooperative, whose sowings alone are counted"""


def keep_to_counts(work: Task, areas: Floats, counts: Sequence[Counts]) -> tuple[Task, Floats]:
    """The task with what may not be sown shut, and areas (as a grower sows them) that keep to the counts of
    each farm."""
    shut = np.zeros(len(areas), dtype=bool)
    for _ in range(ROUNDS):
        over = _over(work, areas, counts) & ~shut
        if not over.any():
            break
        shut |= over
        request = _without(work.request, shut)
        areas = rounded(request, work.options, mended(request, np.where(shut, 0.0, areas)).areas)
        work = replace(work, request=request)
    return work, np.where(_over(work, areas, counts), 0.0, areas)


def _over(work: Task, areas: Floats, counts: Sequence[Counts]) -> Bools:
    """Candidates that can't be made beside the ones kept."""
    shut = np.zeros(len(areas), dtype=bool)
    for each in counts:
        own = np.array([option.farm == each.farm for option in work.options], dtype=bool)
        if each.sowings_a_week is not None:
            shut |= _crowded(work, areas, own, np.maximum(each.sowings_a_week - each.fixed, 0))
        if each.packets is not None:
            shut |= _unbought(work, areas, own, each)
    return shut


def _crowded(work: Task, areas: Floats, own: Bools, room: Ints) -> Bools:
    """In weeks that hold too many of a farm's `own` sowings: all candidates but the ones most missed."""
    week = work.request.candidates.day // 7
    made = (areas > 0) & own
    full = np.flatnonzero(np.bincount(week[made], minlength=WEEKS) > room)
    if not full.size:
        return np.zeros(len(areas), dtype=bool)
    missed = _missed(work.request, areas)
    shut = np.isin(week, full) & own
    for w in full:
        mine = np.flatnonzero(made & (week == w))
        shut[mine[np.argsort(-missed[mine], kind="stable")[: room[w]]]] = False
    return shut


def _missed(request: Request, areas: Floats) -> Floats:
    """What the plan would lose without each of its sowings, kg-equivalents."""
    task, c = Exact.of(request), request.candidates
    lost = np.zeros(len(areas))
    for part in task.parts:
        x = areas[part.members]
        whole = float(part.losses.items(x)[0])
        for k in np.flatnonzero(x > 0):
            j = part.members[k]
            without = float(part.losses.items(np.where(np.arange(x.size) == k, 0.0, x))[0])
            lost[j] = without - whole - c.trouble[j] - c.cost[j] * areas[j]
    return lost


def _unbought(work: Task, areas: Floats, own: Bools, counts: Counts) -> Bools:
    """Sowings of the first year for which seed would have to be bought, of the crops least missed beyond the
    number that may be."""
    assert counts.packets is not None
    keys = np.array([option.batch.crop.key for option in work.options])
    first = (work.request.candidates.day < 7 * YEAR_WEEKS) & own
    seeds = areas * np.array([
        seeds_per_m2(o.batch.crop, o.batch.way, float(o.batch.outcome.emerged[:, o.index].mean()))
        for o in work.options
    ])
    short = [key for key in dict.fromkeys(keys[(areas > 0) & first].tolist())
             if seeds[(keys == key) & first].sum() > counts.have.get(key, 0.0) + 1.0]
    shut = np.zeros(len(areas), dtype=bool)
    if len(short) <= counts.packets:
        return shut
    missed = _missed(work.request, areas)
    worth = {key: float(missed[(keys == key) & first & (areas > 0)].sum()) for key in short}
    for key in sorted(short, key=lambda each: -worth[each])[counts.packets :]:
        mine = np.flatnonzero((keys == key) & first)
        order = mine[np.argsort(-missed[mine], kind="stable")]
        kept = np.cumsum(seeds[order]) <= counts.have.get(key, 0.0)
        shut[order[~(kept & (areas[order] > 0))]] = True
    return shut


def _without(request: Request, shut: Bools) -> Request:
    """The request with a row that leaves no room for what is shut."""
    g, none = request.grounds, np.flatnonzero(shut)
    names: Sequence[str] = g.names if SHUT in g.names else (*g.names, SHUT)
    row = names.index(SHUT)
    limit = g.limit if SHUT in g.names else np.concatenate([g.limit, np.zeros((1, request.weeks))])
    old = g.row != row
    return replace(request, grounds=Grounds(
        tuple(names), limit, np.concatenate([g.row[old], np.full(none.size, row)]),
        np.concatenate([g.candidate[old], none]),
        np.concatenate([g.week[old], np.zeros(none.size, dtype=np.int64)]),
        np.concatenate([g.coefficient[old], np.ones(none.size)]),
    ))
