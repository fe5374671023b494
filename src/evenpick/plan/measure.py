"""A plan measured on any weather years by what can be done without foresight: each week, what goes over
first, up to what is wanted (planner.md, 11)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.pickings import gather, gathered, serve
from evenpick.plan.request import Supply

BARE_SHARE = 0.5  # common practice, no source: under half of what is wanted is a bare week


@dataclass(frozen=True, slots=True)
class Measure:
    """By year, shape (years,): `bare` (wanted and not there, kg), `spare` (there and not used, kg) and
    `bare_weeks` (item-weeks with under half of what is wanted). Shape (items, weeks, years), kg: `used`,
    `unmet`, and `over`, the spare by the week in which it goes over."""

    bare: Floats
    spare: Floats
    bare_weeks: Ints
    used: Floats
    over: Floats
    unmet: Floats


def evaluate(item: Ints, areas: Floats, supply: Supply, wanted: Floats, years: int) -> Measure:
    """Measure areas (m² per candidate; `item` is each candidate's item) against `wanted` (items, weeks).

    What is still good at the end of the horizon counts as going over in its last week.
    """
    items, weeks = wanted.shape
    columns = items * years
    cells = gather(supply, item, items, years, weeks)
    sweep = serve(cells, gathered(cells, areas), np.repeat(wanted, years, axis=0).T, columns)
    used, over, unmet = (
        part.reshape(weeks, items, years).transpose(1, 0, 2) for part in (sweep.used, sweep.over, sweep.unmet)
    )
    short = (used < BARE_SHARE * wanted[:, :, None]) & (wanted > 0)[:, :, None]
    return Measure(unmet.sum(axis=(0, 1)), over.sum(axis=(0, 1)), short.sum(axis=(0, 1)), used, over, unmet)
