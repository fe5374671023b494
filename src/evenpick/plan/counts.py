"""Limits on how many: separate sowings in a week, crops to buy seed for (docs/design/season.md, 12).

The planner's own model knows areas only. What is over is taken out of the plan, the least missed first, and
the plan mended without it, until nothing is over; a crop for which no seed is bought keeps to what the tin
has.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from typing import TypeAlias

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.crops.sown import amount
from evenpick.plan.amounts import rounded
from evenpick.plan.farms import row_and_farm, row_of
from evenpick.plan.horizon import WEEKS, YEAR_WEEKS
from evenpick.plan.kept import Exact
from evenpick.plan.mend import mended
from evenpick.plan.request import Grounds, Request
from evenpick.plan.rows import SEED, seeds_per_m2
from evenpick.plan.task import Option, Task

ROUNDS = 8
Kind: TypeAlias = tuple[str, str]
"""catalogue key and name of a crop, which names its type: a packet is of the crop's own varieties"""
CROWDED, UNBOUGHT = "sowings in a week", "seed that is not bought"
"""rows without room, of what is shut for the one and for the other; of each farm its own"""
SHUT = (CROWDED, UNBOUGHT)
NEARLY = 1e-6  # seeds


@dataclass(frozen=True, slots=True)
class Counts:
    sowings_a_week: int | None = None
    fixed: Ints = field(default_factory=lambda: np.zeros(WEEKS, dtype=np.int64))
    """sowings of each week that are fixed already; (weeks,)"""
    packets: int | None = None
    """crops, types apart, for which seed may be bought for what is sown before `until`: rows of the list of
    seed to buy"""
    have: Mapping[Kind, float] = field(default_factory=dict)
    """seeds (sets, tubers) in the tin for what is still to be planned; less than nought where sowings that
    are fixed want more than there is"""
    farm: int = 0
    """of a cooperative, whose sowings alone are counted"""
    until: int = 7 * YEAR_WEEKS
    """axis day"""


def keep_to_counts(work: Task, areas: Floats, counts: Sequence[Counts]) -> tuple[Task, Floats]:
    """The task with what may not be sown shut, and areas (as a grower sows them) that keep to the counts of
    each farm."""
    shut = np.zeros((len(SHUT), len(areas)), dtype=bool)
    held: set[tuple[int, Kind]] = set()
    for _ in range(ROUNDS):
        over, hold = _over(work, areas, counts, held)
        if not hold and not (over & ~shut).any():
            break
        shut |= over
        held |= hold
        request = _without(_to_the_tin(work, counts, hold), work.options, shut)
        areas = rounded(request, work.options, mended(request, np.where(shut.any(axis=0), 0.0, areas)).areas)
        work = replace(work, request=request)
    return work, np.where(_over(work, areas, counts, None)[0].any(axis=0), 0.0, areas)


def _over(
    work: Task, areas: Floats, counts: Sequence[Counts], held: Set[tuple[int, Kind]] | None
) -> tuple[Bools, set[tuple[int, Kind]]]:
    """Candidates that can't be made beside the ones kept, for each of what shuts them, (SHUT, candidates);
    and crops, by farm, that are to keep to the tin from now on, those `held` to it left out. None: there is
    no more time to hold any."""
    shut = np.zeros((len(SHUT), len(areas)), dtype=bool)
    hold: set[tuple[int, Kind]] = set()
    for each in counts:
        own = np.array([option.farm == each.farm for option in work.options], dtype=bool)
        if each.sowings_a_week is not None:
            shut[0] |= _crowded(work, areas, own, np.maximum(each.sowings_a_week - each.fixed, 0))
        if each.packets is not None:
            less = {} if held is None else {
                kind: many for kind, many in each.have.items() if many > 0 and (each.farm, kind) not in held}
            unbought, kinds = _unbought(work, areas, own, each, less)
            shut[1] |= unbought
            hold |= {(each.farm, kind) for kind in kinds}
    return shut, hold


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


