"""Where a sowing lies by the plan that told so, where the diary names no bed (record.md, R10a)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from evenpick.garden.garden import Garden
from evenpick.garden.record import Record, Sowing
from evenpick.service.lain import by_sowing
from evenpick.service.plan_answer import PlanAnswer


def place_of(beds: Iterable[str], garden: Garden) -> str | None:
    """The bed, or of several the piece of ground that all are beds of; None where there is no such."""
    wanted = set(beds)
    if len(wanted) == 1:
        named = {bed.name for piece in garden.grounds for bed in piece.beds}
        return next(iter(wanted & named), None)
    whole = (piece.name for piece in garden.grounds if wanted <= {bed.name for bed in piece.beds})
    return next(whole, None) if wanted else None


def with_places(record: Record, garden: Garden, plan: PlanAnswer | None) -> Record:
    """The diary with the ground of what was sown as a plan had told, and of which no line says where."""
    if plan is None:
        return record
    lying = by_sowing(plan.lying)

    def placed(sowing: Sowing) -> Sowing:
        if sowing.ground is not None or sowing.fact.planned is None:
            return sowing
        there = lying.get(sowing.id) or lying.get(sowing.fact.planned, ())
        return replace(sowing, ground=place_of((each.bed for each in there), garden))

    return replace(record, sowings={name: placed(one) for name, one in record.sowings.items()})
