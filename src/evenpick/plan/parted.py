"""Whose it is that is picked, where several farms fill the same wishes (docs/design/cooperative.md, 5)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.pickings import gather, gathered
from evenpick.plan.request import Supply


def parted(
    item: Ints, farm: Ints, areas: Floats, supply: Supply, wanted: Floats, years: int, farms: int
) -> Floats:
    """kg that each farm picks to be used or to go over, shape (farms, items, weeks, years), where all of it
    is served together as `plan/measure.evaluate` does: of what goes over in the same week every farm gives
    alike, by what it has. `item`, `farm` and `areas` are each candidate's, `wanted` (items, weeks) is of all.
    """
    from evenpick.plan import loops

    items, weeks = wanted.shape
    cells = gather(supply, item * farms + farm, items * farms, years, weeks)
    own, year = np.divmod(cells.column, years)
    number, whose = np.divmod(own, farms)
    demand = np.ascontiguousarray(np.repeat(wanted, years, axis=0).T)
    stock, had = np.zeros((2, weeks, items * years, farms))
    loops.parted(cells.first, cells.last, number * years + year, whose, cells.horizon,
                 gathered(cells, areas), demand, stock, had)
    return np.asarray(had.reshape(weeks, items, years, farms).transpose(3, 1, 0, 2))
