"""What a plan gives up, with what truly binds (docs/design/season.md, 16)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.language import tell, tell_n
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.kept import Exact
from evenpick.plan.measure import Measure
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem
from evenpick.plan.weekly import reachable_weeks, something_ripe
from evenpick.service.in_the_way import InTheWay, Short, in_the_way
from evenpick.service.out_of_reach import no_room_for
from evenpick.service.plan_answer import GivenUp
from evenpick.service.week_words import told_weeks

NOTED = 0.05
"""share of what is wanted of an item that must be missing to be told"""
HALF = 0.5


def given_up(
    work: Task, task: Exact, areas: Floats, wanted: Sequence[WantedItem], found: Measure, horizon: Horizon,
    unlaid: Measure | None = None, growers: Sequence[Sequence[str]] | None = None,
) -> tuple[GivenUp, ...]:
    """Items of which more than a twentieth is missing in the first year, with what is in the way; `task` is
    of the request of `work`, `areas` are those before any was made smaller for the beds, and give what
    `unlaid` says; None: none was; `growers` as of `out_of_reach`."""
    reach, ripe = reachable_weeks(work), something_ripe(work)
    told = []
    for number, item in enumerate(wanted):
        unmet = found.unmet[number]
        cut = 0.0 if unlaid is None else float((unmet - unlaid.unmet[number])[:YEAR_WEEKS].sum())
        each = _given_up(work, task, areas, number, item.name, unmet, reach[number], ripe[number], horizon,
                         cut)
        if each is not None and no_room_for(work, item, growers[number] if growers else None):
            each = replace(each, because=tell("no ground is large enough for the least of it"),
                           smaller_sowings_mend=False)
        told += [] if each is None else [each]
    return tuple(sorted(told, key=lambda each: -each.missing))


def _given_up(
    work: Task, task: Exact, areas: Floats, number: int, item: str, unmet: Floats, reach: Bools, ripe: Bools,
    horizon: Horizon, cut: float = 0.0,
) -> GivenUp | None:
    """`unmet` kg (weeks, years), of which `cut` for want of room in the beds; `reach` (weeks,) and `ripe`
    (years, weeks), whether something can be there, often enough and in each year."""
    wanted, unmet = work.request.wanted[number, :YEAR_WEEKS], unmet[:YEAR_WEEKS]
    lacking, years, total = float(unmet.sum()), unmet.shape[1], float(wanted.sum())
    if total <= 0 or lacking < NOTED * total * years:
        return None
    nothing = ~ripe[:, :YEAR_WEEKS].T
    unripe = np.where(nothing, unmet, 0.0)
    mendable = lacking - float(unripe.sum())
    found = InTheWay("")
    if cut > lacking / 2:
        because = tell("the beds are too small or too full for what their area would bear")
    elif unmet[~reach[:YEAR_WEEKS]].sum() > lacking / 2:
        because = tell("nothing that can be sown is ripe in those weeks")
    elif mendable < lacking / 2:
        because = _unripe(unripe, nothing, wanted, horizon)
        if mendable >= NOTED * total * years:
            found = in_the_way(Short(work, task, areas, number, horizon, mendable))
            because = tell("{because}; of the rest, {rest}", because=because, rest=found.words)
    else:
        found = in_the_way(Short(work, task, areas, number, horizon, mendable))
        because = found.words
    left = None if found.mends is None else (lacking - found.mends * mendable) / years / total
    return GivenUp(item, lacking / years / total, because, left, found.smaller_sowings_mend)


def _unripe(unripe: Floats, nothing: Bools, wanted: Floats, horizon: Horizon) -> str:
    """When nothing is ripe of what is `wanted` (weeks,): in which weeks, or in how many of the years;
    `unripe` is what is missing for it and `nothing` where nothing is, both (weeks, years)."""
    mostly = (wanted > 0) & (nothing.mean(axis=1) > HALF)
    if unripe[mostly].sum() <= unripe.sum() / 2:
        share = float(wanted @ nothing.mean(axis=1) / wanted.sum())
        return tell_n("in about {n} year of 10 nothing that can be sown is ripe when it is wanted",
                      "in about {n} years of 10 nothing that can be sown is ripe when it is wanted",
                      max(1, round(10 * share)))
    if mostly[wanted > 0].all():
        return tell("in most years nothing that can be sown is ripe when it is wanted")
    weeks = told_weeks(mostly, horizon)
    return tell("in most years nothing that can be sown is ripe in {weeks}", weeks=weeks)
