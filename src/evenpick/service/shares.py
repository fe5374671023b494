"""What each wish gets of what is picked, and whether a share comes to the weight and the worth it is to have:
looked at when the plan is made (docs/design/season.md, 14 and 19)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.days import day_date
from evenpick.garden.garden import Garden, Outlet, Wish
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.measure import Measure
from evenpick.plan.wanted import TO_KEEP, WantedItem, weekly_want
from evenpick.service.shares_answer import ShareMeasure, ShortShare
from evenpick.service.variety import IN_YEARS, open_part

ROUNDING = 1e-9
"""of what it should be: less is no shortfall but a sum's last digits"""


def part_of_item(
    wishes: Sequence[Wish], wanted: Sequence[WantedItem], horizon: Horizon
) -> tuple[list[int], Floats]:
    """For each wish the number of its item, and its part of what all wishes want of that item, by week;
    (wishes, weeks)."""
    numbers = {item.name: number for number, item in enumerate(wanted)}
    item = [numbers[f"{wish.item}{TO_KEEP}" if wish.keep else wish.item] for wish in wishes]
    own = np.stack([weekly_want(wish, horizon) for wish in wishes])
    of_all = np.zeros((len(wanted), own.shape[1]))
    np.add.at(of_all, item, own)
    return item, np.divide(own, of_all[item], out=np.zeros_like(own), where=of_all[item] > 0)


def had_by_wish(
    wishes: Sequence[Wish], wanted: Sequence[WantedItem], found: Measure, horizon: Horizon
) -> Floats:
    """kg of what is used that each wish gets: outlets that want an item go short alike; (wishes, weeks,
    years)."""
    return _had(found, *part_of_item(wishes, wanted, horizon))


def _had(found: Measure, item: list[int], part: Floats) -> Floats:
    return np.asarray(found.used[item] * part[:, :, None])


def short_shares(
    garden: Garden, wanted: Sequence[WantedItem], found: Measure, horizon: Horizon
) -> Iterator[ShortShare]:
    """For each outlet whose share should weigh or be worth something, where that is likely to fail."""
    outlets = [outlet for outlet in garden.outlets if outlet.weight is not None or outlet.worth is not None]
    if not outlets:
        return
    item, own_part = part_of_item(garden.wishes, wanted, horizon)
    wished = np.stack([wanted[number].kg for number in item]) * own_part
    had = _had(found, item, own_part)
    for outlet in outlets:
        mine = [n for n, wish in enumerate(garden.wishes) if wish.outlet == outlet.name and not wish.keep]
        if mine:
            wishes = [garden.wishes[n] for n in mine]
            part = open_part(garden, wishes, horizon)
            yield from _outlet(outlet, wishes, wished[mine], had[mine], part, horizon)


def _outlet(
    outlet: Outlet, wishes: Sequence[Wish], wished: Floats, had: Floats, part: Floats, horizon: Horizon
) -> Iterator[ShortShare]:
    """`wished` (wishes, weeks) and `had` (wishes, weeks, years), kg, are of the outlet's weekly wishes; of a
    week of which only `part` is open as much of what a share should come to is asked."""
    asked: tuple[tuple[ShareMeasure, float | None, Floats], ...] = (
        ("weight", outlet.weight, np.ones(len(wishes))),
        ("worth", outlet.worth, np.array([wish.price or 0.0 for wish in wishes])),
    )
    for what, least, each in asked:
        if least is None:
            continue
        bar = least * outlet.shares * part * (1.0 - ROUNDING)
        enough = (np.einsum("w,wky->ky", each, had) >= bar[:, None]).mean(axis=1) >= IN_YEARS
        short = ~enough[:YEAR_WEEKS]
        if short.any():
            less = short & (each @ wished < bar)[:YEAR_WEEKS]
            yield ShortShare(outlet.name, what, least, _mondays(short, horizon), int(less.sum()))


def _mondays(weeks: Bools, horizon: Horizon) -> tuple[date, ...]:
    return tuple(day_date(horizon.start + 7 * int(week)) for week in np.flatnonzero(weeks))
