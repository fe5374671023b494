"""A cooperative's kept plan as it can still be picked, by its farms' diaries (docs/design/season.md, 22)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.language import tell
from evenpick.garden.record import Record
from evenpick.service.book import lately
from evenpick.service.cooperative import kept_cooperative
from evenpick.service.cooperative_answer import CooperativeAnswer, FarmTold
from evenpick.service.cooperative_files import cooperative_of
from evenpick.service.farms_asked import each_farm
from evenpick.service.gone import gone_since
from evenpick.service.less_lost import again, less_lost
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_command import plan_command


def cooperative_now(file: Path, day: date) -> CooperativeAnswer:
    """The plan kept, as it can still be picked on a day. BadRequest where there is none."""
    records = each_farm(cooperative_of(file), lambda farm: lately(farm.file, day_number(day)))
    return less_lost_by_farm(kept_cooperative(file), records, day, plan_command(file, mend=True))


def less_lost_by_farm(
    answer: CooperativeAnswer, records: Sequence[FarmTold[Record]], day: date, command: str
) -> CooperativeAnswer:
    """A plan less what each farm lost, cleared, refused or did not sow in time, as `less_lost` of a garden;
    what the others bring meets what is wanted as far as it goes. `records` of the farms, in their order; what
    a farm planned stands where its own can't be read, and that is told."""
    farms = tuple(replace(farm, plan=_less(farm.plan, record, day, command))
                  for farm, record in zip(answer.farms, records, strict=True))
    said = dict.fromkeys(farm.plan.loss_note for farm in farms if farm.plan.loss_note)
    note = " ".join(
        f"{', '.join(farm.name for farm in farms if farm.plan.loss_note == each)}: {each}" for each in said
    )
    take_in = next((farm.plan.take_in for farm in farms if farm.plan.take_in), "")
    brought = [replace(each, sowing=f"{number} {each.sowing}")
               for number, farm in enumerate(answer.farms) for each in farm.plan.brought]
    gone = {
        f"{number} {name}": one
        for number, (farm, record) in enumerate(zip(answer.farms, records, strict=True))
        if record.answer is not None for name, one in gone_since(farm.plan, record.answer, day).items()
    }
    hit = {gone[each.sowing].item for each in brought if each.sowing in gone}
    years = answer.farms[0].plan.made_from.years
    return replace(answer, farms=farms, loss_note=note, take_in=take_in, pickings=tuple(
        again(item, brought, gone, years) if item.item in hit else item for item in answer.pickings
    ))


def _less(plan: PlanAnswer, record: FarmTold[Record], day: date, command: str) -> PlanAnswer:
    if record.answer is not None:
        return less_lost(plan, record.answer, day, command)
    said = tell("What it lost or did not sow is not known, and all that it planned is told.")
    return replace(plan, loss_note=f"{said} {record.problem}")
