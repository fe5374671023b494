"""What comes whatever is sown from now: crops already standing, perennials (docs/design/season.md, 4)."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.pickings import gather, gathered, serve
from evenpick.plan.request import Supply


@dataclass(frozen=True, slots=True)
class Given:
    """Entries: `kg` of an item in a year, ripe in week `ripe` and good to the end of week `last`."""

    item: Ints
    year: Ints
    ripe: Ints
    last: Ints
    kg: Floats

    def of_years(self, members: Ints) -> Given:
        """Those of some members of the ensemble, years numbered as in `members`."""
        place = np.full(int(max(self.year.max(initial=0), members.max(initial=0))) + 1, -1)
        place[members] = np.arange(members.size)
        year = place[self.year]
        keep = year >= 0
        return Given(self.item[keep], year[keep], self.ripe[keep], self.last[keep], self.kg[keep])

    def supply(self) -> Supply:
        """As the supply of candidates, one a item, of which a square metre each is made."""
        return Supply(self.item, self.year, self.ripe, self.last, self.kg)


def nothing_given() -> Given:
    none = np.zeros(0, dtype=np.int64)
    return Given(none, none, none, none, np.zeros(0))


def together(several: Iterable[Given]) -> Given:
    parts = [nothing_given(), *several]
    item, year, ripe, last = (
        np.concatenate([getattr(part, name) for part in parts]).astype(np.int64)
        for name in ("item", "year", "ripe", "last")
    )
    return Given(item, year, ripe, last, np.concatenate([part.kg for part in parts]))


def met_by(given: Given, wanted: Floats, levels: Sequence[float], years: int) -> Floats:
    """kg of each layer's want that is met before anything new is; (weeks, layers, items, years).

    wanted: kg, (items, weeks). What goes over first is served first, each layer by itself.
    """
    items, weeks = wanted.shape
    supply = given.supply()
    cells = gather(supply, np.arange(items), items, years, weeks)
    by_column = np.repeat(wanted, years, axis=0).T
    demand = np.concatenate([level * by_column for level in levels], axis=1)
    used = serve(cells, gathered(cells, np.ones(items)), demand, items * years).used
    return np.maximum(used.reshape(weeks, len(levels), items, years), 0.0)
