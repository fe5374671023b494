"""The plan's areas as sowings that a grower can make, each with its reason."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.days import day_date, short_date
from evenpick.base.language import tell
from evenpick.crops.crop import Crop
from evenpick.crops.sown import amount
from evenpick.garden.tin import Tinned
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.score import MAY_WAIT, days_to_first, quantiles, succeeded
from evenpick.plan.horizon import SOWING_WEEKS, YEAR_WEEKS, Horizon
from evenpick.plan.options import Batch, considered
from evenpick.plan.task import Task
from evenpick.plan.weekly import mean_supply
from evenpick.service.answers import PlannedSowing, SeedNeed

FAR_OFF = timedelta(days=60)
"""a window's closing farther off than this is no reason to hurry"""


def planned(task: Task, areas: Floats, horizon: Horizon) -> tuple[PlannedSowing, ...]:
    """Every sowing with an area, in order of date and crop, numbered from 1, without a name yet."""
    chosen = sorted(np.flatnonzero(areas > 0), key=lambda j: (task.options[j].day, task.options[j].item))
    return tuple(
        _sowing(number, task, int(j), float(areas[j]), horizon) for number, j in enumerate(chosen, 1)
    )


def _sowing(number: int, task: Task, j: int, area: float, horizon: Horizon) -> PlannedSowing:
    option = task.options[j]
    batch, i = option.batch, option.index
    crop, item = batch.crop, task.request.items[option.item].name
    sown = amount(crop, batch.way, area, float(batch.outcome.emerged[:, i].mean()))
    sow = day_date(horizon.start + option.day)
    fills, last = _fills(task, j, horizon), _last_able(batch, option.day)
    latest = day_date(horizon.start + last)
    return PlannedSowing(
        "", number, sow, item, crop.key, crop.name, batch.way.name, batch.cover, area, sown.row_m,
        sown.plants, sown.seeds, sown.grams, _plant_out(batch, i, horizon), _first_picking(batch, i, horizon),
        day_date(horizon.start + 7 * int(batch.to_week[i])), float(batch.score.sound[option.day]),
        fills, latest, _because(item, sow, fills, latest, _closing(batch, last)),
    )


def _plant_out(batch: Batch, i: int, horizon: Horizon) -> date | None:
    if batch.way.name != "raised":
        return None
    return day_date(horizon.start + int(np.median(batch.outcome.place[:, i])))


def _first_picking(batch: Batch, i: int, horizon: Horizon) -> tuple[date, date, date] | None:
    return first_picking(batch.outcome, i, horizon.start)


def first_picking(outcome: Outcome, i: int, axis: int) -> tuple[date, date, date] | None:
    """10, 50 and 90 % of the years that succeed; `axis` is the day number of the outcome's axis day 0."""
    lived = succeeded(outcome)[:, i : i + 1]
    days = quantiles(days_to_first(outcome, succeeded(outcome))[:, i : i + 1])
    if not lived.any() or not np.isfinite(days[50][0]):
        return None
    start = axis + int(outcome.sow[i])
    low, likely, high = (day_date(start + round(float(days[p][0]))) for p in (10, 50, 90))
    return low, likely, high


def _fills(task: Task, j: int, horizon: Horizon) -> tuple[date, date] | None:
    """Mondays of the weeks between which four fifths of what it gives become ripe."""
    supply = mean_supply(task.request, j)
    if supply.sum() <= 0:
        return None
    part = np.cumsum(supply) / supply.sum()
    first, last = int(np.searchsorted(part, 0.1)), int(np.searchsorted(part, 0.9))
    return day_date(horizon.start + 7 * first), day_date(horizon.start + 7 * last)


def _last_able(batch: Batch, day: int) -> int:
    """The last day within reach on which the plan might have made this sowing, weeks for sowing without end;
    short breaks don't count, for a window that opens again is no reason to hurry."""
    able = considered(batch.outcome, batch.score)
    ahead = np.arange(day, day + FAR_OFF.days + 1)
    return day + int(np.flatnonzero(able[_seen_at(ahead)])[-1])


def _seen_at(days: Ints) -> Ints:
    """Where on the axis a day is looked up: one past the weeks for sowing a year sooner, for the plan's reach
    ends there and no window with it."""
    return np.where(days < 7 * SOWING_WEEKS, days, days - 7 * YEAR_WEEKS)


def _closing(batch: Batch, last: int) -> str:
    return batch.score.against[int(_seen_at(np.array(last + 8)))]


def _because(
    item: str, sow: date, fills: tuple[date, date] | None, latest: date, closing: str
) -> str:
    """Which weeks it fills and, where that is not far off and is a loss, what closes its window."""
    ripe = tell("{item} from the week of {fills} to {fills_2}", item=item, fills=short_date(fills[0]),
                fills_2=short_date(fills[1])) if fills else item
    if latest - sow >= FAR_OFF or closing == MAY_WAIT:
        return ripe
    return tell("{ripe}; sow by {latest}", ripe=ripe,
                latest=short_date(latest)) + (tell(", then {closing}", closing=closing) if closing else "")


def seed_needs(
    sowings: Sequence[PlannedSowing], packets: Sequence[Tinned], crops: Mapping[str, Crop]
) -> tuple[SeedNeed, ...]:
    """Seed wanted by crop and type against what is in the tin; sets, cloves and tubers are counted as plants.
    What is in the tin counts for the crop's own varieties: a packet does not say its type."""
    return tuple(
        _need(crops[key], name, [s for s in sowings if (s.crop, s.name) == (key, name)],
              [p for p in packets if (p.crop, crops[key].name) == (key, name)])
        for key, name in dict.fromkeys((sowing.crop, sowing.name) for sowing in sowings)
    )


def _need(crop: Crop, name: str, sowings: Sequence[PlannedSowing], packets: Sequence[Tinned]) -> SeedNeed:
    if crop.spacing.seeds_per_g is None:
        wanted = sum(sowing.plants or 0 for sowing in sowings)
    else:
        wanted = sum(sowing.seeds or 0 for sowing in sowings)
    have = seeds_there(crop, packets)
    grams = wanted / crop.spacing.seeds_per_g if crop.spacing.seeds_per_g else None
    buy = max(0, int(np.ceil(wanted - have))) if have is not None else wanted
    return SeedNeed(crop.key, name, wanted, grams, have, buy)


def seeds_there(crop: Crop, packets: Sequence[Tinned]) -> float | None:
    """Seeds in the tin that can be counted and, where that was told, grow; None where no packet says."""
    counts = [
        packet.seeds if packet.seeds is not None
        else packet.grams * crop.spacing.seeds_per_g
        if packet.grams is not None and crop.spacing.seeds_per_g else None
        for packet in packets
    ]
    known = [
        count * _grows(packet) for count, packet in zip(counts, packets, strict=True) if count is not None
    ]
    return float(sum(known)) if known else None


def _grows(packet: Tinned) -> float:
    """Share by the last test, else by the packet or the garden file; 1 where nobody said."""
    if packet.tests:
        return packet.tests[-1].came / packet.tests[-1].tried
    return 1.0 if packet.germination is None else packet.germination
