"""An item of a kept plan served anew with less or more than it counted on (docs/design/season.md, 22)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.horizon import WEEKS
from evenpick.plan.measure import evaluate
from evenpick.plan.parted import parted
from evenpick.plan.request import Supply
from evenpick.service.item_weeks import item_weeks
from evenpick.service.packed import unpacked
from evenpick.service.pickings_answer import Brought, ItemPickings, WeekOfItem


@dataclass(frozen=True, slots=True)
class Left:
    """What is left of a sowing that a plan counts on."""

    times: float = 1.0
    """what was sown, as a multiple of what was planned"""
    gone: float = 0.0
    """share of it that is to be had no more after week `until` of the horizon"""
    until: int = -1
    keeps: bool = False
    """what of that share was ripe by then stays good as long as it would have"""


def served_anew(
    item: ItemPickings, several: Sequence[Brought], left: Sequence[Left], years: int
) -> tuple[WeekOfItem, ...]:
    """The item's weeks as its sowings bring them, of each of which so much is left."""
    kg, supply = np.array([of.wanted for of in item.weeks]), _left(several, left)
    areas = np.array([each.times for each in left])
    found = evaluate(np.zeros(len(several), np.int64), areas, supply, _wanted(item), years)
    return item_weeks(found, 0, kg, item.weeks[0].week)


def farms_bring(
    item: ItemPickings, several: Sequence[Brought], left: Sequence[Left], farm: Sequence[int], farms: int,
    years: int,
) -> Floats:
    """kg of it that each farm brings, shape (farms, weeks, years); `farm` says whose each sowing is."""
    areas, one = np.array([each.times for each in left]), np.zeros(len(several), np.int64)
    had = parted(one, np.array(farm, np.int64), areas, _left(several, left), _wanted(item), years, farms)
    return had[:, 0, : len(item.weeks)]


def _wanted(item: ItemPickings) -> Floats:
    """Weeks in which nothing could be ripe are held against nobody; shape (1, weeks)."""
    kg, wanted = [of.wanted for of in item.weeks], np.zeros((1, WEEKS))
    wanted[0, item.lead : len(kg)] = kg[item.lead :]
    return wanted


def _left(several: Sequence[Brought], left: Sequence[Left]) -> Supply:
    return _parted(unpacked([each.entries for each in several]), left)


def _parted(supply: Supply, left: Sequence[Left]) -> Supply:
    gone, keeps = (np.array([getattr(each, name) for each in left]) for name in ("gone", "keeps"))
    part = gone[supply.candidate]
    until = np.array([each.until for each in left], np.int64)[supply.candidate]
    before = np.flatnonzero((part > 0) & (supply.ripe <= until))
    stays = Supply(supply.candidate, supply.year, supply.ripe, supply.last, supply.kg * (1.0 - part))
    last = np.where(keeps[supply.candidate], supply.last, np.minimum(supply.last, until))
    goes = Supply(
        supply.candidate[before], supply.year[before], supply.ripe[before], last[before],
        (supply.kg * part)[before],
    )
    return Supply(*(np.concatenate([getattr(stays, name), getattr(goes, name)])
                    for name in ("candidate", "year", "ripe", "last", "kg")))
