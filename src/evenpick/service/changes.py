"""What a plan made anew has other than the one before, and why (docs/design/season.md, 7)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from evenpick.base.days import day_date, short_date
from evenpick.base.language import later, tell, tell_n
from evenpick.service.away import Span
from evenpick.service.garden_task import diary_digest
from evenpick.service.plan_answer import Change, ChangeKind, PlanAnswer, PlannedSowing, StandingSowing
from evenpick.service.sowing_ids import NEAR_DAYS
from evenpick.service.standing import UnderWay

NEAR = timedelta(weeks=13)
"""changes farther off are told when they come near"""
WORTH = 0.2
"""share of a sowing by which it must have grown or shrunk to be told"""
SHIFT = 5
"""days by which a sowing must be picked sooner or later than planned to be a reason"""
MADE_GOOD = 0.5
"""share of a sowing not made that others of its crop must have grown by, or it is told"""
PLAIN = later("as the season ahead now looks")
BETTER = later("the plan was looked for again")
FOUND_SINCE = later("found since: the plan before was far from the best there is")
FAR = 0.05
"""proven gap above which a plan leaves more to find than some days change of the season (our choice)"""


@dataclass(frozen=True, slots=True)
class Why:
    """What an item's changes come of."""

    words: str
    not_made: date | None = None
    """the day of the planned sowing that was not made, where they come of that"""


def changed(
    season: UnderWay, sowings: Sequence[PlannedSowing], standing: Sequence[StandingSowing], begin: int,
    garden: str, away: Sequence[Span] = (),
) -> tuple[Change, ...]:
    """Changes by day; `begin` is the new plan's first day, `garden` the digest of the garden as it now is,
    `away` the first and last days of spans on which nobody is there."""
    before = season.before
    if before is None:
        return ()
    today = day_date(begin)
    why = _reasons(season, before, standing, today)
    plain = Why(_plainly(season, before, today, garden))
    gone = season.decided.made
    old = {s.id: s for s in before.sowings
           if s.id not in gone and today <= _due(season, s) < today + NEAR}
    new = {s.id: s for s in sowings if s.sow < today + NEAR}
    known = {s.id for s in before.sowings}
    found = [
        *(_dropped(each, season, away) for name, each in old.items() if name not in {s.id for s in sowings}),
        *(change for name, each in new.items() if name in known
          for change in _altered(next(s for s in before.sowings if s.id == name), each, season, today, away)),
        *(_whole("new", each, None) for name, each in new.items() if name not in known),
        *_not_made(season, before, sowings, today),
    ]
    extra = _unplanned(season, standing)
    items = {s.id: s.item for s in (*before.sowings, *sowings)}

    def reason(change: Change) -> Why:
        item = items[change.id]
        fewer = extra.get(item) if change.kind in ("less", "dropped") else None
        return fewer or why.get(item) or extra.get(item) or plain

    told = [(each, Why(each.why) if each.why else reason(each)) for each in found]
    return tuple(sorted((replace(each, why=why.words) for each, why in told
                         if not _told_in_its_stead(each, told)), key=lambda each: each.sow))


def _told_in_its_stead(missed: Change, told: Sequence[tuple[Change, Why]]) -> bool:
    """Whether another of that crop is told because this one was not made: it is not "no longer planned"."""
    return missed.kind == "missed" and sum(
        each.area_m2 for each, why in told
        if each.kind in ("new", "more") and each.name == missed.name and why.not_made == missed.sow
    ) >= MADE_GOOD * missed.area_m2


def _plainly(season: UnderWay, before: PlanAnswer, today: date, garden: str) -> str:
    """Why what nothing befell is otherwise than it was planned."""
    made = before.made_from
    if made.garden != garden:
        return tell("the garden's description has changed")
    if before.gap is not None and before.gap > FAR:
        return tell(FOUND_SINCE)
    same = (before.begins, made.diary, made.records) == (today, diary_digest(season.record), season.records)
    return tell(BETTER) if same else tell(PLAIN)


def _not_made(
    season: UnderWay, before: PlanAnswer, sowings: Sequence[PlannedSowing], today: date
) -> Iterator[Change]:
    """Sowings that are past and were not made, and that nothing of their crop soon makes good."""
    was, there = {s.id: s.area_m2 for s in before.sowings}, {s.id for s in sowings}
    for missed in _overdue(season, before, today):
        more = sum(
            s.area_m2 - was.get(s.id, 0.0) for s in sowings
            if s.crop == missed.crop and s.sow <= today + timedelta(days=NEAR_DAYS)
        )
        if missed.id not in there and more < MADE_GOOD * missed.area_m2:
            yield _whole("missed", missed, None, tell("not sown on its day, and no longer planned"))


def _overdue(season: UnderWay, before: PlanAnswer, today: date) -> Iterator[PlannedSowing]:
    """Sowings whose day is past, neither made nor put off to a day to come."""
    for sowing in before.sowings:
        if _due(season, sowing) < today and sowing.id not in season.decided.names:
            yield sowing


def _due(season: UnderWay, sowing: PlannedSowing) -> date:
    """The day that a planned sowing was for, or was put off to."""
    return max(sowing.sow, season.decided.put_off.get(sowing.id, sowing.sow))


