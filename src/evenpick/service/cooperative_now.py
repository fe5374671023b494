"""A cooperative's kept plan as it can still be picked, by its farms' diaries (docs/design/season.md, 22)."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.language import tell
from evenpick.garden.record import Record
from evenpick.service.book import lately
from evenpick.service.cooperative_answer import CooperativeAnswer, FarmTold
from evenpick.service.cooperative_files import Described, cooperative_of
from evenpick.service.farms_asked import each_farm
from evenpick.service.gone import gone_since
from evenpick.service.kept_together import last_cooperative
from evenpick.service.less_lost import again, hit_items, less_lost
from evenpick.service.other_farms import OtherFarms
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_command import plan_command


def cooperative_now(file: Path, day: date) -> CooperativeAnswer:
    """The plan kept, as it can still be picked on a day, with a word where it is from before one of the files
    was changed. BadRequest where there is none."""
    described, command = cooperative_of(file), plan_command(file, mend=True)
    answer, older = last_cooperative(described)
    records = records_of(described, answer, lambda farm: lately(farm, day_number(day)))
    left = less_lost_by_farm(answer, records, day, command)
    return older_together(left, older, command)


def records_of(
    described: Described, answer: CooperativeAnswer, ask: Callable[[Path], Record]
) -> tuple[FarmTold[Record], ...]:
    """What each farm's diary has, in the order of a plan that may be older than the files: of a farm that has
    left, or was given another file since, it is not known."""
    told = each_farm(described, lambda farm: ask(farm.file))
    now = {farm.name: farm for farm in told}
    gone = tell("It is no farm of the cooperative any more.")
    folder = described.file.parent
    return tuple(now.get(farm.name) or FarmTold(farm.name, farm.file, folder / farm.file, None, gone)
                 for farm in answer.farms)


def older_together(answer: CooperativeAnswer, older: str, command: str) -> CooperativeAnswer:
    """The plan with what is said of its being `older`, as `older_told` of a garden."""
    if not older:
        return answer
    note = " ".join(part for part in (older, answer.loss_note) if part)
    return replace(answer, loss_note=note, take_in=answer.take_in or command)


def less_lost_by_farm(
    answer: CooperativeAnswer, records: Sequence[FarmTold[Record]], day: date, command: str
) -> CooperativeAnswer:
    """A plan less what each farm lost, cleared, refused or did not sow in time, as `less_lost` of a garden;
    what the others bring meets what is wanted as far as it goes. `records` of the farms, in their order; what
    a farm planned stands where its own can't be read, and that is told."""
    every = [(farm.plan.brought, {} if record.answer is None else gone_since(farm.plan, record.answer, day))
             for farm, record in zip(answer.farms, records, strict=True)]
    wanted = {item.item: tuple(week.wanted for week in item.weeks) for item in answer.pickings}
    farms = tuple(
        replace(farm, plan=_less(
            farm.plan, record, day, command,
            OtherFarms(wanted, (*every[:number], *every[number + 1 :]), told_apart=True)))
        for number, (farm, record) in enumerate(zip(answer.farms, records, strict=True)))
    said = dict.fromkeys(farm.plan.loss_note for farm in farms if farm.plan.loss_note)
    note = " ".join(
        f"{', '.join(farm.name for farm in farms if farm.plan.loss_note == each)}: {each}" for each in said
    )
    take_in = next((farm.plan.take_in for farm in farms if farm.plan.take_in), "")
    brought = [replace(each, sowing=f"{number} {each.sowing}")
               for number, (several, _) in enumerate(every) for each in several]
    gone = {f"{number} {name}": one for number, (_, here) in enumerate(every) for name, one in here.items()}
    hit = hit_items(every)
    years = answer.farms[0].plan.made_from.years
    return replace(answer, farms=farms, loss_note=note, take_in=take_in, pickings=tuple(
        again(item, brought, gone, years) if item.item in hit else item for item in answer.pickings
    ))


def _less(
    plan: PlanAnswer, record: FarmTold[Record], day: date, command: str, others: OtherFarms
) -> PlanAnswer:
    if record.answer is not None:
        return less_lost(plan, record.answer, day, command, others)
    said = tell("What it lost or did not sow is not known, and all that it planned is told.")
    return replace(plan, loss_note=f"{said} {record.problem}")
