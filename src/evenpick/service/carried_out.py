"""Which planned sowings were carried out, by the diary (docs/design/record.md, R8)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from evenpick.base.days import day_number
from evenpick.garden.record import Sowing
from evenpick.service.plan_answer import PlannedSowing

NEAR_DAYS = 10
"""a sowing that names no planned one may be that many days from the one it carries out,
bought plants from its planting out"""


def carried_out(planned: Iterable[PlannedSowing], sowings: Iterable[Sowing]) -> Mapping[str, str]:
    """Id of the sowing in the diary by id of the planned one. What names a planned sowing is that one; the
    others are paired by crop, way and cover with the nearest, one to one."""
    every = {each.id: each for each in planned}
    made = sorted(sowings, key=lambda sowing: (sowing.day, sowing.id))
    found = {s.fact.planned: s.id for s in made if s.fact.planned in every}
    free: dict[tuple[str, str, str], list[PlannedSowing]] = {}
    for each in every.values():
        free.setdefault((each.crop, each.way, each.cover), []).append(each)
    pairs = sorted(
        (apart, sowing.day, sowing.id, one.id)
        for sowing in made if sowing.fact.planned is None
        for one in free.get((sowing.fact.crop, sowing.fact.way, sowing.fact.cover), ())
        if (apart := abs(sowing.day - _day(one, sowing.fact.bought))) <= NEAR_DAYS
    )
    used: set[str] = set()
    for _, _, identity, name in pairs:
        if name not in found and identity not in used:
            found[name] = identity
            used.add(identity)
    return {name: sowing for name, sowing in found.items() if name is not None}


def _day(planned: PlannedSowing, bought: bool) -> int:
    """The day that it would be done on: bought plants come in where raised ones were to be planted out."""
    return day_number(planned.plant_out if bought and planned.plant_out is not None else planned.sow)
