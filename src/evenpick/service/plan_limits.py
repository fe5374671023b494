"""The limits of a garden in the planner's terms (docs/design/season.md, 9 to 13)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.days import day_date
from evenpick.crops.crop import Crop
from evenpick.crops.labour import labour
from evenpick.crops.seed import Keeping
from evenpick.garden.garden import Garden
from evenpick.garden.tin import Tinned
from evenpick.outlook.ripening import keeps, lies
from evenpick.plan.given import Given, together
from evenpick.plan.horizon import WEEKS, Horizon
from evenpick.plan.limits import Parched, Season, picked_when_there
from evenpick.plan.rows import FAMILY, HOURS, SEED
from evenpick.plan.standing import Grown, Hold, given_by
from evenpick.plan.task import Task
from evenpick.plan.wanted import WantedItem, days_there, given_anyway
from evenpick.service.packets import seeds_in
from evenpick.service.plan_answer import Hours, PlannedSowing
from evenpick.service.standing import Decisions
from evenpick.service.tin_worth import as_sold


def season_of(
    garden: Garden, stood: Sequence[Grown], wanted: Sequence[WantedItem], decided: Decisions,
    crops: Mapping[str, Crop], horizon: Horizon, years: int, packets: Sequence[Tinned],
    dry: Sequence[Parched] = (),
) -> Season:
    """All that the plan keeps to beside the ground itself; `years` of the ensemble, `packets` in the tin,
    `dry` the spans in which nobody waters."""
    gone, there = weeks_gone(garden, horizon), _there(garden, horizon)
    anyway = given_anyway(garden.anyway, wanted, horizon, years)
    given = together([*(given_there(one, wanted, gone) for one in stood), anyway_there(anyway, gone)])
    away = [(span.first, span.last) for span in garden.limits.away if span.nobody]
    watered = {(span.first, span.last) for span in garden.limits.away if span.watered}
    return Season(
        given, [*_holds(stood, there), *_rests(garden, horizon), *_seed_of(decided.fixed)],
        decided.not_then, away, watered, dry, _tin(garden, crops, packets, day_date(horizon.begin)),
        week_minutes(garden, horizon), there, gone,
    )


def given_there(one: Grown, wanted: Sequence[WantedItem], gone: Bools | None) -> Given:
    """What a standing sowing gives, as far as somebody is there to pick it."""
    found = given_by([one], wanted)
    kept, lying = (np.full(found.kg.size, weeks(one.crop)) for weeks in (keeps, lies))
    return picked_when_there(found, gone, kept, lying)


def anyway_there(anyway: Given, gone: Bools | None) -> Given:
    """The same of what comes anyway, which is eaten in its week."""
    none = np.zeros(anyway.kg.size, dtype=np.int64)
    return picked_when_there(anyway, gone, none, none)


def weeks_gone(garden: Garden, horizon: Horizon) -> Bools | None:
    """Weeks on no day of which anybody is there to pick what others still want; None in a garden by itself,
    where nothing is wanted then."""
    if garden.cooperative is None:
        return None
    return np.asarray(~days_there(garden.limits.away, horizon).reshape(WEEKS, 7).any(axis=1))


def _there(garden: Garden, horizon: Horizon) -> Floats:
    """The part of each week's days on which somebody is there; (weeks,)."""
    return np.asarray(days_there(garden.limits.away, horizon).reshape(WEEKS, 7).mean(axis=1))


def hour_more(garden: Garden, horizon: Horizon) -> Floats | None:
    """Minutes that an hour a week more would bring in each week: days away take of it as of the others."""
    there, hours = week_minutes(garden, horizon), garden.limits.hours
    return None if there is None or not hours else np.asarray(there / hours)


def week_minutes(garden: Garden, horizon: Horizon) -> Floats | None:
    """Minutes of work in each week, less what days away take; None for any number."""
    if garden.limits.hours is None:
        return None
    if garden.limits.by_day is not None:
        hours = [garden.limits.hours_on(horizon.start + day) for day in range(horizon.days)]
        return np.asarray(60.0 * np.array(hours).reshape(WEEKS, 7).sum(axis=1))
    days = horizon.start + np.arange(horizon.days)
    share = np.ones(horizon.days)
    for span in garden.limits.away:
        share[(days >= span.first) & (days <= span.last)] = span.hours
    return np.asarray(60.0 * garden.limits.hours * share.reshape(WEEKS, 7).mean(axis=1))