def _dropped(sowing: PlannedSowing, season: UnderWay, away: Sequence[Span]) -> Change:
    return _whole("dropped", sowing, None, _said_of(sowing, season) or _nobody_there(sowing, away))


def _nobody_there(sowing: PlannedSowing, away: Sequence[Span]) -> str:
    if not any(first <= sowing.sow <= last for first, last in away):
        return ""
    return tell("nobody is there on {day}", day=short_date(sowing.sow))


def _said_of(sowing: PlannedSowing, season: UnderWay) -> str:
    """What the grower said of it himself."""
    if sowing.id in season.decided.put_off:
        return tell("you put it off")
    if sowing.id not in {each.id for each in season.decided.refused}:
        return ""
    decided = season.record.decisions.get(sowing.id)
    refused = decided is not None and decided.decision == "refused"
    return tell("you refused it") if refused else tell("you put it off longer than it can wait")


def _whole(kind: ChangeKind, sowing: PlannedSowing, was: date | None, why: str = "") -> Change:
    return Change(
        kind, sowing.id, sowing.name, sowing.way, sowing.sow, was, sowing.area_m2,
        sowing.row_m, sowing.plants, why, sowing.cover,
    )


def _altered(
    old: PlannedSowing, new: PlannedSowing, season: UnderWay, today: date, away: Sequence[Span]
) -> Iterator[Change]:
    """What is otherwise of it, its day or its amount or both; what befell its own day is told before what
    befell others of its item."""
    if new.sow != old.sow:
        missed = _not_made_on(old) if _due(season, old) < today else _nobody_there(old, away)
        yield _whole("moved", new, old.sow, _said_of(old, season) or missed)
    if abs(new.area_m2 - old.area_m2) > WORTH * old.area_m2:
        more = new.area_m2 > old.area_m2
        row = None if new.row_m is None or old.row_m is None else abs(new.row_m - old.row_m)
        plants = None if new.plants is None or old.plants is None else abs(new.plants - old.plants)
        yield Change(
            "more" if more else "less", new.id, new.name, new.way, new.sow, None,
            abs(new.area_m2 - old.area_m2), row, plants, tell("you fixed it") if new.fixed else "",
            new.cover,
        )


def _reasons(
    season: UnderWay, before: PlanAnswer, standing: Sequence[StandingSowing], today: date
) -> Mapping[str, Why]:
    """By item, what has happened since the plan before that bears on it; the weightiest is told."""
    found: dict[str, Why] = {}
    for item, why in (*_lost(season, before), *_missed(season, before, today), *_shifted(before, standing)):
        found.setdefault(item, why)
    return found


def _lost(season: UnderWay, before: PlanAnswer) -> Iterator[tuple[str, Why]]:
    for sowing in season.lost:
        since = [loss for loss in sowing.losses if day_date(loss.day) >= before.begins]
        share = 1.0
        for loss in since:
            share *= 1.0 - loss.share
        for item in {item.item for item in before.pickings} if since else ():
            if sowing.fact.crop in _crops(before, item):
                yield item, Why(tell("{share}the {day} sowing was lost", share=_part(1.0 - share),
                                     day=short_date(day_date(sowing.day))))


def _crops(before: PlanAnswer, item: str) -> set[str]:
    sown = {s.crop for s in before.sowings if s.item == item}
    return sown | {s.crop for s in before.standing if s.item == item}


def _part(share: float) -> str:
    if share > 0.97:
        return ""
    return tell("half of ") if 0.45 <= share <= 0.55 else tell("{share:.0f} % of ", share=100 * share)


def _missed(season: UnderWay, before: PlanAnswer, today: date) -> Iterator[tuple[str, Why]]:
    for sowing in _overdue(season, before, today):
        yield sowing.item, Why(_not_made_on(sowing), sowing.sow)


def _not_made_on(sowing: PlannedSowing) -> str:
    return tell("the {sow} sowing was not made", sow=short_date(sowing.sow))


def _unplanned(season: UnderWay, standing: Sequence[StandingSowing]) -> Mapping[str, Why]:
    """By item, a sowing that was made beside the plan."""
    return {
        sowing.item: Why(tell("the {sow} sowing was not in the plan", sow=short_date(sowing.sow)))
        for sowing in standing if sowing.item is not None and sowing.id in season.unplanned
    }


def _shifted(before: PlanAnswer, standing: Sequence[StandingSowing]) -> Iterator[tuple[str, Why]]:
    """Sowings that stand and are to be picked sooner or later than the plan before had it."""
    stood = {s.id: s.first_picking for s in before.standing}
    sown = {(s.crop, s.cover, s.sow): s.first_picking for s in before.sowings}
    for sowing in standing:
        planned = stood.get(sowing.id, sown.get((sowing.crop, sowing.cover, sowing.sow)))
        if planned is None or sowing.first_picking is None or sowing.item is None:
            continue
        days = (sowing.first_picking[1] - planned[1]).days
        if abs(days) >= SHIFT:
            sow = short_date(sowing.sow)
            yield sowing.item, Why(
                tell_n("the {sow} sowing will be picked {n} day later",
                       "the {sow} sowing will be picked {n} days later", days, sow=sow) if days > 0 else
                tell_n("the {sow} sowing will be picked {n} day sooner",
                       "the {sow} sowing will be picked {n} days sooner", -days, sow=sow))
