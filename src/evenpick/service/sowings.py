"""The plan's areas as sowings that a grower can make, each with its reason."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.days import day_date, monday_of, short_date
from evenpick.base.language import tell, tell_n
from evenpick.crops.crop import Crop
from evenpick.crops.seed import Keeping
from evenpick.crops.sown import amount
from evenpick.garden.tin import Tinned
from evenpick.outlook.against import MAY_WAIT
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.over_years import quantiles
from evenpick.outlook.score import days_to_first, succeeded
from evenpick.plan.horizon import SOWING_WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.options import Batch, considered
from evenpick.plan.request import Supply
from evenpick.plan.task import Task
from evenpick.plan.wanted import TO_KEEP
from evenpick.plan.weekly import weeks_filled, weeks_served
from evenpick.service.plan_answer import PlannedSowing, SeedNeed
from evenpick.service.tin_worth import as_sold, to_buy

FAR_OFF = timedelta(days=60)
"""a window's closing farther off than this is no reason to hurry"""
LEAST_ADDED = 0.1
"""of what a sowing by itself would give its wish; one that adds less is there for years in which others
fail, and is told by itself (our choice)"""
SURE = 0.75
"""share of years below which it is told in how many a sowing gives anything: one that fails in more than a
quarter is no sure one (our choice)"""


def planned(task: Task, areas: Floats, horizon: Horizon) -> tuple[PlannedSowing, ...]:
    """Every sowing with an area, in order of date and crop, numbered from 1, without a name yet."""
    added = weeks_filled(task.request, task.given, areas)
    supply = task.request.supply.where(areas > 0)
    chosen = sorted(np.flatnonzero(areas > 0), key=lambda j: (task.options[j].day, task.options[j].item))
    return tuple(
        _sowing(number, task, supply, int(j), float(areas[j]), added[int(j)], horizon)
        for number, j in enumerate(chosen, 1)
    )


def _sowing(
    number: int, task: Task, supply: Supply, j: int, area: float, added: Floats, horizon: Horizon
) -> PlannedSowing:
    option = task.options[j]
    batch, i = option.batch, option.index
    crop, item = batch.crop, task.request.items[option.item].name
    sown = amount(crop, batch.way, area, float(batch.outcome.emerged[:, i].mean()))
    sow = day_date(horizon.start + option.day)
    (fills, often), last = _fills(task, supply, j, area, added, horizon), _last_able(batch, option.day)
    latest, picked = day_date(horizon.start + last), _first_picking(batch, i, horizon)
    fills = not_before(fills, picked)
    return PlannedSowing(
        "", number, sow, item, crop.key, crop.name, batch.way.name, batch.cover, area, sown.row_m,
        sown.plants, sown.seeds, sown.grams, _plant_out(batch, i, horizon), picked,
        day_date(horizon.start + 7 * option.held.stop), float(batch.score.sound[option.day]),
        fills, latest, _because(item, sow, fills, often, latest, _closing(batch, last)),
    )


def _plant_out(batch: Batch, i: int, horizon: Horizon) -> date | None:
    if batch.way.name != "raised":
        return None
    return day_date(horizon.start + int(np.median(batch.outcome.place[:, i])))


def _first_picking(batch: Batch, i: int, horizon: Horizon) -> tuple[date, date, date] | None:
    return first_picking(batch.outcome, i, horizon.start)


def first_picking(outcome: Outcome, i: int, axis: int) -> tuple[date, date, date] | None:
    """10, 50 and 90 % of the years that succeed; `axis` is the day number of the outcome's axis day 0."""
    one = outcome.at(np.array([i]))
    lived = succeeded(one)
    days = quantiles(days_to_first(one, lived))
    if not lived.any() or not np.isfinite(days[50][0]):
        return None
    start = axis + int(one.sow[0])
    low, likely, high = (day_date(start + round(float(days[p][0]))) for p in (10, 50, 90))
    return low, likely, high


def _fills(
    task: Task, supply: Supply, j: int, area: float, added: Floats, horizon: Horizon
) -> tuple[tuple[date, date] | None, float]:
    """Mondays of the weeks between which four fifths of what it adds, kg by week, go to its wish; and the
    share of years in which by itself it gives it any."""
    alone, often = weeks_served(task.request, supply, j, area)
    given = added if added.sum() > LEAST_ADDED * alone.sum() else alone
    if given.sum() <= 0:
        return None, often
    part = np.cumsum(given) / given.sum()
    first, last = int(np.searchsorted(part, 0.1)), int(np.searchsorted(part, 0.9))
    return (day_date(horizon.start + 7 * first), day_date(horizon.start + 7 * last)), often


