"""JSON shapes of what shares come to and what they bring (docs/interface.md)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from evenpick.report.shares import SharesOf
    from evenpick.service.cooperative_answer import CooperativeAnswer
    from evenpick.service.pickings_answer import ItemPickings
    from evenpick.service.plan_answer import PlanAnswer


def worth_shape(answer: PlanAnswer | CooperativeAnswer) -> dict[str, Any]:
    """What shares will fall short of and what it would bring."""
    return {
        "money": answer.money, "short_shares": [asdict(each) for each in answer.short_shares],
        "takings": [
            {**asdict(each), "months": [{"month": month, "likely": likely} for month, likely in each.months]}
            for each in answer.takings
        ],
    }


def shares_list(items: Sequence[ItemPickings], shares: SharesOf) -> list[dict[str, Any]]:
    """One share of each outlet in each of the weeks of some pickings."""
    weeks = sorted({week.week for item in items for week in item.weeks})
    return [{"week": week, **asdict(share)} for week in weeks for share in shares(week)]
