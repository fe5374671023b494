"""Wishes that nothing sown from now can meet: said plainly, with what would mend each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools
from evenpick.base.days import day_date
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.options import Batch
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem
from evenpick.plan.weekly import reachable_weeks

ADVICE = "Put something in store, want it later, or let another crop stand in."


def out_of_reach(
    task: Task, wanted: Sequence[WantedItem], made: Mapping[str, Sequence[Batch]], horizon: Horizon
) -> Iterator[str]:
    """One line for each item with weeks in the coming year that no sowing can serve."""
    reach = reachable_weeks(task)
    for number, item in enumerate(wanted):
        missing = (item.kg[:YEAR_WEEKS] > 0) & ~reach[number, :YEAR_WEEKS]
        if not missing.any():
            continue
        if not any(made[key] for key in item.crops):
            yield f"{item.name}: none of its crops succeeds here under the covers there are."
        elif not reach[number].any():
            yield f"{item.name}: nothing sown within this plan ripens in the weeks it is wanted. {ADVICE}"
        else:
            yield f"{item.name}: {_stretches(missing, horizon)}. {ADVICE}"


def _stretches(missing: Bools, horizon: Horizon) -> str:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], missing.astype(np.int8), [0]])))
    spans = [
        f"{_short(horizon, int(a))} to {_short(horizon, int(b) - 1)}"
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    ]
    first = "nothing sown from now can be ripe in the weeks of " if missing[0] else "nothing can be had in "
    return first + ", ".join(spans)


def _short(horizon: Horizon, week: int) -> str:
    when: date = day_date(horizon.start + 7 * week)
    return f"{when.day} {when:%b}"
