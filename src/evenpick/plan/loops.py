"""The planner's inner loops, compiled (base/compiled). Imported where they are called.

Nothing is made here, not even to work in, and arrays are filled one by one: Numba loads that sooner.
"""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints, Singles
from evenpick.base.compiled import compiled, part

TINY = 1e-9  # kg; below it nothing is taken
ROUNDS = 8  # of adding and leaving out weeks
PAYS = 1e-6  # kg: smaller betterments are left


@compiled("void(i8[::1], i8[::1], f8[::1], f8[::1], f8[::1])")
def gathered(of: Ints, candidate: Ints, kg: Floats, areas: Floats, amounts: Floats) -> None:
    """`amounts` (cells,) are nought at first."""
    for n in range(len(of)):
        area = areas[candidate[n]]
        if area != 0.0:
            amounts[of[n]] += kg[n] * area


@compiled("void(f8[:, ::1], f8[::1], f8, i8[::1], f8[:, ::1])")
def ranked(values: Floats, by_rank: Floats, rest: float, order: Ints, found: Floats) -> None:
    """To the greatest values of a row what is due to their rank, and to each other one the `rest`; of equals
    the first comes first. `order` (ranks,) is to work in."""
    ranks, columns = len(by_rank), values.shape[1]
    for row in range(values.shape[0]):
        for column in range(columns):
            found[row, column] = rest
            at = min(column, ranks)
            while at > 0 and values[row, order[at - 1]] < values[row, column]:
                if at < ranks:
                    order[at] = order[at - 1]
                at -= 1
            if at < ranks:
                order[at] = column
        for rank in range(min(ranks, columns)):
            found[row, order[rank]] = by_rank[rank]


@compiled(
    "void(i8[::1], i8[::1], i8[::1], i8[::1], f8[::1], f8[:, ::1], i8, f8[:, ::1], f8[:, ::1], "
    "f8[:, ::1], i8[:, ::1])"
)
def serve(
    first: Ints, last: Ints, column: Ints, horizon: Ints, amounts: Floats, demand: Floats, columns: int,
    stock: Floats, used: Floats, over: Floats, reach: Ints,
) -> None:
    """`stock`, of the shape of `demand`, is empty at the beginning."""
    weeks, width = demand.shape
    for w in range(weeks):
        for n in range(first[w], first[w + 1]):
            for c in range(column[n], width, columns):
                stock[last[n], c] += amounts[n]
        for c in range(width):
            left = demand[w, c]
            for until in range(w, horizon[w]):
                taken = min(stock[until, c], left)
                stock[until, c] -= taken
                left -= taken
                if taken > TINY:
                    reach[w, c] = until
                if left <= 0.0:
                    break
            used[w, c] = demand[w, c] - left
            over[w, c] = stock[w, c]


@compiled(
    "void(i8[::1], i8[::1], i8[::1], i8[::1], i8[::1], f8[::1], f8[:, ::1], f8[:, :, ::1], f8[:, :, ::1])"
)
def parted(
    first: Ints, last: Ints, column: Ints, whose: Ints, horizon: Ints, amounts: Floats, demand: Floats,
    stock: Floats, had: Floats,
) -> None:
    """As `serve` takes it, by `whose` it is; `stock` and `had` (weeks, columns, farms) are empty at first."""
    weeks, width, farms = had.shape
    for w in range(weeks):
        for n in range(first[w], first[w + 1]):
            stock[last[n], column[n], whose[n]] += amounts[n]
        for c in range(width):
            left = demand[w, c]
            for until in range(w, horizon[w]):
                there = 0.0
                for f in range(farms):
                    there += stock[until, c, f]
                if there <= TINY or left <= 0.0:
                    continue
                share = min(left / there, 1.0)
                for f in range(farms):
                    taken = share * stock[until, c, f]
                    stock[until, c, f] -= taken
                    had[w, c, f] += taken
                left -= share * there
            for f in range(farms):
                had[w, c, f] += stock[w, c, f]


@compiled("void(b1[:, ::1], i8[:, ::1], i8[::1])")
def move_on(good: Bools, reach: Ints, following: Ints) -> None:
    """Weeks whose use reaches the next good one are good too; `following` (columns,), past the end at first,
    is to work in."""
    weeks, width = good.shape
    for w in range(weeks - 1, -1, -1):
        for c in range(width):
            if good[w, c] or reach[w, c] >= following[c]:
                good[w, c], following[c] = True, w


