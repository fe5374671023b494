"""A kept plan as it can still be picked, by the diary (docs/design/season.md, 22)."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from evenpick.base.days import day_number, monday_of
from evenpick.base.language import later, tell, tell_n
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.record import Record
from evenpick.service.book import lately
from evenpick.service.gone import Gone, Why, besides, gone_since, supposed
from evenpick.service.other_farms import OtherFarms, Sowings, others_now
from evenpick.service.outlook_answer import Band
from evenpick.service.picked_now import with_picked
from evenpick.service.pickings_answer import Brought, ItemPickings, WeekOfItem
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing, StandingSowing
from evenpick.service.plan_at_hand import older_told, plan_at_hand
from evenpick.service.plan_command import mending
from evenpick.service.setups import garden_of
from evenpick.service.store_plan import kept_plan

if TYPE_CHECKING:
    from evenpick.service.served_anew import Left

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
    """The plan kept, as it can still be picked on a day, with a word where it is from before the garden's
    file was changed. BadRequest where there is none, BadBook."""
    described = garden_of(garden)
    found = plan_at_hand(garden, described)
    plan = kept_plan(garden) if found.plan is None else found.plan
    others, command = others_now(garden, described, plan, day), mending(described)
    left = less_lost(plan, lately(garden, day_number(day)), day, command, others)
    return older_told(left, found.older, command)


def less_lost(
    plan: PlanAnswer, record: Record, day: date, command: str, others: OtherFarms | None = None
) -> PlanAnswer:
    """A plan less what was lost, cleared, refused or not sown in time by a day, with as much as was sown and,
    in the week of the day, no less than was picked; and a word (`loss_note`) on what is told otherwise, with
    the `command` that takes it in where one can; of what is shared with `others`, its part of what
    is left on all. Only for what is told: jobs and plans made anew are of the plan as it was kept."""
    gone = gone_since(plan, record, day)
    more = _sowings(sowing.fact.crop for sowing in besides(plan, record, day))
    plan = replace(plan, loss_note=" ".join(_notes(plan, record, gone, more, day)),
                   take_in=command if gone or more else "")
    elsewhere = others.farms if others else ()
    farms, theirs = ((plan.brought, gone), *elsewhere), hit_items(elsewhere)
    hit = theirs | hit_items(farms[:1])
    if others is not None and not others.told_apart and (shared := theirs & _own_items(plan)):
        plan = replace(plan, loss_note=" ".join(filter(None, (plan.loss_note, _others_less(shared)))))
    left = replace(
        plan,
        pickings=tuple(_anew(item, farms, others, plan.made_from.years) if item.item in hit else item
                       for item in plan.pickings),
        sowings=tuple(_sowing(each, gone) for each in plan.sowings),
        standing=tuple(_standing(each, gone) for each in plan.standing),
    )
    return replace(left, pickings=with_picked(left, record, day))


def hit_items(farms: Sequence[Sowings]) -> set[str]:
    """Items of which something is gone on one of the farms, or of which there is more."""
    return {each.item for several, gone in farms for each in several if each.sowing in gone}


def _own_items(plan: PlanAnswer) -> set[str]:
    return {each.item for each in plan.brought}


def _others_less(items: Iterable[str]) -> str:
    return tell("Another farm has less or more of this than was planned, and what is told here is this "
                "farm's part of what is left: {items}.", items=", ".join(sorted(items)))


def _anew(
    item: ItemPickings, farms: Sequence[Sowings], others: OtherFarms | None, years: int
) -> ItemPickings:
    """The item with what is left of it; `farms` begin with this one."""
    if others is None or item.item not in others.wanted:
        return again(item, *farms[0], years)
    return _part_again(item, farms, others.wanted[item.item], years)


def again(
    item: ItemPickings, brought: Sequence[Brought], gone: Mapping[str, Gone], years: int
) -> ItemPickings:
    """An item's weeks from the first in which less was left of it, served anew with what is left of what is
    `brought` to any item in so many years."""
    from evenpick.service.served_anew import served_anew

    mine = [each for each in brought if each.item == item.item]
    less = [gone.get(each.sowing) for each in mine]
    return _from_then(item, less, served_anew(item, mine, _left(item, less), years))


def _part_again(
    item: ItemPickings, farms: Sequence[Sowings], wanted: Sequence[float], years: int
) -> ItemPickings:
    """The same of a farm's part of an item (the first of the `farms`), of which so much is `wanted` of all:
    what is left on all farms is served together, and of it this one has what it brings."""
    from evenpick.service.farm_pickings import parts_of
    from evenpick.service.served_anew import farms_bring, served_anew

    every = [(each, here.get(each.sowing), number) for number, (several, here) in enumerate(farms)
             for each in several if each.item == item.item]
    mine, less, whose = [one[0] for one in every], [one[1] for one in every], [one[2] for one in every]
    left, kg = _left(item, less), np.array(wanted)
    whole = replace(item, weeks=tuple(
        replace(week, wanted=each) for week, each in zip(item.weeks, wanted, strict=True)))
    had = farms_bring(whole, mine, left, whose, len(farms), years)
    own = np.array([week.wanted for week in item.weeks]) / np.where(kg > 0, kg, 1.0)
    rest = (1.0 - own) / max(len(farms) - 1, 1)
    shares = np.stack([own, *[rest] * (len(farms) - 1)])
    now = parts_of(had, served_anew(whole, mine, left, years), shares, lost=True)
    return _from_then(item, less, now[0])


def _left(item: ItemPickings, less: Sequence[Gone | None]) -> list[Left]:
    from evenpick.service.served_anew import Left

    begins = item.weeks[0].week
    return [Left() if one is None else
            Left(one.times, one.share, (one.day - begins).days // 7 - (one.why == "lost"), one.keeps)
            for one in less]


def _from_then(
    item: ItemPickings, less: Sequence[Gone | None], served: Sequence[WeekOfItem]
) -> ItemPickings:
    """As it was until the first week in which less was left, from then on as it is `served`."""
    first = min(monday_of(one.day) for one in less if one is not None)
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
