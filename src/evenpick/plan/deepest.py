"""The weeks at which a tied cut is deepest (planner.md, 5a): the good weeks of areas made in part, bettered
by adding and leaving out weeks.

What one sowing alone would use of the weeks in G is the rank of a polymatroid, so the depth is a submodular
function of G: weeks that pay one by one pay at least as much together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats


@dataclass(frozen=True, slots=True)
class Alone:
    """Sowings each by itself: ripe and gone by each week, (years, weeks, sowings) kg, and the share in which
    each is made, (sowings,)."""

    ripe: Floats
    gone: Floats
    share: Floats


def deepest_weeks(good: Bools, demand: Floats, alone: Alone) -> Bools:
    """Weeks G with the least d(not G) + Σ share·(used alone in G) that adding or leaving out weeks leads to
    from `good`. Weeks and `demand` (kg): (weeks, layers·years), a column for each layer and year."""
    from evenpick.plan import loops

    good = good & (demand > 0)
    _, weeks, sowings = alone.ripe.shape
    queues, each, weekly = np.empty((2, weeks, sowings)), np.empty((2, sowings)), np.empty((3, weeks))
    loops.deepest(good, demand, alone.ripe, alone.gone, alone.share, queues, each, weekly)
    return good


def depth(good: Bools, demand: Floats, alone: Alone) -> Floats:
    """d(not G) + Σ share·(used alone in G) for each column, kg."""
    from evenpick.plan import loops

    _, weeks, sowings = alone.ripe.shape
    found = np.empty(demand.shape[1])
    loops.depth(good, demand, alone.ripe, alone.gone, alone.share, np.empty((2, weeks, sowings)),
                np.empty(weeks), found)
    return found