@compiled(
    "void(f8[:, :, :, ::1], i8[::1], f8[:, :, ::1], f8[:, :, ::1], f8[::1], f8[:, ::1], f8[:, :, ::1], "
    "f8[:, :, ::1])"
)
def alone(
    open_to: Floats, item: Ints, arrived: Floats, expired: Floats, pace: Floats, room: Floats, flow: Floats,
    slope: Floats,
) -> None:
    """`room` (4, candidates) is to work in."""
    years, weeks, n = arrived.shape
    gone, d_gone, used, d_used = room[0], room[1], room[2], room[3]
    for k in range(open_to.shape[1]):
        for y in range(years):
            for j in range(n):
                gone[j] = d_gone[j] = used[j] = d_used[j] = 0.0
            for w in range(weeks):
                for j in range(n):
                    lost, ripe = expired[y, w, j] * pace[j], arrived[y, w, j] * pace[j]
                    over = lost > gone[j]
                    base, d_base = lost if over else gone[j], expired[y, w, j] if over else d_gone[j]
                    most = base + open_to[w, k, item[j], y]
                    gone[j], d_gone[j] = (ripe, arrived[y, w, j]) if most > ripe else (most, d_base)
                    used[j] += gone[j] - base
                    d_used[j] += d_gone[j] - d_base
            for j in range(n):
                flow[j, y, k], slope[j, y, k] = used[j], d_used[j]


@part
def _queues(open_to: Floats, ripe: Floats, gone: Floats, served: Floats, before: Floats) -> None:
    """Used or gone over by the end of each week, and before the week is served; (weeks, sowings)."""
    weeks, sowings = ripe.shape
    for w in range(weeks):
        for j in range(sowings):
            last = served[w - 1, j] if w else 0.0
            before[w, j] = gone[w, j] if gone[w, j] > last else last
            filled = before[w, j] + open_to[w]
            served[w, j] = filled if filled < ripe[w, j] else ripe[w, j]


@part
def _changes(
    open_to: Floats, demand: Floats, ripe: Floats, gone: Floats, share: Floats, served: Floats,
    before: Floats, absorbed: Floats, regained: Floats, adding: Floats, leaving: Floats,
) -> None:
    """What adding each week to the good ones, or leaving it out, changes, kg."""
    weeks, sowings = ripe.shape
    for j in range(sowings):
        absorbed[j], regained[j] = np.inf, 0.0
    for w in range(weeks - 1, -1, -1):
        added = kept = 0.0
        for j in range(sowings):
            more = min(absorbed[j], ripe[w, j] - served[w, j])
            added += share[j] * min(more, demand[w])
            kept += share[j] * max(served[w, j] - before[w, j] - regained[j], 0.0)
        adding[w], leaving[w] = added - demand[w], open_to[w] - kept
        if w:
            for j in range(sowings):
                left = ripe[w, j] - before[w, j] - open_to[w]  # below nought: is wanted in vain
                over = gone[w, j] - served[w - 1, j]  # goes over; below nought: was taken beyond it
                absorbed[j] = min(absorbed[j], max(left, 0.0)) + max(over, 0.0)
                regained[j] = min(regained[j] - min(left, 0.0), max(-over, 0.0))


@compiled(
    "void(b1[:, ::1], f8[:, ::1], f8[:, :, ::1], f8[:, :, ::1], f8[::1], f8[:, :, ::1], f8[:, ::1], "
    "f8[:, ::1])"
)
def deepest(
    good: Bools, demand: Floats, ripe: Floats, gone: Floats, share: Floats, queues: Floats, each: Floats,
    weekly: Floats,
) -> None:
    """Each column to its own end, in place; `queues` (2, weeks, sowings), `each` (2, sowings) and `weekly`
    (3, weeks) are to work in."""
    weeks, columns = demand.shape
    years = ripe.shape[0]
    served, before = queues[0], queues[1]
    adding, leaving, open_to = weekly[0], weekly[1], weekly[2]
    for c in range(columns):
        year = c % years
        for _ in range(ROUNDS):
            for w in range(weeks):
                open_to[w] = demand[w, c] if good[w, c] else 0.0
            _queues(open_to, ripe[year], gone[year], served, before)
            _changes(open_to, demand[:, c], ripe[year], gone[year], share, served, before, each[0], each[1],
                     adding, leaving)
            gained = lost = 0.0
            for w in range(weeks):
                adding[w] = 0.0 if good[w, c] or demand[w, c] <= 0.0 else min(adding[w] + PAYS, 0.0)
                leaving[w] = min(leaving[w] + PAYS, 0.0) if good[w, c] else 0.0
                gained += adding[w]
                lost += leaving[w]
            change = adding if gained < lost else leaving
            if min(gained, lost) >= 0.0:
                break
            for w in range(weeks):
                good[w, c] ^= change[w] < 0.0


