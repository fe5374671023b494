"""What of a plan's sowings is still to be made: those not carried out, and the rest of those sown in part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from evenpick.base.language import tell
from evenpick.crops.sown import ROW_STEP
from evenpick.garden.record import Record, Sowing
from evenpick.service.carried_out import carried_out
from evenpick.service.gone import sown_for
from evenpick.service.jobs import can_wait
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing

WORTH = 0.2
"""of what was planned: less than that was left out by eye (our choice)"""


def still_to_sow(plan: PlanAnswer, record: Record, day: date) -> Iterator[PlannedSowing]:
    """Neither carried out nor refused; and of those of which a part was sown the rest."""
    made, refused = carried_out(plan.sowings, record.sowings.values()), record.decided("refused")
    parts = sown_for(plan, record, made, day)
    for sowing in plan.sowings:
        left = rest_of(sowing, parts.get(sowing.id), day) if sowing.id in made else sowing
        if left is not None and sowing.id not in refused:
            yield left


def rest_of(planned: PlannedSowing, several: Sequence[Sowing] | None, day: date) -> PlannedSowing | None:
    """The part of a planned sowing that the `several` of the diary leave, asked for as long as it can wait:
    who meant to sow less is not told for ever that some is missing. None where it is done, or too late."""
    if several is None:  # carried out before the plan was made
        return None
    left = 1.0 - sum(sowing.area for sowing in several) / planned.area_m2
    if left < WORTH or day > can_wait(planned):
        return None
    row = None if planned.row_m is None else round(left * planned.row_m / ROW_STEP) * ROW_STEP
    plants = None if planned.plants is None else round(left * planned.plants)
    if row == 0.0 or plants == 0:
        return None
    return replace(
        planned, area_m2=left * planned.area_m2, row_m=row, plants=plants,
        seeds=None if planned.seeds is None else round(left * planned.seeds),
        grams=None if planned.grams is None else left * planned.grams,
        because=tell("the rest of what was planned; {why}", why=planned.because),
    )
