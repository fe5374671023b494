"""Beds searched for room, compiled (base/compiled). Imported where they are called.

A bed's pieces are columns of `stay`, `low`, `high` (beds, room), the first `count` of them, in the order in
which they were laid. Stretches are rows (low, high) of a table, in order and apart, with how many there are;
what is shorter than a hair is nothing (plan/stretches). Nothing is made here, not even to work in: Numba
loads that sooner. Tables to work in are `work`, (4, three times the pieces of a bed and a few, 2).
"""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.compiled import compiled, part
from evenpick.plan.stretches import HAIR

SHORT = 1.0  # m: a rest shorter than this is of little use
LEAST = 0.02  # m: nothing is sown on less, whatever the crop
FRESH = 56.0  # days after clearing during which ground counts as just freed
FAR = 90.0  # days between the clearings of neighbours that count as far apart


@part
def _in_order(rows: Floats, count: int) -> None:
    """The first rows by their first column, then their second; equals stay as they are."""
    for i in range(1, count):
        low, high = rows[i, 0], rows[i, 1]
        k = i
        while k > 0 and (rows[k - 1, 0] > low or (rows[k - 1, 0] == low and rows[k - 1, 1] > high)):
            rows[k, 0], rows[k, 1] = rows[k - 1, 0], rows[k - 1, 1]
            k -= 1
        rows[k, 0], rows[k, 1] = low, high


@part
def _without(stretches: Floats, count: int, cuts: Floats, cut: int, left: Floats) -> int:
    """What is `left` of stretches when others, in order, are taken out of them; how many."""
    found = 0
    for i in range(count):
        at, high = stretches[i, 0], stretches[i, 1]
        for k in range(cut):
            if cuts[k, 1] <= at or cuts[k, 0] >= high:
                continue
            if cuts[k, 0] - at > HAIR:
                left[found, 0], left[found, 1] = at, cuts[k, 0]
                found += 1
            at = max(at, cuts[k, 1])
        if high - at > HAIR:
            left[found, 0], left[found, 1] = at, high
            found += 1
    return found


@part
def _room(
    s: int, b: int, length: float, barred: bool, near: Bools, start: Ints, end: Ints, stay: Ints, low: Floats,
    high: Floats, count: Ints, work: Floats,
) -> tuple[int, int]:
    """Stretches of a bed where nothing lies during a stay, and those of them where its family may grow: how
    many there are in the first table of `work`, and in the second; the third is left as it was."""
    n = count[b]
    free, clean, cuts = work[0], work[1], work[3]
    clean[0, 0], clean[0, 1] = 0.0, length
    k = 0
    for i in range(n):
        other = stay[b, i]
        if start[other] < end[s] and start[s] < end[other]:
            cuts[k, 0], cuts[k, 1] = low[b, i], high[b, i]
            k += 1
    _in_order(cuts, k)
    open_to = _without(clean, 1, cuts, k, free)
    k = 0
    if barred:
        cuts[0, 0], cuts[0, 1] = 0.0, length
        k = 1
    else:
        for i in range(n):
            if near[stay[b, i]]:
                cuts[k, 0], cuts[k, 1] = low[b, i], high[b, i]
                k += 1
        _in_order(cuts, k)
    return open_to, _without(free, open_to, cuts, k, clean)


@compiled(
    "Tuple((i8, i8))(i8, i8, f8[::1], b1[:, ::1], b1[:, ::1], i8[::1], i8[::1], i8[:, ::1], f8[:, ::1], "
    "f8[:, ::1], i8[::1], f8[:, :, ::1])"
)
def room(
    s: int, b: int, length: Floats, barred: Bools, near: Bools, start: Ints, end: Ints, stay: Ints,
    low: Floats, high: Floats, count: Ints, work: Floats,
) -> tuple[int, int]:
    """As `_room`."""
    return _room(s, b, length[b], barred[s, b], near[s], start, end, stay, low, high, count, work)


