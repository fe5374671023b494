"""A kept plan less what was lost since it was made: what can still be picked (docs/design/season.md, 22)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from evenpick.base.days import day_date, day_number, monday_of
from evenpick.base.language import later, tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.record import NOTHING_LEFT, Record, Sowing
from evenpick.service.answers import (
    Band,
    Brought,
    ItemPickings,
    PlanAnswer,
    PlannedSowing,
    StandingSowing,
)
from evenpick.service.book import lately
from evenpick.service.carried_out import carried_out
from evenpick.service.store_plan import kept_plan

TAKE_IN = later("Take it in with: evenpick plan --mend")
"""ends the note on a loss; a page leads to its own plan instead"""


@dataclass(frozen=True, slots=True)
class Gone:
    """What a plan counts on of a sowing and was lost since."""

    crop: str
    share: float
    """of what the plan counts on"""
    day: date
    """of the last loss"""
    item: str | None
    """that it serves"""

    @property
    def whole(self) -> bool:
        return self.share >= 1.0 - NOTHING_LEFT


def plan_now(garden: Path, day: date) -> PlanAnswer:
    """The plan kept, less what was lost since, as of a day. BadRequest where there is none, BadBook."""
    return less_lost(kept_plan(garden), lately(garden, day_number(day)), day)


def less_lost(plan: PlanAnswer, record: Record, day: date) -> PlanAnswer:
    """A plan as it can still be picked on a day, with a word (`loss_note`) on what was taken off, if anything
    was. Only for what is told: jobs and plans made anew are of the plan as it was kept."""
    gone = gone_since(plan, record, day)
    if not gone:
        return plan
    hit = {gone[each.sowing].item for each in plan.brought if each.sowing in gone}
    return replace(
        plan, loss_note=_note(gone, bool(plan.brought)),
        pickings=tuple(_again(plan, item, gone) if item.item in hit else item for item in plan.pickings),
        sowings=tuple(_sowing(each, gone) for each in plan.sowings),
        standing=tuple(_standing(each, gone) for each in plan.standing),
    )


def gone_since(plan: PlanAnswer, record: Record, day: date) -> Mapping[str, Gone]:
    """What was lost since a plan was made, by the id that the plan knows it by."""
    made = carried_out(plan.sowings, record.sowings.values())
    counted: list[tuple[str, str, str | None, float]]
    counted = [(each.id, made[each.id], each.item, 1.0) for each in plan.sowings if each.id in made]
    counted += [(each.id, each.id, each.item, each.left) for each in plan.standing
                if each.id in record.sowings]
    found = {name: _gone(record.sowings[sown], item, left, plan.begins, day)
             for name, sown, item, left in counted}
    return {name: gone for name, gone in found.items() if gone is not None}


def _gone(sowing: Sowing, item: str | None, counted: float, begins: date, day: date) -> Gone | None:
    """`counted`: the share that was left of it when the plan was made."""
    losses = [loss for loss in sowing.losses if loss.day <= day_number(day)]
    left = sowing.left_on(day_number(day))
    if not losses or losses[-1].day < day_number(begins) or left >= counted - 1e-9:
        return None
    return Gone(sowing.fact.crop, 1.0 - left / counted, day_date(losses[-1].day), item)


def _again(plan: PlanAnswer, item: ItemPickings, gone: Mapping[str, Gone]) -> ItemPickings:
    """An item's weeks from the first of its losses on, served anew with what is left."""
    from evenpick.service.served_anew import served_anew

    mine = [each for each in plan.brought if each.item == item.item]
    first = min(monday_of(gone[each.sowing].day) for each in mine if each.sowing in gone)
    served = served_anew(item, mine, _lost_of(item, mine, gone), plan.made_from.years)
    return replace(item, weeks=tuple(
        then if then.week < first else replace(now, piece_kg=then.piece_kg)
        for then, now in zip(item.weeks, served, strict=True)
    ))


def _lost_of(
    item: ItemPickings, several: Sequence[Brought], gone: Mapping[str, Gone]
) -> list[tuple[float, int]]:
    """Of each the share lost, and the week of the horizon in which."""
    begins = item.weeks[0].week
    lost = (gone.get(each.sowing) for each in several)
    return [(0.0, 0) if one is None else (one.share, (one.day - begins).days // 7) for one in lost]


def _sowing(sowing: PlannedSowing, gone: Mapping[str, Gone]) -> PlannedSowing:
    lost = gone.get(sowing.id)
    if lost is None or not lost.whole:
        return sowing
    return replace(sowing, fills=None, first_picking=None, because=tell("it was lost"))


def _standing(sowing: StandingSowing, gone: Mapping[str, Gone]) -> StandingSowing:
    lost = gone.get(sowing.id)
    if lost is None:
        return sowing
    left, kg = 1.0 - lost.share, sowing.to_come
    return replace(
        sowing, left=sowing.left * left, to_come=Band(kg.low * left, kg.likely * left, kg.high * left),
        first_picking=None if lost.whole else sowing.first_picking,
    )


def _note(gone: Mapping[str, Gone], known: bool) -> str:
    catalogue = load_catalogue()
    names = ", ".join(dict.fromkeys(catalogue.crop(each.crop).name for each in gone.values()))
    if not known:
        return tell("The plan is from before the loss of {names}, and does not say what each sowing brings: "
                    "what was lost still counts here.", names=names) + f" {tell(TAKE_IN)}"
    return tell("The plan is from before the loss of {names}: what was lost is taken off, and nothing is "
                "planned in its stead.", names=names) + f" {tell(TAKE_IN)}"
