"""What the diary and the last plan say is in the ground, fixed or refused (docs/design/season.md, 2, 5)."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from evenpick.base.days import day_date, day_number
from evenpick.garden.diary import Decided, Reading
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record, Sowing, fold
from evenpick.plan.limits import Refused
from evenpick.plan.standing import Standing
from evenpick.service.book import record_of
from evenpick.service.carried_out import carried_out
from evenpick.service.jobs import can_wait
from evenpick.service.learning import grown_here, learn_from
from evenpick.service.plan_answer import GrownHere, PlanAnswer, PlannedSowing
from evenpick.service.setups import garden_of
from evenpick.service.store_plan import last_plan

NOTHING_WRITTEN = fold(())


@dataclass(frozen=True, slots=True)
class Decisions:
    """Planned sowings that are no longer the plan's to move."""

    fixed: tuple[PlannedSowing, ...] = ()
    """to be made as they are, areas as the grower fixed them"""
    refused: tuple[PlannedSowing, ...] = ()
    """or put off past the day they can wait to"""
    made: frozenset[str] = frozenset()
    """ids of planned sowings that were carried out"""
    put_off: Mapping[str, date] = field(default_factory=dict)
    """by id of a planned sowing, the day it was put off to"""
    not_then: tuple[Refused, ...] = ()
    """days on which what was refused or put off is not to be offered"""

    @property
    def names(self) -> frozenset[str]:
        """Ids that no new sowing may take."""
        return self.made | {sowing.id for sowing in (*self.fixed, *self.refused)}


@dataclass(frozen=True, slots=True)
class UnderWay:
    """The season so far: all that a plan takes over from before it."""

    standing: tuple[Standing, ...] = ()
    decided: Decisions = Decisions()
    before: PlanAnswer | None = None
    readings: Mapping[int, Reading] = field(default_factory=dict)
    """the grower's own instruments, by day number"""
    unplanned: frozenset[str] = frozenset()
    """ids of sowings made since the plan before that carry out none of its own"""
    lost: tuple[Sowing, ...] = ()
    """sowings of which some was lost"""
    learned: tuple[GrownHere, ...] = ()
    """crops as the diary taught that they grow here"""
    records: int = 0
    """sowings that taught it"""
    record: Record = NOTHING_WRITTEN

    @property
    def since(self) -> int | None:
        """Day number from which weather bears on what stands."""
        return min((standing.begun for standing in self.standing), default=None)


def under_way(
    garden: Path, on: int, supposed: Decided | None = None, shared: Iterable[str] = (),
    described: Garden | None = None,
) -> UnderWay:
    """The season so far of a garden file (`described`, if it was read already), on a day number; with a
    decision that is only `supposed`, and what was learned of crops `shared` with others beside its own.
    BadBook if its book can't be read."""
    record, before = record_of(garden), last_plan(garden)
    if supposed is not None:
        others = {name: fact for name, fact in record.decisions.items() if name != supposed.planned}
        freed = supposed.decision == "freed"
        record = replace(record, decisions=others if freed else {**others, supposed.planned: supposed})
    described = described or garden_of(garden)
    taught = learn_from(described.site, described.weather, record, lowest=described.lowest,
                        wishes=described.wishes, seedbed=described.seedbed, away=described.limits.away)
    grown = {crop for wish in described.wishes for crop in wish.crops} | set(shared)
    grown |= {sowing.fact.crop for sowing in record.sowings.values()}
    return UnderWay(
        standing_sowings(record, on, before), decisions(record, before, on), before,
        record.readings,
        _unplanned(record, before),
        tuple(sowing for sowing in record.sowings.values() if sowing.losses and sowing.day <= on),
        grown_here(taught.learned, sorted(grown)),
        len({seen.sowing for seen in (*taught.timing, *taught.yields)}), record,
    )


def standing_sowings(record: Record, on: int, before: PlanAnswer | None) -> tuple[Standing, ...]:
    """Every sowing that the diary has standing on a day."""
    items = _items(record, before)
    return tuple(
        _standing(sowing, on, items.get(sowing.id))
        for sowing in record.sowings.values()
        if sowing.day <= on and not sowing.over(on)
    )