@part
def _against(
    s: int, b: int, length: float, at: float, to: float, room: float, taste: Floats, start: Ints, end: Ints,
    family: Ints, season: Ints, stay: Ints, low: Floats, high: Floats, count: Ints,
) -> float:
    """What speaks against laying a stay from `at` to `to` metres of a stretch so long; `taste` for short
    rests, ground just freed, the family's own ground, neighbours' ends."""
    need = to - at
    fresh = kin = apart = 0.0
    beside = 0
    for i in range(count[b]):
        shared = min(to, high[b, i]) - max(at, low[b, i])
        if shared > HAIR:
            other = stay[b, i]
            if 0 <= start[s] - end[other] < FRESH:
                fresh += shared * (1 - (start[s] - end[other]) / FRESH)
            if family[other] == family[s] and season[other] == season[s]:
                kin += shared
        elif shared > -HAIR and end[stay[b, i]] > start[s]:
            apart += min(1.0, abs(end[stay[b, i]] - end[s]) / FAR)
            beside += 1
    rest = room - need
    short = 0.0 if rest < HAIR else 1.0 if rest < SHORT else 0.2 + 0.3 * rest / length
    ends = apart / beside if beside else 0.3
    pleasant = (taste[1] * fresh + taste[2] * min(kin, need)) / max(need, HAIR)
    against: float = taste[0] * short + taste[3] * ends - pleasant
    return against


@compiled(
    "i8(i8, f8, i8[::1], f8[::1], f8[::1], b1[:, ::1], b1[:, ::1], f8[::1], i8[::1], i8[::1], i8[::1], "
    "i8[::1], i8[:, ::1], f8[:, ::1], f8[:, ::1], i8[::1], f8[:, :, ::1], f8[::1])"
)
def whole(
    s: int, area: float, beds: Ints, length: Floats, rate: Floats, barred: Bools, near: Bools, taste: Floats,
    start: Ints, end: Ints, family: Ints, season: Ints, stay: Ints, low: Floats, high: Floats, count: Ints,
    work: Floats, place: Floats,
) -> int:
    """The bed and the `place` (from, to; m) with least against it that holds the whole of a stay, at either
    end of a stretch where its family may grow; -1 where there is none. Of equals the first bed, lowest
    metres."""
    best, best_bed, clean = np.inf, -1, work[1]
    for b in beds:
        need = area * rate[b]
        if need > length[b] + HAIR:
            continue
        _, found = _room(s, b, length[b], barred[s, b], near[s], start, end, stay, low, high, count, work)
        for i in range(found):
            bottom, top = clean[i, 0], clean[i, 1]
            if top - bottom < need - HAIR:
                continue
            for k in range(2 if top - min(bottom + need, top) > HAIR else 1):
                at, to = (top - need, top) if k else (bottom, min(bottom + need, top))
                against = _against(s, b, length[b], at, to, top - bottom, taste, start, end, family, season,
                                   stay, low, high, count)
                if against < best or (against == best and (b, at, to) < (best_bed, place[0], place[1])):
                    best, best_bed = against, b
                    place[0], place[1] = at, to
    return best_bed


