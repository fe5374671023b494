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

ADVICE = (
    "What would mend these: something in store, a crop that stands in, sowing a season sooner, "
    "or wanting it later."
)


def out_of_reach(
    task: Task, wanted: Sequence[WantedItem], made: Mapping[str, Sequence[Batch]], horizon: Horizon
) -> Iterator[str]:
    """A line for what is too soon for anything sown from now, a line for each item with other gaps."""
    reach = reachable_weeks(task)
    soon, told = [], False
    for number, item in enumerate(wanted):
        missing = (item.kg[:YEAR_WEEKS] > 0) & ~reach[number, :YEAR_WEEKS]
        opens = int(np.argmax(reach[number])) if reach[number].any() else YEAR_WEEKS
        early, other = missing & (np.arange(YEAR_WEEKS) < opens), missing & (np.arange(YEAR_WEEKS) >= opens)
        if not any(made[key] for key in item.crops):
            yield f"{item.name}: none of its crops succeeds here under the covers there are."
        elif early.any():
            soon.append(f"{item.name} (to {_short(horizon, int(np.flatnonzero(early)[-1]))})")
        if other.any():
            yield f"{item.name}: nothing can be had in {_stretches(other, horizon)}."
        told |= bool(missing.any())
    if soon:
        yield f"Too soon for anything sown from now: {', '.join(soon)}."
    if told:
        yield ADVICE


def _stretches(missing: Bools, horizon: Horizon) -> str:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], missing.astype(np.int8), [0]])))
    spans = [
        f"{_short(horizon, int(a))} to {_short(horizon, int(b) - 1)}"
        for a, b in zip(edges[::2], edges[1::2], strict=True)
    ]
    return ", ".join(spans)


def _short(horizon: Horizon, week: int) -> str:
    when: date = day_date(horizon.start + 7 * week)
    return f"{when.day} {when:%b}"
