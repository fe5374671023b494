"""A layout without room for some of what it is asked to lay the first time; it lays all from then on."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.service.ground import ToLay, laid
from evenpick.service.ground_answer import GroundAnswer, NoRoom
from evenpick.service.lain import NOWHERE, Lain
from evenpick.service.plan_answer import PlannedSowing


@dataclass
class FullAtFirst:
    """Called in the place of `laid`."""

    refused: Callable[[ToLay], Iterable[tuple[PlannedSowing, float]]]
    """sowings of the plan, with the share of each that has no room"""
    gardens: list[Garden] = field(default_factory=list)
    plans: list[ToLay] = field(default_factory=list)
    """what was asked, in its order"""

    def __call__(self, garden: Garden, plan: ToLay, record: Record, lain: Lain = NOWHERE) -> GroundAnswer:
        self.gardens.append(garden)
        self.plans.append(plan)
        found = laid(garden, plan, record, lain)
        if len(self.plans) > 1:
            return found
        without = [NoRoom(one.id, one.number, one.name, one.sow, share * one.area_m2, "", "")
                   for one, share in self.refused(plan)]
        return replace(found, no_room=tuple(without))
