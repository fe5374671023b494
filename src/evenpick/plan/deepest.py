"""The weeks at which a tied cut is deepest (planner.md, 5): the good weeks of areas made in part, bettered by
adding and leaving out weeks.

What one sowing alone would use of the weeks in G is the rank of a polymatroid, so the depth is a submodular
function of G: weeks that pay one by one pay at least as much together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints

ROUNDS = 8
PAYS = 1e-6  # kg: smaller betterments are left


@dataclass(frozen=True, slots=True)
class Alone:
    """Sowings each by itself: ripe and gone by each week, (weeks, sowings, years) kg, and the share in which
    each is made, (sowings,)."""

    ripe: Floats
    gone: Floats
    share: Floats


def deepest_weeks(good: Bools, demand: Floats, alone: Alone) -> Bools:
    """Weeks G with the least d(not G) + Σ share·(used alone in G) that adding or leaving out weeks leads to
    from `good`. Weeks and `demand` (kg): (weeks, layers·years), a column for each layer and year."""
    good = good & (demand > 0)
    live, years = np.arange(demand.shape[1]), alone.ripe.shape[2]
    for _ in range(ROUNDS):
        now, wanted = good[:, live], demand[:, live]
        adding, leaving = _changes(now, wanted, alone, live % years)
        adding = np.where(now | (wanted <= 0), 0.0, np.minimum(adding + PAYS, 0.0))
        leaving = np.where(now, np.minimum(leaving + PAYS, 0.0), 0.0)
        change = np.where(adding.sum(axis=0) < leaving.sum(axis=0), adding, leaving) < 0
        good[:, live] = now ^ change
        live = live[change.any(axis=0)]
        if not len(live):
            break
    return good


def depth(good: Bools, demand: Floats, alone: Alone) -> Floats:
    """d(not G) + Σ share·(used alone in G) for each column, kg."""
    year = np.arange(demand.shape[1]) % alone.ripe.shape[2]
    served, before = _served(np.where(good, demand, 0.0), alone.ripe[:, :, year], alone.gone[:, :, year])
    used = alone.share @ (served - before).sum(axis=0)
    return np.asarray(np.where(good, 0.0, demand).sum(axis=0) + used)


def _changes(good: Bools, demand: Floats, alone: Alone, year: Ints) -> tuple[Floats, Floats]:
    """What adding each week to the good ones, or leaving it out, changes, kg; shapes as `good`."""
    ripe, gone, open_to = alone.ripe[:, :, year], alone.gone[:, :, year], np.where(good, demand, 0.0)
    served, before = _served(open_to, ripe, gone)
    absorbed, regained = np.full(ripe.shape[1:], np.inf), np.zeros(ripe.shape[1:])
    adding, leaving = np.empty_like(demand), np.empty_like(demand)
    for w in range(len(demand) - 1, -1, -1):
        more = np.minimum(absorbed, ripe[w] - served[w])
        adding[w] = alone.share @ np.minimum(more, demand[w], out=more) - demand[w]
        lost = served[w] - before[w]
        lost -= regained
        leaving[w] = open_to[w] - alone.share @ np.maximum(lost, 0.0, out=lost)
        if not w:
            break
        left = ripe[w] - before[w] - open_to[w]  # stays ripe; below nought: is wanted in vain
        over = gone[w] - served[w - 1]  # goes over; below nought: was taken beyond it
        np.minimum(absorbed, np.maximum(left, 0.0), out=absorbed)
        absorbed += np.maximum(over, 0.0)
        regained -= np.minimum(left, 0.0)
        np.minimum(regained, np.maximum(-over, 0.0), out=regained)
    return adding, leaving


def _served(open_to: Floats, ripe: Floats, gone: Floats) -> tuple[Floats, Floats]:
    """Used or gone over by the end of each week, and before the week is served; (weeks, sowings, columns)."""
    served, before = np.empty_like(ripe), np.empty_like(ripe)
    last = np.zeros(ripe.shape[1:])
    for w in range(len(ripe)):
        np.maximum(last, gone[w], out=before[w])
        last = np.minimum(before[w] + open_to[w], ripe[w], out=served[w])
    return served, before
