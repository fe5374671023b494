"""How many heads, bunches, fruits a weight is, where an item has several crops or types (season.md, 24)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.crops.crop import Crop
from evenpick.plan.horizon import WEEKS
from evenpick.plan.standing import Grown, given_by
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem
from evenpick.service.pickings_answer import ItemPickings

WEIGHED = "kg"


def piece_of(crops: Sequence[Crop]) -> tuple[str, float]:
    """What is counted of an item and what one weighs in the mean of its crops; kg where they are not all
    counted alike."""
    words = {crop.produce.piece for crop in crops}
    if len(words) > 1:
        return WEIGHED, 1.0
    return words.pop(), sum(crop.produce.piece_kg for crop in crops) / len(crops)


def with_pieces(
    items: Sequence[ItemPickings], work: Task, areas: Floats, stood: Iterable[Grown],
    wanted: Sequence[WantedItem], crops: Mapping[str, Crop],
) -> tuple[ItemPickings, ...]:
    """The items with what a piece weighs of what is there in each week: of every crop as much as is ripe and
    not past its time in the mean of the years."""
    mixed = [n for n, item in enumerate(wanted) if items[n].piece != WEIGHED
             and len({kind.produce.piece_kg for key in item.crops for kind in crops[key].by_type()}) > 1]
    if not mixed:
        return tuple(items)
    kg, count = np.zeros((2, len(items), WEEKS + 1))
    for item, piece_kg, ripe, last, each in _there(work, areas, stood, wanted):
        for weights, per in ((kg, 1.0), (count, piece_kg)):
            np.add.at(weights, (item, ripe), each / per)
            np.add.at(weights, (item, np.minimum(last + 1, WEEKS)), -each / per)
    kg, count = np.cumsum(kg, axis=1), np.cumsum(count, axis=1)
    return tuple(
        _with_weights(item, kg[n], count[n]) if n in mixed else item for n, item in enumerate(items)
    )


def _there(
    work: Task, areas: Floats, stood: Iterable[Grown], wanted: Sequence[WantedItem]
) -> Iterator[tuple[Ints, Floats, Ints, Ints, Floats]]:
    """Entries of item, weight of a piece, weeks ripe and last good, kg: of what is planned, what stands."""
    supply, candidate = work.request.supply.where(areas > 0), work.request.candidates.item
    each = np.array([option.batch.crop.produce.piece_kg for option in work.options])
    mine = supply.candidate
    yield candidate[mine], each[mine], supply.ripe, supply.last, supply.kg * areas[mine]
    for one in stood:
        given = given_by([one], wanted)
        weighs = np.full(given.kg.size, one.crop.produce.piece_kg)
        yield given.item, weighs, given.ripe, given.last, given.kg


def _with_weights(item: ItemPickings, kg: Floats, count: Floats) -> ItemPickings:
    weeks = tuple(
        replace(week, piece_kg=float(kg[at] / count[at])) if count[at] > 1e-9 else week
        for at, week in enumerate(item.weeks)
    )
    return replace(item, weeks=weeks)