@part
def _fill(
    area: float, least: Floats, room: Floats, rooms: int, rate: Floats, laid: Floats, count: int,
    some: Floats, tables: Floats,
) -> tuple[float, int]:
    """Fill the largest stretches (bed, from, to) first and the last one that will do; m² left over, and how
    many pieces are `laid` by then, of which the first `count` were before. No piece is under its bed's
    `least` m², nor under LEAST m: the one before gives up what the last one lacks. `some` (m², bed, from) and
    `tables` of stretches are to work in."""
    if area <= HAIR:
        return 0.0, count
    found, pieces = 0, count
    one, cuts, left = tables[0], tables[1], tables[2]
    for r in range(rooms):
        b = int(room[r, 0])
        one[0, 0], one[0, 1] = room[r, 1], room[r, 2]
        k = 0
        for i in range(count):
            if laid[i, 0] == b:
                cuts[k, 0], cuts[k, 1] = laid[i, 1], laid[i, 2]
                k += 1
        _in_order(cuts, k)
        for i in range(_without(one, 1, cuts, k, left)):
            if left[i, 1] - left[i, 0] >= max(LEAST, (least[b] - HAIR) * rate[b]):
                some[found, 0], some[found, 1] = (left[i, 1] - left[i, 0]) / rate[b], b
                some[found, 2] = left[i, 0]
                found += 1
    for i in range(1, found):  # largest first, then bed, then metres
        size, bed, at = some[i, 0], some[i, 1], some[i, 2]
        k = i
        while k > 0 and (-some[k - 1, 0], some[k - 1, 1], some[k - 1, 2]) > (-size, bed, at):
            some[k, 0], some[k, 1], some[k, 2] = some[k - 1, 0], some[k - 1, 1], some[k - 1, 2]
            k -= 1
        some[k, 0], some[k, 1], some[k, 2] = size, bed, at
    while found and area > HAIR:
        chosen = -1
        for i in range(found):
            if area >= least[int(some[i, 1])] - HAIR and (chosen < 0 or some[i, 0] >= area - HAIR):
                chosen = i
        if chosen < 0:
            break
        size, b, at = some[chosen, 0], int(some[chosen, 1]), some[chosen, 2]
        for i in range(chosen + 1, found):
            some[i - 1, 0], some[i - 1, 1], some[i - 1, 2] = some[i, 0], some[i, 1], some[i, 2]
        found -= 1
        taken = min(area, size)
        if HAIR < area - taken < least[b] and area >= 2 * least[b]:
            taken = area - least[b]
        laid[pieces, 0], laid[pieces, 1], laid[pieces, 2] = b, at, at + taken * rate[b]
        pieces += 1
        area -= taken
    return (area if area > HAIR else 0.0), pieces


@part
def _widen(
    s: int, area: float, length: Floats, rate: Floats, laid: Floats, count: int, near: Bools, start: Ints,
    end: Ints, stay: Ints, low: Floats, high: Floats, lying: Ints, work: Floats,
) -> float:
    """What is left of a stay, m², laid beside its pieces where the ground next to them is free, up the bed,
    then down; what is left then."""
    free = work[0]
    for i in range(count):
        b = int(laid[i, 0])
        open_to, _ = _room(s, b, length[b], True, near, start, end, stay, low, high, lying, work)
        bottom, top = laid[i, 1], laid[i, 2]
        for k in range(open_to):
            if free[k, 0] <= bottom + HAIR and free[k, 1] >= top - HAIR:
                bottom, top = free[k, 0], free[k, 1]
        for k in range(count):
            if k != i and laid[k, 0] == b:
                if laid[k, 1] >= laid[i, 2] - HAIR:
                    top = min(top, laid[k, 1])
                else:
                    bottom = max(bottom, laid[k, 2])
        more = min(area, max(0.0, top - laid[i, 2]) / rate[b])
        laid[i, 2] += more * rate[b]
        area -= more
        more = min(area, max(0.0, laid[i, 1] - bottom) / rate[b])
        laid[i, 1] -= more * rate[b]
        area -= more
    return area if area > HAIR else 0.0


@part
def _joined(laid: Floats, count: int) -> int:
    """Pieces of one bed that touch made one; how many are left."""
    i = 0
    while i < count:
        k = i + 1
        while k < count:
            touch = min(laid[i, 2], laid[k, 2]) - max(laid[i, 1], laid[k, 1]) >= -HAIR
            if laid[i, 0] == laid[k, 0] and touch:
                laid[i, 1], laid[i, 2] = min(laid[i, 1], laid[k, 1]), max(laid[i, 2], laid[k, 2])
                count -= 1
                laid[k, 0], laid[k, 1], laid[k, 2] = laid[count, 0], laid[count, 1], laid[count, 2]
                k = i + 1
            else:
                k += 1
        i += 1
    return count


