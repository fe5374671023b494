"""What a decision on a planned sowing would do to the pickings, before it is made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evenpick.garden.diary import Decided
from evenpick.plan.hands import HERE, Hands
from evenpick.service.plan_answer import Change, PlanAnswer
from evenpick.service.setups import garden_of
from evenpick.service.standing import under_way

LEAST = 0.1
"""share of what is wanted by which a week must change to be told"""


@dataclass(frozen=True, slots=True)
class WeekChange:
    """One item in one week, kg."""

    item: str
    week: date
    wanted: float
    before: float
    after: float
    """likely, of the plan kept and with the decision"""


@dataclass(frozen=True, slots=True)
class Supposed:
    """The plan with a decision, and how it differs from the one kept."""

    plan: PlanAnswer
    weeks: tuple[WeekChange, ...]
    changes: tuple[Change, ...]
    """other sowings that the plan would change for it"""
    bare: tuple[float, float]
    spare: tuple[float, float]
    """shares on unseen years, before and after"""


def suppose(
    garden: Path, today: date, before: PlanAnswer, decided: Decided, hands: Hands = HERE
) -> Supposed:
    """Mend the plan kept as though this were decided; nothing is written. BadGarden, BadBook."""
    from evenpick.service.planning import first_day, make_plan  # slow to load, for whoever serves pages

    described = garden_of(garden)
    season = under_way(garden, first_day(described, today), decided, described=described)
    after = make_plan(garden, today, season=season, mend=True, hands=hands)
    others = tuple(change for change in after.changes if change.id != decided.planned)
    return Supposed(after, tuple(_weeks(before, after)), others, (before.plan.bare, after.plan.bare),
                    (before.plan.spare, after.plan.spare))


def _weeks(before: PlanAnswer, after: PlanAnswer) -> Iterator[WeekChange]:
    known = {(item.item, week.week): week.likely for item in before.pickings for week in item.weeks}
    for item in after.pickings:
        for week in item.weeks:
            was = known.get((item.item, week.week))
            if was is not None and abs(week.likely - was) > LEAST * max(week.wanted, item.piece_kg):
                yield WeekChange(item.item, week.week, week.wanted, was, week.likely)
