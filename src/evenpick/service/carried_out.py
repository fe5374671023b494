"""Which planned sowings were carried out, by the diary (docs/design/record.md, R8)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from evenpick.base.days import day_number
from evenpick.garden.record import Sowing
from evenpick.service.answers import PlannedSowing

NEAR_DAYS = 10
"""a sowing that names no planned one may be that many days from the one it carries out"""


def carried_out(planned: Iterable[PlannedSowing], sowings: Iterable[Sowing]) -> Mapping[str, str]:
    """Id of the sowing in the diary by id of the planned one. What names a planned sowing is that one; the
    others are paired by crop, way and cover with the nearest, one to one."""
    every = {each.id: each for each in planned}
    made = sorted(sowings, key=lambda sowing: (sowing.day, sowing.id))
    found = {s.fact.planned: s.id for s in made if s.fact.planned in every}
    pairs = sorted(
        (abs(sowing.day - day_number(each.sow)), sowing.day, sowing.id, each.id)
        for sowing in made if sowing.fact.planned is None
        for each in every.values() if _alike(each, sowing)
    )
    used: set[str] = set()
    for apart, _, sowing, name in pairs:
        if apart <= NEAR_DAYS and name not in found and sowing not in used:
            found[name] = sowing
            used.add(sowing)
    return {name: sowing for name, sowing in found.items() if name is not None}


def _alike(planned: PlannedSowing, sowing: Sowing) -> bool:
    fact = sowing.fact
    return (planned.crop, planned.way, planned.cover) == (fact.crop, fact.way, fact.cover)
