"""What the candidate sowings give, kilogram by kilogram: whose, in which year, ripe and good when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.outlook.ripening import keeps, lies
from evenpick.plan.given import Given
from evenpick.plan.horizon import COUNTED_WEEKS, WEEKS, YEAR_WEEKS
from evenpick.plan.limits import Season, picked_when_there
from evenpick.plan.options import Batch, Option
from evenpick.plan.request import Supply
from evenpick.plan.wanted import WantedItem


def picked(
    options: Sequence[Option], members: Ints, ends: Ints, wanted: Sequence[WantedItem], season: Season
) -> Supply:
    """What the options give to who picks it."""
    supply = _supply(options, members, ends)
    kept, lying = (np.array([weeks(option.batch.crop) for option in options], np.int64)[supply.candidate]
                   for weeks in (keeps, lies))
    return _kept(picked_when_there(supply, season.gone, kept, lying), options, wanted)


def _kept(supply: Supply, options: Sequence[Option], wanted: Sequence[WantedItem]) -> Supply:
    """What is put by stays good to the end of its season."""
    if all(item.kept is None for item in wanted):
        return supply
    until = np.stack([np.full(WEEKS, -1) if item.kept is None else item.kept for item in wanted])
    item = np.array([option.item for option in options], dtype=np.int64)
    return replace(supply, last=np.maximum(supply.last, until[item[supply.candidate], supply.ripe]))


def counted_in(given: Given, ends: Ints) -> Given:
    """Less what ripens after the last week in which its item is counted, as in `_supply`."""
    keep = given.ripe <= ends[given.item]
    return Given(given.item[keep], given.year[keep], given.ripe[keep], given.last[keep], given.kg[keep])


def _supply(options: Sequence[Option], members: Ints, ends: Ints) -> Supply:
    """What a square metre of each option gives in each of some members; years numbered as in `members`.

    What ripens after the last week in which its item is counted is left out: it is neither wanted by
    this plan nor spare, for the next plan will want it. Of what is sown in the second year that is the last
    counted week of all items, for stores too: past it they would have the ground for the asking.
    """
    place = {int(member): year for year, member in enumerate(members)}
    year_of = np.full(max([*place, 0]) + 1, -1)
    year_of[list(place)] = list(place.values())
    parts = [_batch_supply(batch, numbers, year_of) for batch, numbers in _by_batch(options)]
    columns = [np.concatenate([part[i] for part in parts]) for i in range(5)] if parts else [np.empty(0)] * 5
    candidate, year, ripe, last = (column.astype(np.int64) for column in columns[:4])
    until = np.array([min(ends[option.item], option.gives_to - 1, COUNTED_WEEKS - 1 if
                          option.day >= YEAR_WEEKS * 7 else WEEKS) for option in options], dtype=np.int64)
    counted = np.flatnonzero(ripe <= until[candidate])
    key = (candidate * max(members.size, 1) + year) * WEEKS + ripe  # one key is sorted sooner than three
    order = counted[np.argsort(key[counted], kind="stable")]
    return Supply(candidate[order], year[order], ripe[order], last[order], columns[4][order])


def _by_batch(options: Sequence[Option]) -> list[tuple[Batch, Ints]]:
    """Each batch of each item with the number of each of its sow days' options (-1: none)."""
    groups: dict[tuple[int, int], tuple[Batch, Ints]] = {}
    for number, option in enumerate(options):
        key = (option.item, id(option.batch))
        if key not in groups:
            groups[key] = (option.batch, np.full(option.batch.days.size, -1))
        groups[key][1][option.index] = number
    return list(groups.values())


def _batch_supply(batch: Batch, numbers: Ints, year_of: Ints) -> tuple[Floats | Ints, ...]:
    part = batch.ripening
    known = part.year < year_of.size
    year = np.where(known, year_of[np.minimum(part.year, year_of.size - 1)], -1)
    candidate = numbers[part.sowing]
    factor = batch.stand[part.year, part.sowing] * batch.harvest[part.year, 0]
    kg = part.share * factor * batch.crop.produce.kg_per_m2
    keep = (year >= 0) & (candidate >= 0) & (kg > 0)
    return candidate[keep], year[keep], part.ripe[keep], part.last[keep], kg[keep]
