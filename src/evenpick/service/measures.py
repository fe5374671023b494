"""How a plan does in weather years, by item and week, and as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.days import day_date
from evenpick.crops.crop import Crop
from evenpick.plan.given import Given
from evenpick.plan.horizon import COUNTED_WEEKS, Horizon
from evenpick.plan.measure import BARE_SHARE, Measure, evaluate
from evenpick.plan.request import Supply
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem
from evenpick.service.item_weeks import item_weeks
from evenpick.service.pickings_answer import ItemPickings, Measured
from evenpick.service.pieces import piece_of

WORST = 0.1


def measure(task: Task, areas: Floats, supply: Supply, years: int, given: Given | None = None) -> Measure:
    """Areas, and what is `given` beside them, held against some weather years without foresight."""
    item, supply = task.request.candidates.item, supply.where(areas > 0)
    if given is not None and given.kg.size:
        supply, item, areas = with_given(supply, item, areas, given, len(task.request.items))
    return evaluate(item, areas, supply, task.request.wanted, years)


def with_given(
    supply: Supply, item: Ints, areas: Floats, given: Given, items: int
) -> tuple[Supply, Ints, Floats]:
    """What is given as one more candidate for each item, a square metre of it made."""
    candidate, year, ripe, last = (np.concatenate(pair) for pair in (
        (supply.candidate, given.item + item.size), (supply.year, given.year), (supply.ripe, given.ripe),
        (supply.last, given.last),
    ))
    joined = Supply(candidate, year, ripe, last, np.concatenate([supply.kg, given.kg]))
    return joined, np.concatenate([item, np.arange(items)]), np.concatenate([areas, np.ones(items)])


def on_planned(task: Task, areas: Floats) -> Measure:
    """The plan on the years it was made for."""
    return measure(task, areas, task.request.supply, task.request.years, task.given)


def measured(task: Task, areas: Floats) -> Measured:
    """The plan on the years it never saw, in portions over the counted weeks."""
    return summary(task, measure(task, areas, task.unseen, task.unseen_years, task.given_unseen))


def summary(task: Task, found: Measure) -> Measured:
    """Shares in portions (kg weighed by the items' worth), over all items and counted weeks."""
    weight = np.array([item.weight for item in task.request.items])
    wanted, used = task.request.wanted[:, :COUNTED_WEEKS], found.used[:, :COUNTED_WEEKS]
    bare = _portions(weight, found.unmet)
    total = float((weight[:, None] * wanted).sum())
    if total <= 0:  # nothing that is wanted can be had of any sowing from now
        return Measured(1.0, 0.0, 100.0, 1.0)
    picked = _portions(weight, found.used) + _portions(weight, found.over)
    short = (used < BARE_SHARE * wanted[:, :, None]) & (wanted > 0)[:, :, None]
    bare_weeks = short.sum(axis=(0, 1)) / max(int((wanted > 0).sum()), 1)
    worst = np.sort(bare)[::-1][: max(1, int(np.ceil(WORST * bare.size)))]
    return Measured(
        float(bare.mean()) / total,
        float(_portions(weight, found.over).sum() / max(float(picked.sum()), 1e-9)),
        100.0 * float(bare_weeks.mean()), float(worst.mean()) / total,
    )


def _portions(weight: Floats, kg: Floats) -> Floats:
    """Portions by year over the counted weeks; kg has shape (items, weeks, years)."""
    return np.asarray(np.einsum("i,iwy->y", weight, kg[:, :COUNTED_WEEKS]))


def pickings(
    seen: Measure, wanted: Sequence[WantedItem], counted: Floats, crops: Mapping[str, Crop],
    horizon: Horizon,
) -> tuple[ItemPickings, ...]:
    """Week by week what is wanted and what is likely, as measured on the years planned on; `counted`: what
    was held against the plan, shape (items, weeks); `crops` by key."""
    return tuple(
        _item(number, item, [crops[key] for key in item.crops], seen, counted[number], horizon)
        for number, item in enumerate(wanted)
    )


def _item(
    number: int, item: WantedItem, crops: Sequence[Crop], seen: Measure, counted: Floats, horizon: Horizon
) -> ItemPickings:
    weeks = item_weeks(seen, number, item.kg[:COUNTED_WEEKS], day_date(horizon.start))
    lead = int(np.argmax(counted > 0)) if (counted > 0).any() else COUNTED_WEEKS
    return ItemPickings(item.name, *piece_of(crops), weeks, min(lead, COUNTED_WEEKS))
