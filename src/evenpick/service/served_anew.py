"""An item of a kept plan served anew with less than the plan counted on (docs/design/season.md, 22)."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.horizon import WEEKS
from evenpick.plan.measure import evaluate
from evenpick.plan.request import Supply
from evenpick.service.answers import Brought, ItemPickings, WeekOfItem
from evenpick.service.item_weeks import item_weeks
from evenpick.service.packed import unpacked


def served_anew(
    item: ItemPickings, several: Sequence[Brought], lost: Sequence[tuple[float, int]], years: int
) -> tuple[WeekOfItem, ...]:
    """The item's weeks as its sowings bring them, of each of which a share was `lost` in a week of the
    horizon: that share is good until then and no longer."""
    supply = unpacked([each.entries for each in several])
    share, week = np.array([part for part, _ in lost]), np.array([when for _, when in lost], dtype=np.int64)
    kg, wanted = np.array([of.wanted for of in item.weeks]), np.zeros((1, WEEKS))
    wanted[0, item.lead : kg.size] = kg[item.lead :]
    left = _parted(supply, share, week)
    found = evaluate(np.zeros(len(several), np.int64), np.ones(len(several)), left, wanted, years)
    return item_weeks(found, 0, kg, item.weeks[0].week)


def _parted(supply: Supply, share: Floats, week: Ints) -> Supply:
    part, until = share[supply.candidate], week[supply.candidate] - 1
    before = np.flatnonzero((part > 0) & (supply.ripe <= until))
    stays = Supply(supply.candidate, supply.year, supply.ripe, supply.last, supply.kg * (1.0 - part))
    goes = Supply(
        supply.candidate[before], supply.year[before], supply.ripe[before],
        np.minimum(supply.last, until)[before], (supply.kg * part)[before],
    )
    return Supply(*(np.concatenate([getattr(stays, name), getattr(goes, name)])
                    for name in ("candidate", "year", "ripe", "last", "kg")))
