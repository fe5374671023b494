"""What each sowing of a plan brings in the years it was made for (docs/design/season.md, 22)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.days import day_date
from evenpick.plan.given import Given
from evenpick.plan.supply import counted_in
from evenpick.plan.task import Task, last_wanted
from evenpick.plan.wanted import given_anyway
from evenpick.service.garden_task import GardenTask
from evenpick.service.packed import packed
from evenpick.service.pickings_answer import Brought
from evenpick.service.plan_answer import PlannedSowing
from evenpick.service.plan_limits import anyway_there, given_there, weeks_gone


def brought(
    part: GardenTask, work: Task, areas: Floats, sowings: Sequence[PlannedSowing]
) -> tuple[Brought, ...]:
    """Of every sowing of a plan (`sowings` have their names), of what stands, of what comes without one."""
    every = (*_planned(part, work, areas, sowings), *_given(part))
    return tuple(each for each in every if each.entries)


def _planned(
    part: GardenTask, work: Task, areas: Floats, sowings: Sequence[PlannedSowing]
) -> Iterator[Brought]:
    supply = work.request.supply.where(areas > 0)
    for number, name in names_of(part, work, areas, sowings).items():
        mine, item = supply.candidate == number, work.request.items[work.options[number].item].name
        kg = areas[number] * supply.kg[mine]
        yield Brought(name, item, packed(supply.year[mine], supply.ripe[mine], supply.last[mine], kg))


def names_of(
    part: GardenTask, work: Task, areas: Floats, sowings: Sequence[PlannedSowing]
) -> Mapping[int, str]:
    """By candidate with an area the id of its sowing; none of those that the grower fixed."""
    names = {(s.item, s.crop, s.name, s.way, s.cover, s.sow): s.id for s in sowings if not s.fixed}
    found = {}
    for number in np.flatnonzero(areas > 0).tolist():
        option = work.options[number]
        item, batch = work.request.items[option.item].name, option.batch
        found[number] = names[item, batch.crop.key, batch.crop.name, batch.way.name, batch.cover,
                              day_date(part.horizon.start + option.day)]
    return found


def _given(part: GardenTask) -> Iterator[Brought]:
    gone = weeks_gone(part.garden, part.horizon)
    for one in part.stood:
        yield from _of_items(part, one.standing.id, given_there(one, part.wanted, gone))
    anyway = given_anyway(part.garden.anyway, part.wanted, part.horizon, part.weather.years)
    yield from _of_items(part, "", anyway_there(anyway, gone))


def _of_items(part: GardenTask, name: str, given: Given) -> Iterator[Brought]:
    """As the plan counts it."""
    ends = np.array([last_wanted(item.kg) for item in part.wanted])
    seen = counted_in(given.of_years(part.split.seen), ends)
    for number in np.unique(seen.item):
        mine = seen.item == number
        entries = packed(seen.year[mine], seen.ripe[mine], seen.last[mine], seen.kg[mine])
        yield Brought(name, part.wanted[number].name, entries)
