"""What an outlet brings in the first year at the prices given (docs/design/season.md, 21). No costs are taken
off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.days import day_date
from evenpick.garden.garden import Garden
from evenpick.plan.horizon import YEAR_WEEKS, Horizon
from evenpick.plan.measure import Measure
from evenpick.plan.wanted import WantedItem
from evenpick.service.shares import had_by_wish
from evenpick.service.shares_answer import Takings


def takings(
    garden: Garden, wanted: Sequence[WantedItem], found: Measure, horizon: Horizon
) -> Iterator[Takings]:
    """For each outlet with priced wishes what it brings; where there are several, then of all together."""
    wishes = garden.wishes
    if all(wish.price is None for wish in wishes):
        return
    prices = np.array([wish.price or 0.0 for wish in wishes])
    money = prices[:, None, None] * had_by_wish(wishes, wanted, found, horizon)[:, :YEAR_WEEKS]
    of_outlets: list[tuple[str | None, list[int]]] = [
        (outlet.name, [n for n, wish in enumerate(wishes) if wish.outlet == outlet.name])
        for outlet in garden.outlets
    ]
    sold = [(name, mine) for name, mine in of_outlets if any(wishes[n].price is not None for n in mine)]
    if len(sold) > 1:
        sold.append((None, [n for _, mine in sold for n in mine]))
    for name, mine in sold:
        unpriced = dict.fromkeys(wishes[n].item for n in mine if wishes[n].price is None)
        yield _takings(name, money[mine].sum(axis=0), tuple(unpriced), horizon)


def _takings(
    outlet: str | None, money: Floats, unpriced: tuple[str, ...], horizon: Horizon
) -> Takings:
    """`money` has shape (weeks, years)."""
    low, likely, high = (float(each) for each in np.quantile(money.sum(axis=0), [0.1, 0.5, 0.9]))
    months, share = _months(horizon)
    by_month = np.quantile(share @ money, 0.5, axis=1)
    return Takings(outlet, low, likely, high,
                   tuple(zip(months, (float(each) for each in by_month), strict=True)), unpriced)


def _months(horizon: Horizon) -> tuple[list[date], Floats]:
    """The months of the first year (their first days), and the share of each week's days in each; (months,
    weeks)."""
    of_day = [day_date(horizon.start + day).replace(day=1) for day in range(7 * YEAR_WEEKS)]
    months = list(dict.fromkeys(of_day))
    inside = np.array([[month == each for each in of_day] for month in months])
    return months, np.asarray(inside.reshape(len(months), YEAR_WEEKS, 7).mean(axis=2))
