"""What the other farms of a cooperative bring beside one of them (docs/design/season.md, 22)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from evenpick.base.days import day_number
from evenpick.base.errors import EvenpickError
from evenpick.garden.garden import Garden
from evenpick.service.book import lately
from evenpick.service.gone import Gone, gone_since
from evenpick.service.packed import packed, unpacked
from evenpick.service.pickings_answer import Brought, ItemPickings, OthersBring
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.store_plan import last_plan

Sowings = tuple[Sequence[Brought], Mapping[str, Gone]]
"""what each of a farm's sowings brings, and what is gone of them by its id"""


@dataclass(frozen=True, slots=True)
class OtherFarms:
    wanted: Mapping[str, tuple[float, ...]]
    """kg of all farms by the week, of each item"""
    farms: tuple[Sowings, ...]
    """the other ones"""
    told_apart: bool = False
    """what is gone on them is told of them on the same page"""


def others_to_keep(
    whole: Sequence[ItemPickings], brought: Sequence[Sequence[Brought]], farm: int
) -> tuple[OthersBring, ...]:
    """What one farm's book keeps of the others: of each item the wants of all, and the sum of what they
    bring; `brought` is every farm's."""
    others = [each for number, own in enumerate(brought) if number != farm for each in own]
    return tuple(
        OthersBring(item.item, tuple(week.wanted for week in item.weeks),
                    _summed([each.entries for each in others if each.item == item.item]))
        for item in whole
    )


def _summed(several: Sequence[str]) -> str:
    """Entries of the same year and weeks as one."""
    if not several:
        return ""
    every = unpacked(several)
    weeks, of = np.unique(np.stack([every.year, every.ripe, every.last]), axis=1, return_inverse=True)
    year, ripe, last = weeks
    return packed(year, ripe, last, np.bincount(of.ravel(), every.kg, year.size).astype(np.float64))


def others_planned(plan: PlanAnswer) -> OtherFarms | None:
    """The other farms as the joint plan has them, from what is kept with a farm's part; None of a garden by
    itself."""
    if not plan.others:
        return None
    brought = [Brought("", each.item, each.entries) for each in plan.others if each.entries]
    return OtherFarms({each.item: each.wanted for each in plan.others}, ((brought, {}),))


def others_now(garden: Path, described: Garden, plan: PlanAnswer, day: date) -> OtherFarms | None:
    """The other farms less what they lost, refused or did not sow by a day, where all their books lie here
    and hold their parts of the same plan; else as the joint plan has them."""
    kept = others_planned(plan)
    if kept is None or described.cooperative is None:
        return kept
    farms = [_farm_now(file, plan.together, day) for file in neighbours(garden, described)]
    found = tuple(farm for farm in farms if farm is not None)
    return OtherFarms(kept.wanted, found) if found and len(found) == len(farms) else kept


def neighbours(garden: Path, described: Garden) -> tuple[Path, ...]:
    """Garden files of the other farms; none where the cooperative's file can't be read."""
    from evenpick.service.cooperative_files import farms_named

    if described.cooperative is None:
        return ()
    try:
        named = farms_named(described.cooperative)
    except EvenpickError:
        return ()
    return tuple(farm.file for farm in named if farm.file.resolve() != garden.resolve())


def _farm_now(file: Path, together: str, day: date) -> Sowings | None:
    """None where its book does not hold its part of the plan, or is damaged; as planned where its diary can't
    be read."""
    try:
        part = last_plan(file)
    except EvenpickError:
        return None
    if part is None or not together or part.together != together:
        return None
    try:
        return part.brought, gone_since(part, lately(file, day_number(day)), day)
    except EvenpickError:
        return part.brought, {}
