"""Descent over whole sowings of one item: drop, resize, move, split, merge, add (planner.md, 9).

Hundreds of moves are weighed at once by a queue that uses what ripened first; it is exact where what
ripens later never goes over earlier. The move taken is always confirmed by the exact loss.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.random import Generator

from evenpick.base.arrays import Bools, Floats
from evenpick.plan.ground import GroundRows
from evenpick.plan.moves import Moves, joined, paired_moves, single_moves
from evenpick.plan.parts import Part
from evenpick.plan.settled import Settled

REACHES = (14, 35)  # days a sowing may move; the farther only when nothing nearer pays
TRIES = 3  # moves put to the exact test in vain before others are weighed, or the descent ends
LOOKED_AT = 400  # of the moves weighed, from the best
APART = 21  # days between moves taken at once
KEPT = 0.8  # of what it was weighed at: what a further move taken at once must gain
AROUND = 45  # days round a kick in which its descent looks
ANY = 0.1  # sowings' worth of likelihood that all candidates share alike
GAIN = 1e-5  # of the item's stake: smaller betterments end a descent


@dataclass(frozen=True, slots=True)
class Room:
    """What one item's areas may take of the ground: taken @ x ≤ free; and their cost per m²."""

    taken: Floats
    free: Floats
    per_m2: Floats
    by_member: Floats
    """`taken`, a row for each candidate"""
    settled: Settled | None = None

    @classmethod
    def of(cls, taken: Floats, free: Floats, per_m2: Floats, settled: Settled | None = None) -> Room:
        return cls(taken, free, per_m2, np.ascontiguousarray(taken.T), settled)

    def fitting(self, x: Floats) -> Floats:
        """The largest area each candidate could have beside the others' areas in x."""
        left = (self.free - self.taken @ x)[:, None]
        more = np.divide(left, self.taken, out=np.full(self.taken.shape, np.inf), where=self.taken > 0)
        return np.asarray(x + np.maximum(more.min(axis=0, initial=np.inf), 0.0))


def room_left(
    part: Part, rows: GroundRows, x: Floats, cost: Floats, settled: Settled | None = None
) -> Room:
    """The ground that the other items' areas in x (whole request's order, as `settled`) leave to this one."""
    others = x.copy()
    others[part.members] = 0.0
    mine = np.full(len(x), -1, dtype=np.int64)
    mine[part.members] = np.arange(part.size)
    own = mine[rows.candidate] >= 0
    touched, row = np.unique(rows.row[own], return_inverse=True)
    taken = np.zeros((len(touched), part.size))
    taken[row, mine[rows.candidate[own]]] = rows.coefficient[own]
    free = np.maximum(rows.limit - rows.used(others), 0.0)[touched]
    return Room.of(taken, free, cost[part.members], None if settled is None else settled.of(part.members))


def room_at_prices(part: Part, cost: Floats) -> Room:
    """No ground rows; `cost` (whole request's order) has the charges in it."""
    return Room.of(np.zeros((0, part.size)), np.zeros(0), cost[part.members])


def queue_losses(part: Part, x: Floats, moves: Moves) -> Floats:
    """Losses after each move from areas x under the risk measure; see the module's note."""
    from evenpick.plan import loops

    own, made = part.losses, np.flatnonzero(x > 0)
    r = own.request
    share = x[made].astype(np.float32)
    ripe = np.einsum("j,wjy->wy", share, part.arrived[:, made])
    gone = np.einsum("j,wjy->wy", share, part.expired[:, made])
    want = own.demand.reshape(r.weeks, own.layers, r.years).astype(np.float32)
    spare = r.spare_weight * own.weight[0]
    losses, week = np.empty((len(moves), r.years)), np.empty((2, r.years), np.float32)
    way, now = np.zeros((2, *want.shape), np.float32), np.empty((2, *want.shape[1:]), np.float32)
    loops.moved(
        part.arrived, part.expired, part.first, ripe, gone, want, own.lost[0], own.gain[0], spare, moves.at,
        moves.more.astype(np.float32), moves.off, moves.less.astype(np.float32), way, now, week, losses,
    )
    counted = own.counted(losses)
    return np.asarray((own.year_weights(counted) * counted).sum(axis=1))


@dataclass(frozen=True, slots=True)
class Step:
    """Areas on the way of a descent, with their exact cost at the room's cost per m²."""

    x: Floats
    cost: float


def descend(part: Part, room: Room, x: Floats, steps: int, within: Bools | None = None) -> list[Step]:
    """Steepest descent from areas x of the part, by changes `within` some candidates (None: all): every plan
    on the way, x first and the best last."""
    way = [Step(x, part_cost(part, room, x))]
    for _ in range(steps if part.size else 0):
        found = _better(part, room, way[-1], within)
        if found is None:
            break
        way.append(found)
    return way


@dataclass(frozen=True, slots=True)
class Likely:
    """How likely each of a part's candidates is to be worth making, and its area then, m²."""

    share: Floats
    area: Floats