def hours_used(
    work: Task, areas: Floats, stood: Sequence[Grown], garden: Garden, horizon: Horizon
) -> Hours | None:
    """Hours that what stands and what is planned take, against what there is; None without a limit."""
    there = week_minutes(garden, horizon)
    if there is None:
        return None
    ground = work.request.grounds
    used = ground.used(areas)[ground.names.index(HOURS)]
    for hold in (hold for one in stood for hold in labour_of(one, _there(garden, horizon))):
        used[hold.first : hold.end] += hold.amount
    return Hours(tuple((there / 60.0).tolist()), tuple((used / 60.0).tolist()))


def _holds(stood: Iterable[Grown], there: Floats) -> Iterator[Hold]:
    """Ground, hours and part of the rotation that standing sowings take."""
    for one in stood:
        yield from one.holds
        for hold in (hold for hold in one.holds if hold.row in ("open", "tunnel")):
            yield Hold(f"{FAMILY}{one.crop.family} {hold.row}", hold.first, hold.end, hold.amount)
        yield from labour_of(one, there)


def labour_of(one: Grown, there: Floats) -> Iterator[Hold]:
    """Minutes of work that a standing sowing still asks, by week; it is tended in the part `there` of it."""
    each, area = labour(one.crop, one.standing.way), one.standing.area * one.standing.left
    minutes = each.pick * _picked(one)
    for hold in (hold for hold in one.holds if hold.row in ("open", "tunnel")):
        minutes[hold.first : hold.end] += each.tend * area * there[hold.first : hold.end]
        if hold.first > 0:
            minutes[hold.first] += each.plant_out * area
    for week in np.flatnonzero(minutes):
        yield Hold(HOURS, int(week), int(week) + 1, float(minutes[week]))


def _picked(one: Grown) -> Floats:
    """kg of it to be picked in each week, the mean of the years: what is ripe already along the weeks in
    which it stays good, for nobody picks it all at once; the rest as it ripens."""
    there, last = one.ripe == 0, np.minimum(one.last, WEEKS - 1)
    a_week = np.bincount(last[there], one.kg[there] / (last[there] + 1), WEEKS)
    to_come = np.bincount(one.ripe[~there], one.kg[~there], WEEKS)[:WEEKS]
    return np.asarray((np.cumsum(a_week[::-1])[::-1] + to_come) / one.outcome.first.shape[0])


def _rests(garden: Garden, horizon: Horizon) -> Iterator[Hold]:
    for rest in garden.limits.rests:
        first = max((rest.first - horizon.start) // 7, 0)
        end = min((rest.last - horizon.start) // 7 + 1, WEEKS)
        if first < end:
            yield Hold(rest.cover, first, end, rest.area)


def _seed_of(fixed: Sequence[PlannedSowing]) -> Iterator[Hold]:
    """Seed, sets and tubers that sowings fixed and still to be made will take."""
    for sowing in fixed:
        yield Hold(f"{SEED}{sowing.crop}", 0, WEEKS, float(sowing.seeds or sowing.plants or 0))


def _tin(
    garden: Garden, crops: Mapping[str, Crop], packets: Sequence[Tinned], day: date
) -> Mapping[str, float]:
    """What there is of the crops of which no more is bought: nought where no packet is, and no limit where
    the packets don't say."""
    buying = garden.limits.buying
    keys = tuple(crops) if buying.packets == 0 else tuple(key for key in buying.no_more if key in crops)
    found = {key: in_tin(crops[key], packets, garden.kept, day) for key in keys}
    return {key: have for key, have in found.items() if have is not None}


def in_tin(crop: Crop, packets: Sequence[Tinned], kept: Keeping, day: date) -> float | None:
    """Seeds of a crop as sold that its packets are worth on a day; nought without a packet, None where none
    says how many are in it."""
    own = [packet for packet in packets if packet.crop == crop.key]
    if own and all(seeds_in(crop, packet) is None for packet in own):
        return None
    return as_sold(crop, own, kept, day) or 0.0