@compiled(
    "void(b1[:, ::1], f8[:, ::1], f8[:, :, ::1], f8[:, :, ::1], f8[::1], f8[:, :, ::1], f8[::1], f8[::1])"
)
def depth(
    good: Bools, demand: Floats, ripe: Floats, gone: Floats, share: Floats, queues: Floats, open_to: Floats,
    found: Floats,
) -> None:
    """`queues` as of `deepest` and `open_to` (weeks,) are to work in."""
    weeks, columns = demand.shape
    years, _, sowings = ripe.shape
    served, before = queues[0], queues[1]
    for c in range(columns):
        found[c] = 0.0
        for w in range(weeks):
            open_to[w] = demand[w, c] if good[w, c] else 0.0
            found[c] += demand[w, c] - open_to[w]
        _queues(open_to, ripe[c % years], gone[c % years], served, before)
        for w in range(weeks):
            for j in range(sowings):
                found[c] += share[j] * (served[w, j] - before[w, j])


@part
def _week(there: Singles, over: Singles, want: Singles, done: Singles, used: Singles) -> None:
    """One week, in place: used or gone by its end (`done`), and used in all; (layers, years)."""
    for k in range(want.shape[0]):
        for y in range(want.shape[1]):
            base = over[y] if over[y] > done[k, y] else done[k, y]
            most = base + want[k, y]
            done[k, y] = most if most < there[y] else there[y]
            used[k, y] += done[k, y] - base


@part
def _copied(done: Singles, used: Singles, to_done: Singles, to_used: Singles) -> None:
    for k in range(done.shape[0]):
        for y in range(done.shape[1]):
            to_done[k, y], to_used[k, y] = done[k, y], used[k, y]


@compiled(
    "void(f4[:, :, ::1], f4[:, :, ::1], i8[::1], f4[:, ::1], f4[:, ::1], f4[:, :, ::1], f8[::1], "
    "f8[::1], f8, i8[:], f4[::1], i8[:], f4[::1], f4[:, :, :, ::1], f4[:, :, ::1], "
    "f4[:, ::1], f8[:, ::1])"
)
def moved(
    arrived: Singles, expired: Singles, first: Ints, ripe: Singles, gone: Singles, want: Singles,
    lost: Floats, gain: Floats, spare: float, at: Ints, more: Singles, off: Ints, less: Singles,
    way: Singles, now: Singles, week: Singles, losses: Floats,
) -> None:
    """Losses by year, a row for each move: running sums (weeks, years) with two candidates' changed. Till the
    first of both ripens all is as without the move. `way` (2, weeks, layers, years), empty at the beginning,
    `now` (2, layers, years) and `week` (2, years) are to work in."""
    weeks, layers, years = want.shape
    before, flow = way[0], way[1]
    for w in range(weeks - 1):
        _copied(before[w], flow[w], before[w + 1], flow[w + 1])
        _week(ripe[w], gone[w], want[w], before[w + 1], flow[w + 1])
    done, used, there, over = now[0], now[1], week[0], week[1]
    for m in range(len(at)):
        a, b, start = at[m], off[m], min(first[at[m]], first[off[m]], weeks - 1)
        _copied(before[start], flow[start], done, used)
        for w in range(start, weeks):
            for y in range(years):
                there[y] = ripe[w, y] + more[m] * arrived[w, a, y] - less[m] * arrived[w, b, y]
                over[y] = gone[w, y] + more[m] * expired[w, a, y] - less[m] * expired[w, b, y]
            _week(there, over, want[w], done, used)
        for y in range(years):
            losses[m, y] = lost[y] + spare * there[y]
            for k in range(layers):
                losses[m, y] -= gain[k] * used[k, y]


@compiled("void(f8[:, ::1], f8[::1], i8[::1], f8[::1], i8[::1], f8[::1], b1[::1])")
def fitting(
    taken: Floats, free: Floats, at: Ints, more: Floats, off: Ints, less: Floats, fits: Bools
) -> None:
    """Whether each move keeps to what is free of each row; `taken` (candidates, rows)."""
    for m in range(len(at)):
        fits[m] = True
        for r in range(len(free)):
            if not more[m] * taken[at[m], r] - less[m] * taken[off[m], r] <= free[r]:
                fits[m] = False
                break