def kicked(
    part: Part, room: Room, x: Floats, kicks: int, steps: int, chance: Generator, likely: Likely
) -> list[Step]:
    """Descents from the best areas so far after one to three of its sowings were dropped and up to two others
    made, at random; the betterments, the best last. Every other kick, and its descent, is about some day."""
    way, least = descend(part, room, x, steps)[-1:], GAIN * float(part.losses.all_lost[0])
    for k in range(kicks if part.size else 0):
        after, within = (_near if k % 2 else _anywhere)(part, way[-1].x, chance, likely)
        found = descend(part, room, after, steps, within)[-1]
        if found.cost < way[-1].cost - least:
            way.append(found if within is None else descend(part, room, found.x, steps)[-1])
    return way


def _anywhere(part: Part, x: Floats, chance: Generator, likely: Likely) -> tuple[Floats, None]:
    """Areas after a kick of sowings of any days."""
    made = np.flatnonzero(x > 0)
    after, off = x.copy(), min(len(made), int(chance.integers(1, 4)))
    after[chance.choice(made, off, replace=False)] = 0.0
    return _with_new(part, after, x == 0, chance, likely), None


def _near(part: Part, x: Floats, chance: Generator, likely: Likely) -> tuple[Floats, Bools]:
    """Areas after a kick of sowings about some day, and the candidates thereabouts."""
    day, made = part.losses.request.candidates.day, np.flatnonzero(x > 0)
    centre = int(chance.choice(made if len(made) else part.size))
    far = np.abs(day - day[centre])
    after = x.copy()
    after[made[np.argsort(far[made], kind="stable")][: int(chance.integers(1, 4))]] = 0.0
    within = far <= AROUND
    return _with_new(part, after, within & (x == 0), chance, likely), within | (after != x)


def _with_new(part: Part, x: Floats, among: Bools, chance: Generator, likely: Likely) -> Floats:
    """Up to two sowings more, the likely ones more often."""
    c, share = part.losses.request.candidates, np.where(among, likely.share + ANY / part.size, 0.0)
    count = min(int(chance.integers(0, 3)), int(np.count_nonzero(among)))
    if count:
        new = chance.choice(part.size, count, replace=False, p=share / share.sum())
        x[new] = np.clip(likely.area[new], c.least[new], c.most[new])
    return x


def part_cost(part: Part, room: Room, x: Floats) -> float:
    """Exact cost of one item's areas."""
    trouble = part.losses.request.candidates.trouble
    cost = float(part.losses.items(x)[0] + trouble @ (x > 0) + room.per_m2 @ x)
    return cost if room.settled is None else cost + room.settled.cost(x)


def _better(part: Part, room: Room, now: Step, within: Bools | None) -> Step | None:
    """After the moves that pay; the farther ones are looked at when no other pays."""
    c = part.losses.request.candidates
    moves = [single_moves(now.x, c.least, c.most, room.fitting(now.x))]
    for reach in REACHES:
        moves.append(paired_moves(now.x, c.least, c.most, c.day, reach))
        some = moves if within is None else [m.pick(within[m.at] & within[m.off]) for m in moves]
        after = _made(part, room, now, [weighed(part, room, now.x, m) for m in some])
        if after is not now:
            return after
        moves.clear()
    return None


def _made(part: Part, room: Room, now: Step, weighed: list[tuple[Floats, Moves]]) -> Step:
    """After the best move that pays by its exact cost, and others far from it that still keep their worth."""
    costs = np.concatenate([cost for cost, _ in weighed])
    moves = joined([(m.at, m.more, m.off, m.less) for _, m in weighed])
    day = part.losses.request.candidates.day
    least = GAIN * float(part.losses.all_lost[0])
    after, tries = now, 0
    best = np.argsort(costs, kind="stable")[:LOOKED_AT]
    days, gain = day[np.stack([moves.at[best], moves.off[best]])], now.cost - costs[best]
    left_out = np.zeros(len(best), dtype=np.bool_)
    for k, n in enumerate(best.tolist()):
        if left_out[k]:
            continue
        if tries == TRIES:
            break
        trial = moves.made(after.x, n)
        tries += 1
        if not (room.taken @ trial <= room.free + 1e-9).all():
            continue
        cost = part_cost(part, room, trial)
        if after.cost - cost > (least if after is now else KEPT * gain[k]):
            after, tries = Step(trial, cost), 0
            left_out |= (gain < least) | (np.abs(days[:, None] - days[:, k, None]) < APART).any(axis=(0, 1))
    return after


def weighed(part: Part, room: Room, x: Floats, moves: Moves) -> tuple[Floats, Moves]:
    """The moves there is ground for, and what the queue makes them cost."""
    from evenpick.plan import loops

    free, fits = room.free - room.taken @ x + 1e-9, np.empty(len(moves), dtype=np.bool_)
    loops.fitting(room.by_member, free, moves.at, moves.more, moves.off, moves.less, fits)
    moves = moves.pick(fits)
    trouble = part.losses.request.candidates.trouble
    new = (x[moves.at] == 0) & (moves.more > 0)
    gone = (moves.less > 0) & (x[moves.off] - moves.less <= 1e-12)
    dropped = (moves.more < 0) & (x[moves.at] + moves.more <= 1e-12)
    outlay = trouble @ (x > 0) + room.per_m2 @ x + trouble[moves.at] * (new * 1.0 - dropped)
    outlay -= trouble[moves.off] * gone
    outlay += room.per_m2[moves.at] * moves.more - room.per_m2[moves.off] * moves.less
    if room.settled is not None:
        outlay += room.settled.cost_of_moves(x, moves)
    return queue_losses(part, x, moves) + outlay, moves
