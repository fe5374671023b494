"""The plan that a day is told by: that of the garden as it now is, or else the one kept before its file was
changed (docs/design/season.md, 22a)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from evenpick.base.errors import EvenpickError
from evenpick.base.language import later, tell
from evenpick.base.trade import ground_under
from evenpick.garden.garden import Garden
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.store_plan import last_plan, saved_plan

OLDER = later("The garden file was changed since the plan was made; this is by the older plan.")
OLDER_TOGETHER = later("A file of the cooperative was changed since its plan was made; this is by the older "
                       "plan.")
"""of all farms, whichever file it was"""


@dataclass(frozen=True, slots=True)
class AtHand:
    plan: PlanAnswer | None
    older: str = ""
    """what is to be said where the garden's file was changed since it was made, or its cooperative's"""


def plan_at_hand(garden: Path, described: Garden) -> AtHand:
    """What there is. BadRequest, BadPlan as of `saved_plan`."""
    now = saved_plan(garden)
    before = last_plan(garden) if now is None else None
    if before is not None:
        return AtHand(_still_possible(before, described), tell(OLDER))
    return AtHand(now, "" if now is None or _of_these_files(now, described) else tell(OLDER_TOGETHER))


def older_told(found: PlanAnswer, older: str, command: str) -> PlanAnswer:
    """A plan with what is said of its being `older`, and the command that takes the change in."""
    if not older:
        return found
    note = " ".join(part for part in (older, found.loss_note) if part)
    return replace(found, loss_note=note, take_in=found.take_in or command)


def _of_these_files(plan: PlanAnswer, described: Garden) -> bool:
    """Whether the files of the cooperative are as they were when the farm's part was made; what can't be read
    is told where it is asked for."""
    if described.cooperative is None or not plan.together:
        return True
    from evenpick.service.cooperative_files import cooperative_of

    try:
        return plan.together.startswith(cooperative_of(described.cooperative).digest)
    except EvenpickError:
        return True


def _still_possible(plan: PlanAnswer, described: Garden) -> PlanAnswer:
    """A plan less the sowings for which there is no ground any more, or that are never to be."""
    there = described.covers_there
    return replace(plan, sowings=tuple(
        sowing for sowing in plan.sowings
        if sowing.crop not in described.never and ground_under(sowing.cover) in there
    ))