def _unbought(
    work: Task, areas: Floats, own: Bools, counts: Counts, less: Mapping[Kind, float]
) -> tuple[Bools, list[Kind]]:
    """Counted sowings for which seed would have to be bought, of the crops least missed beyond the
    number that may be; counted as the list of seed to buy counts. Crops among them that could be sown `less`,
    as far as the tin goes, are named instead."""
    assert counts.packets is not None
    first = (work.request.candidates.day < counts.until) & own
    kinds = [(option.batch.crop.key, option.batch.crop.name) for option in work.options]
    seeds = np.array([_seeds(*each) for each in zip(work.options, areas.tolist(), strict=True)])
    wanted = dict.fromkeys(counts.have, 0.0)
    for number in np.flatnonzero(first & (areas > 0)):
        wanted[kinds[number]] = wanted.get(kinds[number], 0.0) + float(seeds[number])
    short = [kind for kind, many in wanted.items() if many > counts.have.get(kind, 0.0) + NEARLY]
    shut = np.zeros(len(areas), dtype=bool)
    if len(short) <= counts.packets:
        return shut, []
    missed = _missed(work.request, areas)
    of = {kind: np.array([n for n in np.flatnonzero(first) if kinds[n] == kind], dtype=np.int64)
          for kind in short}
    order = sorted(short, key=lambda kind: (counts.have.get(kind, 0.0) >= 0, -float(missed[of[kind]].sum())))
    over = order[counts.packets :]
    for kind in (kind for kind in over if kind not in less):
        mine = of[kind][np.argsort(-missed[of[kind]], kind="stable")]
        kept = np.cumsum(seeds[mine]) <= counts.have.get(kind, 0.0) + NEARLY
        shut[mine[~(kept & (areas[mine] > 0))]] = True
    return shut, [kind for kind in over if kind in less]


def _to_the_tin(work: Task, counts: Sequence[Counts], hold: Set[tuple[int, Kind]]) -> Request:
    """The request in which the first year's sowings of some crops take no more seed than there is."""
    have = {(each.farm, kind): many for each in counts for kind, many in each.have.items()}
    farms, rows = _farms(work.request), []
    for farm, kind in sorted(hold):
        mine = [(n, option) for n, option in enumerate(work.options)
                if (option.farm, (option.batch.crop.key, option.batch.crop.name)) == (farm, kind)
                and option.day < 7 * YEAR_WEEKS]
        each = [seeds_per_m2(o.batch.crop, o.batch.way, float(o.batch.outcome.emerged[:, o.index].mean()))
                for _, o in mine]
        name = row_of(f"{SEED}{kind[0]}", farms[farm])
        rows.append((name, have[farm, kind], np.array([n for n, _ in mine], np.int64), np.array(each)))
    return replace(work.request, grounds=_with_rows(work.request.grounds, rows))


def _seeds(option: Option, area: float) -> float:
    """Seeds that a sowing takes; sets, cloves and tubers by their places."""
    if area <= 0:
        return 0.0
    batch = option.batch
    sown = amount(batch.crop, batch.way, area, float(batch.outcome.emerged[:, option.index].mean()))
    return float((sown.plants if batch.crop.spacing.seeds_per_g is None else sown.seeds) or 0)


def _farms(request: Request) -> list[str]:
    """Names of the farms in their order; one without a name where there is but one."""
    return list(dict.fromkeys(row_and_farm(name)[1] for name in request.grounds.names))


def shuts(name: str) -> bool:
    """Whether a row leaves no room for what is shut."""
    return row_and_farm(name)[0] in SHUT


def _without(request: Request, options: Sequence[Option], shut: Bools) -> Request:
    """The request with rows that leave no room for what is shut, (SHUT, candidates), one for each reason that
    there is on a farm."""
    g = request.grounds
    kept = [row for row, name in enumerate(g.names) if not shuts(name)]
    held = np.isin(g.row, kept)
    others = Grounds(
        tuple(g.names[row] for row in kept), g.limit[kept], np.searchsorted(kept, g.row[held]),
        g.candidate[held], g.week[held], g.coefficient[held],
    )
    own = np.array([option.farm for option in options])
    rows = [(row_of(name, farm), 0.0, none, np.ones(none.size))
            for name, closed in zip(SHUT, shut, strict=True)
            for number, farm in enumerate(_farms(request))
            if (none := np.flatnonzero(closed & (own == number))).size]
    return replace(request, grounds=_with_rows(others, rows))


def _with_rows(g: Grounds, rows: Sequence[tuple[str, float, Ints, Floats]]) -> Grounds:
    """The grounds with rows after them that hold in no week alone: name, limit, candidates and what a square
    metre of each takes."""
    return Grounds(
        (*g.names, *(name for name, *_ in rows)),
        np.concatenate([g.limit, *(np.full((1, g.limit.shape[1]), limit) for _, limit, *_ in rows)]),
        np.concatenate([g.row, *(np.full(n.size, len(g.names) + k) for k, (_, _, n, _) in enumerate(rows))]),
        np.concatenate([g.candidate, *(numbers for _, _, numbers, _ in rows)]),
        np.concatenate([g.week, *(np.zeros(numbers.size, np.int64) for _, _, numbers, _ in rows)]),
        np.concatenate([g.coefficient, *(each for *_, each in rows)]),
    )
