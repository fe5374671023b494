"""The plan before as areas of the new plan's candidates."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.days import day_date, day_number
from evenpick.plan.horizon import COUNTED_WEEKS, Horizon
from evenpick.plan.mend import Before
from evenpick.plan.options import Kind
from evenpick.plan.task import Option, Task
from evenpick.plan.wanted import WantedItem
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing
from evenpick.service.sowing_ids import NEAR_DAYS
from evenpick.service.standing import UnderWay

MORE = 1.05
"""times what was wanted: what is asked for more (our choice); portions are weighed anew with the weather"""


def before_of(
    work: Task, season: UnderWay, horizon: Horizon, wanted: Sequence[WantedItem] = ()
) -> Before:
    """The plan before as the new one starts from it; what can't be sown on its day any more, or was put off
    past it, on the nearest day still open for it. What is `wanted` now is held against what was."""
    plans = () if season.before is None else (season.before,)
    return Before(areas_before(work, season, horizon), _late(work, season, horizon),
                  asked_for_more(wanted, plans, horizon))


def asked_for_more(
    wanted: Sequence[WantedItem], before: Sequence[PlanAnswer], horizon: Horizon
) -> tuple[int, ...]:
    """Items of which more is wanted than the plans before, each a farm's own, were made for, over the weeks
    that both look at."""
    was: dict[str, dict[date, float]] = {}
    for told in (each for plan in before for each in plan.pickings):
        for week in told.weeks:
            own = was.setdefault(told.item, {})
            own[week.week] = own.get(week.week, 0.0) + week.wanted
    looked_at = {monday for own in was.values() for monday in own}
    mondays = [day_date(horizon.start + 7 * week) for week in range(COUNTED_WEEKS)]
    both = [week for week, monday in enumerate(mondays) if monday in looked_at]
    now: dict[str, float] = {}
    for item in wanted:
        now[item.name] = now.get(item.name, 0.0) + float(item.kg[both].sum())
    then = {name: sum(own.get(mondays[week], 0.0) for week in both) for name, own in was.items()}
    return tuple(number for number, item in enumerate(wanted)
                 if now[item.name] > MORE * then.get(item.name, 0.0))


def days_before(season: UnderWay, horizon: Horizon) -> Mapping[Kind, Sequence[int]]:
    """Axis days on which the plan before would still sow, by kind of sowing: those on which one sows at all,
    and those that one was put off to, whatever day of the week that is."""
    found: dict[Kind, list[int]] = {}
    usual, begin = set(horizon.sow_days().tolist()), horizon.begin - horizon.start
    for sowing, day in _to_make(season, horizon):
        if day in usual or (sowing.id in season.decided.put_off and day >= begin):
            found.setdefault((sowing.crop, sowing.name, sowing.way, sowing.cover), []).append(day)
    return found


def areas_before(work: Task, season: UnderWay, horizon: Horizon) -> Floats:
    """m² per candidate: what the plan before would still sow on that very day; nought for what it would not,
    and without a plan before.

    What was made of it stands or is lost, and what is fixed stands: neither is sown a second time.
    """
    planned = {(_kind(s), day): s.area_m2 for s, day in _to_make(season, horizon)}
    return np.array(
        [planned.get((_kind_of(work, o), o.day), 0.0) for o in work.options], dtype=np.float64
    )


def _late(work: Task, season: UnderWay, horizon: Horizon) -> Floats:
    """m² per candidate of the sowings that have none on their own day: on the nearest of the kind within
    three weeks of that day, or of today, else of the crop in another way or under another cover. Of several
    on one the largest, for they were to be sown after each other."""
    late = np.zeros(len(work.options))
    able: dict[tuple[str, ...], list[tuple[int, int]]] = {}
    for number, option in enumerate(work.options):
        kind = _kind_of(work, option)
        for alike in (kind, kind[:3]):
            able.setdefault(alike, []).append((option.day, number))
    for sowing, day in _to_make(season, horizon):
        own, due = _kind(sowing), max(day, horizon.begin - horizon.start)
        if any(at == day for at, _ in able.get(own, ())):
            continue
        near = [sorted((abs(at - due), number) for at, number in able.get(alike, ())
                       if abs(at - due) <= NEAR_DAYS) for alike in (own, own[:3])]
        for _, number in (near[0] or near[1])[:1]:
            late[number] = max(late[number], sowing.area_m2)
    return late


_ItemKind = tuple[str, str, str, str, str]


def _kind(sowing: PlannedSowing) -> _ItemKind:
    return sowing.item, sowing.crop, sowing.name, sowing.way, sowing.cover


def _kind_of(work: Task, option: Option) -> _ItemKind:
    batch = option.batch
    item = work.request.items[option.item].name
    return item, batch.crop.key, batch.crop.name, batch.way.name, batch.cover


def _to_make(season: UnderWay, horizon: Horizon) -> Iterator[tuple[PlannedSowing, int]]:
    """Sowings of the plan before that are neither made, fixed nor refused, with the axis day they are for, or
    were put off to."""
    gone, before, put_off = season.decided.names, season.before, season.decided.put_off
    for sowing in () if before is None else before.sowings:
        if not sowing.fixed and sowing.id not in gone:
            day = max(sowing.sow, put_off.get(sowing.id, sowing.sow))
            yield sowing, day_number(day) - horizon.start
