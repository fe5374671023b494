"""A kept plan as it can still be picked, by the diary (docs/design/season.md, 22)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number, monday_of
from evenpick.base.language import later, tell, tell_n
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.record import Record
from evenpick.service.book import lately
from evenpick.service.gone import Gone, Why, besides, gone_since, supposed
from evenpick.service.outlook_answer import Band
from evenpick.service.picked_now import with_picked
from evenpick.service.pickings_answer import Brought, ItemPickings
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing, StandingSowing
from evenpick.service.plan_command import mending
from evenpick.service.setups import garden_of
from evenpick.service.store_plan import kept_plan

NO_MORE: dict[Why, str] = {
    "lost": later("it was lost"), "cleared": later("it was cleared"), "refused": later("it was refused"),
    "not sown": later("it was not sown in time"),
}
LESS: dict[Why, str] = {
    "not sown": later("Planned, not in the diary, and too late by now, so not counted: {names}. Write "
                      "down those that were sown."),
    "refused": later("Refused since the plan was made, so not counted: {names}."),
    "cleared": later("Cleared since the plan was made, so counted no more: {names}."),
    "another amount": later("Counted as much as was sown, not as was planned: {names}."),
}


def plan_now(garden: Path, day: date) -> PlanAnswer:
    """The plan kept, as it can still be picked on a day. BadRequest where there is none, BadBook."""
    return less_lost(kept_plan(garden), lately(garden, day_number(day)), day, mending(garden_of(garden)))


def less_lost(plan: PlanAnswer, record: Record, day: date, command: str) -> PlanAnswer:
    """A plan less what was lost, cleared, refused or not sown in time by a day, with as much as was sown and,
    in the week of the day, no less than was picked; and a word (`loss_note`) on what is told otherwise, with
    the `command` that takes it in where one can. Only for what is told: jobs and plans made anew are of the
    plan as it was kept."""
    gone = gone_since(plan, record, day)
    more = _sowings(sowing.fact.crop for sowing in besides(plan, record, day))
    plan = replace(plan, loss_note=" ".join(_notes(plan, record, gone, more, day)),
                   take_in=command if gone or more else "")
    if not gone:
        return replace(plan, pickings=with_picked(plan, record, day))
    hit = {gone[each.sowing].item for each in plan.brought if each.sowing in gone}
    left = replace(
        plan,
        pickings=tuple(again(item, plan.brought, gone, plan.made_from.years) if item.item in hit else item
                       for item in plan.pickings),
        sowings=tuple(_sowing(each, gone) for each in plan.sowings),
        standing=tuple(_standing(each, gone) for each in plan.standing),
    )
    return replace(left, pickings=with_picked(left, record, day))


def again(
    item: ItemPickings, brought: Sequence[Brought], gone: Mapping[str, Gone], years: int
) -> ItemPickings:
    """An item's weeks from the first in which less was left of it, served anew with what is left of what is
    `brought` to any item in so many years."""
    from evenpick.service.served_anew import Left, served_anew

    begins = item.weeks[0].week
    mine = [each for each in brought if each.item == item.item]
    less = [gone.get(each.sowing) for each in mine]
    left = [Left() if one is None else
            Left(one.times, one.share, (one.day - begins).days // 7 - (one.why == "lost"), one.keeps)
            for one in less]
    first = min(monday_of(one.day) for one in less if one is not None)
    served = served_anew(item, mine, left, years)
    return replace(item, weeks=tuple(
        then if then.week < first else replace(now, piece_kg=then.piece_kg)
        for then, now in zip(item.weeks, served, strict=True)
    ))


def _sowing(sowing: PlannedSowing, gone: Mapping[str, Gone]) -> PlannedSowing:
    lost = gone.get(sowing.id)
    if lost is None or not lost.whole:
        return sowing
    return replace(sowing, fills=None, first_picking=None, because=tell(NO_MORE[lost.why]))


def _standing(sowing: StandingSowing, gone: Mapping[str, Gone]) -> StandingSowing:
    lost = gone.get(sowing.id)
    if lost is None:
        return sowing
    left, kg = 1.0 - lost.share, sowing.to_come
    return replace(
        sowing, left=sowing.left * left, to_come=Band(kg.low * left, kg.likely * left, kg.high * left),
        first_picking=None if lost.whole else sowing.first_picking,
    )


def _notes(
    plan: PlanAnswer, record: Record, gone: Mapping[str, Gone], more: str, day: date
) -> Iterator[str]:
    """What is told otherwise than the plan has it, and what it does not know; `more` was sown besides."""
    if supposed(plan, record, day):
        yield tell("The diary has no sowing: for the pickings all is taken to have been sown as it was "
                   "planned; jobs count as done once they are written down.")
    lost = _names(each.crop for each in gone.values() if each.why == "lost")
    others = {why: names for why in LESS
              if (names := _sowings(each.crop for each in gone.values() if each.why == why))}
    if not plan.brought:
        yield from _still_counted(lost, ", ".join(others.values()))
    else:
        if lost:
            yield tell("The plan is from before the loss of {names}: what was lost is taken off, and nothing "
                       "is planned in its stead.", names=lost)
        yield from (tell(LESS[why], names=names) for why, names in others.items())
    if more:
        yield tell("Sown besides the plan, and not counted yet: {names}.", names=more)


def _still_counted(lost: str, others: str) -> Iterator[str]:
    if lost:
        yield tell("The plan is from before the loss of {names}, and does not say what each sowing brings: "
                   "what was lost still counts here.", names=lost)
    if others:
        yield tell("The plan does not say what each sowing brings, and still counts here what was not sown "
                   "in time or as planned, was refused or cleared: {names}.", names=others)


def _names(crops: Iterable[str]) -> str:
    catalogue = load_catalogue()
    return ", ".join(dict.fromkeys(catalogue.crop(crop).told for crop in crops))


def _sowings(crops: Iterable[str]) -> str:
    """'Radish (2 sowings), Beetroot (1 sowing)'; others of the same crop may be as planned."""
    catalogue = load_catalogue()
    return ", ".join(tell_n("{name} ({n} sowing)", "{name} ({n} sowings)", n, name=catalogue.crop(crop).told)
                     for crop, n in Counter(crops).items())
