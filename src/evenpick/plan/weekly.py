"""Week by week: what can be had of each item over the years, and what no sowing from now can give."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.given import Given
from evenpick.plan.horizon import WEEKS
from evenpick.plan.measure import evaluate
from evenpick.plan.options import Batch
from evenpick.plan.request import Request, Supply
from evenpick.plan.task import Task

SELDOM = 0.2
"""a week counts as out of reach when even the best sowing gives something in fewer years than this"""


def reachable_weeks(task: Task) -> Bools:
    """Item-weeks for which some candidate, or what stands, has something to give often enough;
    (items, weeks)."""
    request, given = task.request, task.given
    standing = share_there(
        given.item, len(request.items), given.year, request.years, given.ripe, given.last, request.weeks
    )
    return sown_weeks(task) | np.asarray(standing >= SELDOM)


def sown_weeks(task: Task) -> Bools:
    """The same of the candidates alone."""
    request, supply = task.request, task.request.supply
    share = share_there(
        supply.candidate, len(request.candidates), supply.year, request.years, supply.ripe, supply.last,
        request.weeks,
    )
    reach = np.zeros((len(request.items), request.weeks), dtype=bool)
    np.logical_or.at(reach, request.candidates.item, share >= SELDOM)
    return reach


def weeks_of(batches: Sequence[Batch]) -> Bools:
    """Weeks in which a sowing of some batch has something to give often enough, be it offered or not;
    (weeks,)."""
    found = np.zeros(WEEKS, dtype=bool)
    for batch in batches:
        found |= _often_there(batch).any(axis=0)
    return found


def _often_there(batch: Batch) -> Bools:
    """Weeks in which each sow day of a batch has something to give often enough; (days, weeks)."""
    part, years = batch.ripening, batch.stand.shape[0]
    return share_there(
        part.sowing, batch.days.size, part.year, years, part.ripe, part.last, WEEKS) >= SELDOM


def barred_weeks(task: Task) -> Bools:
    """Item-weeks in which a sowing that days away alone keep from being made has something to give often
    enough; (items, weeks)."""
    found = np.zeros((len(task.request.items), task.request.weeks), dtype=bool)
    batches = {id(option.batch): option.batch for option in task.barred}
    several: dict[tuple[int, int], list[int]] = {}
    for option in task.barred:
        several.setdefault((option.item, id(option.batch)), []).append(option.index)
    for (item, batch), places in several.items():
        found[item] |= _often_there(batches[batch])[places].any(axis=0)
    return found


def something_ripe(task: Task) -> Bools:
    """Item-weeks in which, in one year, some candidate or what stands has something to give; (items, years,
    weeks)."""
    request, supply, given = task.request, task.request.supply, task.given
    items, item = len(request.items), request.candidates.item[supply.candidate]
    sown = _there(item, items, supply.year, request.years, supply.ripe, supply.last, request.weeks)
    return sown | _there(given.item, items, given.year, request.years, given.ripe, given.last, request.weeks)


def share_there(
    group: Ints, groups: int, year: Ints, years: int, ripe: Ints, last: Ints, weeks: int
) -> Floats:
    """Share of years in which each group of entries has something good in each week; (groups, weeks)."""
    return np.asarray(_there(group, groups, year, years, ripe, last, weeks).mean(axis=1))


def _there(group: Ints, groups: int, year: Ints, years: int, ripe: Ints, last: Ints, weeks: int) -> Bools:
    """Whether each group of entries has something good in each year and week; (groups, years, weeks)."""
    # +1 where an entry becomes good, -1 after its last week: the running sum counts what is there
    start, size = (group * years + year) * (weeks + 1), groups * years * (weeks + 1)
    change = np.bincount(start + ripe, minlength=size).astype(np.int16)
    change -= np.bincount(start + np.minimum(last, weeks - 1) + 1, minlength=size).astype(np.int16)
    there = np.cumsum(change.reshape(groups, years, weeks + 1), axis=2, dtype=np.int16)
    return np.asarray(there[:, :, :weeks] > 0)


def weeks_filled(request: Request, given: Given, areas: Floats) -> dict[int, Floats]:
    """By number of each sowing made, the mean kg by week that it adds to its item, (weeks,). What ripens
    first is eaten first: of several that go to store each adds weeks to which those before it do not last."""
    made, supply = np.flatnonzero(areas > 0), request.supply.where(areas > 0)
    ripens = _mean_ripe(supply, len(areas))[made]
    added: dict[int, Floats] = {}
    for item in np.unique(request.candidates.item[made]):
        mine = request.candidates.item[made] == item
        order = made[mine][np.argsort(ripens[mine], kind="stable")]
        added |= _added(request, supply, given, int(item), order, areas)
    return added


def _mean_ripe(supply: Supply, n: int) -> Floats:
    """The mean week in which what each of n candidates gives ripens."""
    heap = np.bincount(supply.candidate, supply.kg * supply.ripe, n)
    return heap / np.maximum(np.bincount(supply.candidate, supply.kg, n), 1e-9)


def _added(
    request: Request, supply: Supply, given: Given, item: int, order: Ints, areas: Floats
) -> dict[int, Floats]:
    """What each sowing of an item adds to what stands and to those before it in `order`; `supply` of theirs
    or more."""
    place = np.zeros(len(areas), dtype=np.int64)
    place[order] = np.arange(1, order.size + 1)
    wanted = request.wanted[item : item + 1]
    mine, stands = place[supply.candidate] > 0, given.item == item
    every = Supply(*(np.concatenate(pair) for pair in (
        (np.zeros(int(stands.sum()), dtype=np.int64), place[supply.candidate[mine]]),
        (given.year[stands], supply.year[mine]), (given.ripe[stands], supply.ripe[mine]),
        (given.last[stands], supply.last[mine]), (given.kg[stands], supply.kg[mine]),
    )))
    each, added = np.zeros(order.size + 1), {}
    each[0] = 1.0  # what stands
    of = np.zeros(each.size, dtype=np.int64)
    before = evaluate(of, each, every, wanted, request.years).used[0].mean(axis=1)
    for at, number in enumerate(order, 1):
        each[at] = areas[number]
        now = evaluate(of, each, every, wanted, request.years).used[0].mean(axis=1)
        added[int(number)], before = np.maximum(now - before, 0.0), now
    return added


def weeks_served(request: Request, supply: Supply, number: int, area: float) -> tuple[Floats, float]:
    """Mean kg that some m² of one candidate by themselves give to their item, by week, (weeks,); and the
    share of years in which they give any: heads that ripen over two months may in most years be there in no
    one week. Its entries are among those of `supply`."""
    item = request.candidates.item[number]
    mine = supply.candidate == number
    own = Supply(supply.candidate[mine] * 0, supply.year[mine], supply.ripe[mine], supply.last[mine],
                 supply.kg[mine])
    one, areas = np.zeros(1, np.int64), np.array([area])
    used = evaluate(one, areas, own, request.wanted[item : item + 1], request.years).used[0]
    return np.asarray(used.mean(axis=1)), float((used.sum(axis=0) > 0).mean())