def not_before(
    fills: tuple[date, date] | None, picked: tuple[date, date, date] | None
) -> tuple[date, date] | None:
    """No week before the one in which one year in ten picks it: the few years that are sooner still may give
    more than a tenth of it all, and read beside the days of first picking as a mistake."""
    if fills is None or picked is None:
        return fills
    return min(max(fills[0], monday_of(picked[0])), fills[1]), fills[1]


def _last_able(batch: Batch, day: int) -> int:
    """The last day within reach on which the plan might have made this sowing, weeks for sowing without end;
    short breaks don't count, for a window that opens again is no reason to hurry."""
    able = considered(batch.outcome, batch.score)
    ahead = np.arange(day, day + FAR_OFF.days + 1)
    found = np.flatnonzero(able[_seen_at(ahead)])
    return day + int(found[-1]) if found.size else day  # only kept, by the plan before, on its own day


def _seen_at(days: Ints) -> Ints:
    """Where on the axis a day is looked up: one past the weeks for sowing a year sooner, for the plan's reach
    ends there and no window with it."""
    return np.where(days < 7 * SOWING_WEEKS, days, days - 7 * YEAR_WEEKS)


def _closing(batch: Batch, last: int) -> str:
    return batch.score.against[int(_seen_at(np.array(last + 8)))]


def _because(
    item: str, sow: date, fills: tuple[date, date] | None, often: float, latest: date, closing: str
) -> str:
    """Which weeks it fills, in how many years where these are few, and what closes its window where
    that is not far off and is a loss."""
    ripe = _in_weeks(item, *fills) if fills else item
    if fills and often < SURE:
        ripe = tell_n("{ripe} in {n} year of 10", "{ripe} in {n} years of 10", max(1, round(often * 10)),
                      ripe=ripe)
    if latest - sow >= FAR_OFF or closing == MAY_WAIT:
        return ripe
    then = tell(", then {closing}", closing=tell(closing)) if closing else ""
    return tell("{ripe}; sow by {latest}", ripe=ripe, latest=short_date(latest)) + then


def _in_weeks(item: str, first: date, last: date) -> str:
    """'lettuce from the week of 8 Mar to 19 Apr', by the Mondays; of what is put by only when it is to be
    there."""
    if item.endswith(TO_KEEP):
        return tell("{item}, to keep, by the week of {last}", item=item.removesuffix(TO_KEEP),
                    last=short_date(last))
    if first == last:
        return tell("{item} in the week of {first}", item=item, first=short_date(first))
    return tell("{item} from the week of {fills} to {fills_2}", item=item, fills=short_date(first),
                fills_2=short_date(last))


def seed_needs(
    sowings: Sequence[PlannedSowing], packets: Sequence[Tinned], crops: Mapping[str, Crop], kept: Keeping,
    day: date,
) -> tuple[SeedNeed, ...]:
    """Seed wanted by crop and type against what the tin is worth on a day; sets, cloves and tubers are
    counted as plants. What is in the tin counts for the crop's own varieties: a packet does not say its
    type."""
    found = []
    for key, name in dict.fromkeys((sowing.crop, sowing.name) for sowing in sowings):
        own = [packet for packet in packets if (packet.crop, crops[key].name) == (key, name)]
        several = [sowing for sowing in sowings if (sowing.crop, sowing.name) == (key, name)]
        found.append(_need(crops[key], name, several, as_sold(crops[key], own, kept, day)))
    return tuple(found)


def _need(crop: Crop, name: str, sowings: Sequence[PlannedSowing], have: float | None) -> SeedNeed:
    if crop.spacing.seeds_per_g is None:
        wanted = sum(sowing.plants or 0 for sowing in sowings)
    else:
        wanted = sum(sowing.seeds or 0 for sowing in sowings)
    grams = wanted / crop.spacing.seeds_per_g if crop.spacing.seeds_per_g else None
    return SeedNeed(crop.key, name, wanted, grams, have, to_buy(wanted, have))