def _unplanned(record: Record, before: PlanAnswer | None) -> frozenset[str]:
    if before is None:
        return frozenset()
    known = {*carried_out(before.sowings, record.sowings.values()).values(),
             *(standing.id for standing in before.standing)}
    begins = day_number(before.begins)
    return frozenset(
        name for name, sowing in record.sowings.items() if sowing.day >= begins and name not in known
    )


def _items(record: Record, before: PlanAnswer | None) -> Mapping[str, str | None]:
    """The item that each sowing was made for, as the last plan has it."""
    if before is None:
        return {}
    made = carried_out(before.sowings, record.sowings.values())
    items = {made[sowing.id]: sowing.item for sowing in before.sowings if sowing.id in made}
    return {**{each.id: each.item for each in before.standing}, **items}


def _standing(sowing: Sowing, on: int, item: str | None) -> Standing:
    picked = None if sowing.unweighed else sowing.picked_kg
    first = min((taken.day for taken in sowing.pickings), default=None)
    return Standing(
        sowing.id, sowing.fact.crop, sowing.fact.way, sowing.cover, sowing.day, sowing.area, sowing.ground,
        sowing.up, sowing.planted_out, first, sowing.left_on(on), picked, item,
        sowing.fact.bought,
    )


def decisions(record: Record, before: PlanAnswer | None, on: int) -> Decisions:
    """What the grower decided of the last plan's sowings. One fixed for a day that has passed is free."""
    sown = record.sowings.values()
    made = frozenset(sowing.fact.planned for sowing in sown if sowing.fact.planned is not None)
    if before is None:
        return Decisions(made=made)
    made |= carried_out(before.sowings, sown).keys()
    known = {sowing.id: sowing for sowing in (*before.refused, *before.sowings)}
    decided: Mapping[str, Decided] = {
        name: fact for name, fact in record.decisions.items() if name in known and name not in made
    }
    later = {name: day for name, day in _put_off(record).items() if name in known and name not in made}
    fixed = [fixed_at(known[name], fact, later.get(name)) for name, fact in decided.items()
             if fact.decision == "fixed"]
    refused = {name: known[name] for name, fact in decided.items() if fact.decision == "refused"}
    refused |= {name: known[name] for name, day in later.items()
                if name not in decided and day > can_wait(known[name])}
    put_off = {name: day for name, day in later.items() if name not in decided and name not in refused}
    to_come = tuple(sowing for sowing in fixed if day_number(sowing.sow) >= on)
    not_then = tuple(_not_then(sowing, put_off.get(name), before, refused) for name, sowing in known.items()
                     if name in refused or name in put_off)
    return Decisions(to_come, tuple(refused.values()), made, put_off, not_then)


def _put_off(record: Record) -> Mapping[str, date]:
    """By id of the planned sowing, the day to which sowing it was last put off."""
    said = ((job.partition(":"), fact) for job, fact in record.answers.items() if fact.answer == "put off")
    return {name: day_date(fact.until) for (verb, _, name), fact in said
            if verb in ("sow", "plant") and fact.until is not None}


def fixed_at(sowing: PlannedSowing, fact: Decided, put_off: date | None = None) -> PlannedSowing:
    """A planned sowing on the day and with the area that the grower fixed; not before a day that he put it
    off to."""
    sow = sowing.sow if fact.sow is None else day_date(fact.sow)
    return replace(
        sowing, fixed=True, area_m2=sowing.area_m2 if fact.area is None else fact.area,
        sow=sow if put_off is None else max(sow, put_off),
    )


def fixed_standing(sowings: Sequence[PlannedSowing]) -> tuple[Standing, ...]:
    """Fixed sowings as the planner takes them: like crops that stand, on a day that is to come."""
    return tuple(
        Standing(
            sowing.id, sowing.crop, sowing.way, sowing.cover, day_number(sowing.sow), sowing.area_m2,
            item=sowing.item,
        )
        for sowing in sowings
    )


def _not_then(
    sowing: PlannedSowing, until: date | None, before: PlanAnswer, refused: Collection[str]
) -> Refused:
    """When it is not to be offered: refused, or put off to the day `until`."""
    spared = frozenset(
        (other.way, other.cover, day_number(other.sow)) for other in before.sowings
        if other.crop == sowing.crop and other.id != sowing.id and other.id not in refused
    )
    return Refused(sowing.crop, sowing.way, sowing.cover, day_number(sowing.sow),
                   None if until is None else day_number(until), spared)