@compiled(
    "Tuple((f8, i8))(i8, f8, f8[::1], i8, i8[::1], f8[::1], f8[::1], b1[:, ::1], b1[:, ::1], i8[::1], "
    "i8[::1], i8[:, ::1], f8[:, ::1], f8[:, ::1], i8[::1], f8[:, :, ::1], f8[:, :, ::1], f8[:, :, ::1], "
    "f8[:, ::1], f8[:, ::1])"
)
def split(
    s: int, area: float, least: Floats, pieces: int, beds: Ints, length: Floats, rate: Floats, barred: Bools,
    near: Bools, start: Ints, end: Ints, stay: Ints, low: Floats, high: Floats, count: Ints, work: Floats,
    rooms: Floats, tables: Floats, some: Floats, laid: Floats,
) -> tuple[float, int]:
    """So many m² of a stay laid in few pieces, none under the `least` m² of its bed, where its family may
    grow, then where it may not, then beside its pieces; m² for which there is no room, and how many pieces
    (bed, from, to) are `laid`, of which so many were before. `rooms`, `tables` and `some` are to work in
    (`room_to_split`)."""
    free, clean, tired, good, bad = work[0], work[1], work[2], rooms[0], rooms[1]
    goods = bads = 0
    for b in beds:
        open_to, found = _room(
            s, b, length[b], barred[s, b], near[s], start, end, stay, low, high, count, work
        )
        for i in range(found):
            good[goods, 0], good[goods, 1], good[goods, 2] = b, clean[i, 0], clean[i, 1]
            goods += 1
        for i in range(_without(free, open_to, clean, found, tired)):
            bad[bads, 0], bad[bads, 1], bad[bads, 2] = b, tired[i, 0], tired[i, 1]
            bads += 1
    area, pieces = _fill(area, least, good, goods, rate, laid, pieces, some, tables)
    area, pieces = _fill(area, least, bad, bads, rate, laid, pieces, some, tables)
    if area > HAIR:
        area = _widen(
            s, area, length, rate, laid, pieces, near[s], start, end, stay, low, high, count, work
        )
    return area, _joined(laid, pieces)


def room_to_split(stretches: int) -> tuple[Floats, Floats, Floats, Floats]:
    """`rooms`, `tables`, `some` and `laid` of `split` where no more stretches than so many can be open."""
    pieces = 16 * stretches + 16
    return (np.empty((2, stretches, 3)), np.empty((3, pieces + 2, 2)), np.empty((stretches + pieces, 3)),
            np.empty((pieces, 3)))


@part
def _within(stretches: Floats, count: int, low: float, high: float) -> float:
    """Metres between two points that stretches cover, which may touch or overlap."""
    metres = 0.0
    i = 0
    while i < count:
        start, end = stretches[i, 0], stretches[i, 1]
        i += 1
        while i < count and stretches[i, 0] <= end + HAIR:
            end = max(end, stretches[i, 1])
            i += 1
        from_, to = max(start, low), min(end, high)
        if to - from_ > HAIR:
            metres += to - from_
    return metres


@compiled("f8(i8, b1[:, ::1], b1[:, ::1], i8[:, ::1], f8[:, ::1], f8[:, ::1], i8[::1], f8[:, :, ::1])")
def breached(
    b: int, barred: Bools, elder: Bools, stay: Ints, low: Floats, high: Floats, count: Ints, work: Floats
) -> float:
    """Metres of a bed's pieces on which their family came back too soon."""
    found, n, before = 0.0, count[b], work[0]
    for i in range(n):
        if barred[stay[b, i], b]:
            found += high[b, i] - low[b, i]
            continue
        k = 0
        for o in range(n):
            if elder[stay[b, i], stay[b, o]]:
                before[k, 0], before[k, 1] = low[b, o], high[b, o]
                k += 1
        _in_order(before, k)
        found += _within(before, k, low[b, i], high[b, i])
    return found


@compiled("void(i8, i8, f8, i8[:, ::1], f8[:, ::1], f8[:, ::1], i8[::1])")
def remove(s: int, b: int, at: float, stay: Ints, low: Floats, high: Floats, count: Ints) -> None:
    """Take out the piece of a stay that begins `at` so many metres; the others keep their order."""
    n = count[b]
    i = 0
    while i < n and (stay[b, i] != s or low[b, i] != at):
        i += 1
    for k in range(i + 1, n):
        stay[b, k - 1], low[b, k - 1], high[b, k - 1] = stay[b, k], low[b, k], high[b, k]
    if i < n:
        count[b] -= 1
