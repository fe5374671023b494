"""Limits on how many: separate sowings in a week, crops to buy seed for (docs/design/season.md, 12).

The planner's own model knows areas only. What is over is taken out of the plan, the least missed first, and
the plan mended without it, until nothing is over.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeAlias

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.crops.sown import amount
from evenpick.plan.amounts import rounded
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS
from evenpick.plan.kept import Exact
from evenpick.plan.mend import mended
from evenpick.plan.request import Grounds, Request
from evenpick.plan.task import Option, Task

ROUNDS = 8
Kind: TypeAlias = tuple[str, str]
"""catalogue key and name of a crop, which names its type: a packet is of the crop's own varieties"""
CROWDED, UNBOUGHT = "sowings in a week", "seed that is not bought"
"""rows without room, of what is shut for the one and for the other"""
SHUT = (CROWDED, UNBOUGHT)
NEARLY = 1e-6  # seeds


@dataclass(frozen=True, slots=True)
class Counts:
    sowings_a_week: int | None = None
    fixed: Ints = field(default_factory=lambda: np.zeros(WEEKS, dtype=np.int64))
    """sowings of each week that are fixed already; (weeks,)"""
    packets: int | None = None
    """crops, types apart, for which seed may be bought in the first year: rows of the list of seed to buy"""
    have: Mapping[Kind, float] = field(default_factory=dict)
    """seeds (sets, tubers) in the tin for what is still to be planned; less than nought where sowings that
    are fixed want more than there is"""
    farm: int = 0
    """of a cooperative, whose sowings alone are counted"""


def keep_to_counts(work: Task, areas: Floats, counts: Sequence[Counts]) -> tuple[Task, Floats]:
    """The task with what may not be sown shut, and areas (as a grower sows them) that keep to the counts of
    each farm."""
    shut = np.zeros((len(SHUT), len(areas)), dtype=bool)
    for _ in range(ROUNDS):
        over = _over(work, areas, counts)
        if not (over & ~shut).any():
            break
        shut |= over
        request = _without(work.request, shut)
        areas = rounded(request, work.options, mended(request, np.where(shut.any(axis=0), 0.0, areas)).areas)
        work = replace(work, request=request)
    return work, np.where(_over(work, areas, counts).any(axis=0), 0.0, areas)


def _over(work: Task, areas: Floats, counts: Sequence[Counts]) -> Bools:
    """Candidates that can't be made beside the ones kept, for each of what shuts them; (SHUT, candidates)."""
    shut = np.zeros((len(SHUT), len(areas)), dtype=bool)
    for each in counts:
        own = np.array([option.farm == each.farm for option in work.options], dtype=bool)
        if each.sowings_a_week is not None:
            shut[0] |= _crowded(work, areas, own, np.maximum(each.sowings_a_week - each.fixed, 0))
        if each.packets is not None:
            shut[1] |= _unbought(work, areas, own, each)
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
    number that may be; counted as the list of seed to buy counts."""
    assert counts.packets is not None
    first = (work.request.candidates.day < 7 * YEAR_WEEKS) & own
    kinds = [(option.batch.crop.key, option.batch.crop.name) for option in work.options]
    seeds = np.array([_seeds(*each) for each in zip(work.options, areas.tolist(), strict=True)])
    wanted = dict.fromkeys(counts.have, 0.0)
    for number in np.flatnonzero(first & (areas > 0)):
        wanted[kinds[number]] = wanted.get(kinds[number], 0.0) + float(seeds[number])
    short = [kind for kind, many in wanted.items() if many > counts.have.get(kind, 0.0) + NEARLY]
    shut = np.zeros(len(areas), dtype=bool)
    if len(short) <= counts.packets:
        return shut
    missed = _missed(work.request, areas)
    of = {kind: np.array([n for n in np.flatnonzero(first) if kinds[n] == kind], dtype=np.int64)
          for kind in short}
    order = sorted(short, key=lambda kind: (counts.have.get(kind, 0.0) >= 0, -float(missed[of[kind]].sum())))
    for kind in order[counts.packets :]:
        mine = of[kind][np.argsort(-missed[of[kind]], kind="stable")]
        kept = np.cumsum(seeds[mine]) <= counts.have.get(kind, 0.0) + NEARLY
        shut[mine[~(kept & (areas[mine] > 0))]] = True
    return shut


def _seeds(option: Option, area: float) -> float:
    """Seeds that a sowing takes; sets, cloves and tubers by their places."""
    if area <= 0:
        return 0.0
    batch = option.batch
    sown = amount(batch.crop, batch.way, area, float(batch.outcome.emerged[:, option.index].mean()))
    return float((sown.plants if batch.crop.spacing.seeds_per_g is None else sown.seeds) or 0)


def _without(request: Request, shut: Bools) -> Request:
    """The request with rows that leave no room for what is shut, (SHUT, candidates), one for each reason that
    there is."""
    g = request.grounds
    kept = [row for row, name in enumerate(g.names) if name not in SHUT]
    held = np.isin(g.row, kept)
    names, limit = [g.names[row] for row in kept], [g.limit[kept]]
    row, candidate = [np.searchsorted(kept, g.row[held])], [g.candidate[held]]
    week, coefficient = [g.week[held]], [g.coefficient[held]]
    for name, none in zip(SHUT, map(np.flatnonzero, shut), strict=True):
        if none.size:
            row.append(np.full(none.size, len(names)))
            names.append(name)
            limit.append(np.zeros((1, request.weeks)))
            candidate.append(none)
            week.append(np.zeros(none.size, dtype=np.int64))
            coefficient.append(np.ones(none.size))
    return replace(request, grounds=Grounds(
        tuple(names), np.concatenate(limit), np.concatenate(row), np.concatenate(candidate),
        np.concatenate(week), np.concatenate(coefficient),
    ))
