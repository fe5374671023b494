"""What is used of what ripens: serve each week from what goes over first (planner.md, 2 and 3).

One sweep over the weeks does all items, years and layers at once. A column is a pair (item, year);
its number is item·years + year. Layers stand side by side: layer·columns + column.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.request import Supply

TINY = 1e-9  # kg; below it a want counts as met


@dataclass(frozen=True, slots=True)
class Cells:
    """Supply entries gathered into cells (ripe, last, column), sorted by ripe week.

    `of` gives each entry's cell, `candidate` and `kg` whose it is and how much a square metre gives;
    `first[w]` to `first[w+1]` are the cells that ripen in week w.
    """

    of: Ints
    candidate: Ints
    kg: Floats
    ripe: Ints
    last: Ints
    column: Ints
    first: Ints
    horizon: Ints
    """per week, one past the latest last week of anything ripe so far"""


def gather(supply: Supply, item: Ints, items: int, years: int, weeks: int) -> Cells:
    """Cells of a supply; `item` is each candidate's item."""
    last = np.minimum(supply.last, weeks - 1)
    column = item[supply.candidate] * years + supply.year
    key = (supply.ripe * weeks + last) * (items * years) + column
    unique, of = np.unique(key, return_inverse=True)
    pair, col = np.divmod(unique, items * years)
    ripe, until = np.divmod(pair, weeks)
    first = np.searchsorted(ripe, np.arange(weeks + 1)).astype(np.int64)
    reach = np.zeros(weeks, dtype=np.int64)
    np.maximum.at(reach, ripe, until + 1)
    horizon = np.maximum(np.maximum.accumulate(reach), np.arange(1, weeks + 1))
    # copies, for compiled loops take only arrays that may be written
    entries = of.astype(np.int64).ravel(), supply.candidate.copy(), supply.kg.copy()
    return Cells(*entries, ripe, until, col, first, horizon)


def gathered(cells: Cells, areas: Floats) -> Floats:
    """kg in each cell for areas (m² per candidate)."""
    from evenpick.plan import loops

    amounts = np.zeros(len(cells.ripe))
    loops.gathered(cells.of, cells.candidate, cells.kg, np.array(areas, dtype=np.float64), amounts)
    return amounts


@dataclass(frozen=True, slots=True)
class Sweep:
    """Result of serving; shapes (weeks, layers·columns), kg. `reach`: the latest last week among what
    the week used, -1 where it used nothing; `over`: what went over at the week's end."""

    used: Floats
    unmet: Floats
    over: Floats
    reach: Ints


def serve(cells: Cells, amounts: Floats, demand: Floats, columns: int) -> Sweep:
    """The greatest use of `amounts` (kg per cell) against `demand` (weeks, layers·columns).

    Each week takes what goes over first; that is a maximum flow on intervals (planner.md, 2).
    """
    from evenpick.plan import loops

    stock, used, over = np.zeros((3, *demand.shape))
    reach = np.full(demand.shape, -1, dtype=np.int64)
    c, wanted = cells, np.ascontiguousarray(demand)
    loops.serve(c.first, c.last, c.column, c.horizon, amounts, wanted, columns, stock, used, over,
                reach)
    return Sweep(used, demand - used, over, reach)


def good_weeks(sweep: Sweep) -> Bools:
    """Weeks in which one more kilogram would be used: unmet, or holding something that could move to
    the next good week; shape (weeks, layers·columns) (planner.md, 3)."""
    from evenpick.plan import loops

    weeks, width = sweep.used.shape
    good = sweep.unmet > TINY
    loops.move_on(good, sweep.reach, np.full(width, weeks))
    return good


def next_good(good: Bools) -> Ints:
    """First good week at or after each week (the number of weeks if none); shape as `good`."""
    weeks = len(good)
    week = np.where(good, np.arange(weeks)[:, None], weeks)
    return np.asarray(np.minimum.accumulate(week[::-1], axis=0)[::-1])
