"""Week by week: what can be had of each item over the years, and what no sowing from now can give."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.plan.request import Request
from evenpick.plan.task import Task

SELDOM = 0.2
"""a week counts as out of reach when even the best sowing gives something in fewer years than this"""


def reachable_weeks(task: Task) -> Bools:
    """Item-weeks for which some candidate, or what stands, has something to give often enough;
    (items, weeks)."""
    request, supply = task.request, task.request.supply
    n, weeks = len(request.candidates), request.weeks
    # +1 where an entry becomes good, -1 after its last week: running sums count the years
    change = np.zeros((n, weeks + 1))
    np.add.at(change, (supply.candidate, supply.ripe), 1.0)
    np.add.at(change, (supply.candidate, np.minimum(supply.last, weeks - 1) + 1), -1.0)
    often = np.minimum(np.cumsum(change, axis=1)[:, :weeks] / request.years, 1.0) >= SELDOM
    reach = _often_given(task)
    np.logical_or.at(reach, request.candidates.item, often)
    return reach


def _often_given(task: Task) -> Bools:
    """The same of what stands already; (items, weeks)."""
    request, given = task.request, task.given
    items, weeks = len(request.items), request.weeks
    there = np.zeros((items, request.years, weeks + 1))
    np.add.at(there, (given.item, given.year, given.ripe), 1.0)
    np.add.at(there, (given.item, given.year, np.minimum(given.last, weeks - 1) + 1), -1.0)
    return np.asarray((np.cumsum(there, axis=2)[:, :, :weeks] > 0).mean(axis=1) >= SELDOM)


def mean_supply(request: Request, number: int) -> Floats:
    """Mean kg per m² of one candidate by ripe week; (weeks,)."""
    mine = request.supply.candidate == number
    total = np.bincount(request.supply.ripe[mine], request.supply.kg[mine], request.weeks)
    return np.asarray(total / request.years)
