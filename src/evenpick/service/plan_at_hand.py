"""The plan that a day is told by: that of the garden as it now is, or else the one kept before its file was
changed (docs/design/season.md, 22a)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from evenpick.base.trade import ground_under
from evenpick.garden.garden import Garden
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.store_plan import last_plan, saved_plan


@dataclass(frozen=True, slots=True)
class AtHand:
    plan: PlanAnswer | None
    older: bool = False
    """the garden's file was changed since it was made"""


def plan_at_hand(garden: Path, described: Garden) -> AtHand:
    """What there is. BadRequest, BadPlan as of `saved_plan`."""
    now = saved_plan(garden)
    before = last_plan(garden) if now is None else None
    return AtHand(now) if before is None else AtHand(_still_possible(before, described), older=True)


def _still_possible(plan: PlanAnswer, described: Garden) -> PlanAnswer:
    """A plan less the sowings for which there is no ground any more, or that are never to be."""
    there = described.covers_there
    return replace(plan, sowings=tuple(
        sowing for sowing in plan.sowings
        if sowing.crop not in described.never and ground_under(sowing.cover) in there
    ))
