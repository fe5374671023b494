"""Descent over whole sowings of one item: drop, resize, move, split, merge, add (planner.md, 9).

Hundreds of moves are weighed at once by a queue that uses what ripened first; it is exact where what
ripens later never goes over earlier. The move taken is always confirmed by the exact loss.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.ground import GroundRows
from evenpick.plan.parts import Part

BATCH = 256
NEAR = 35  # days
TRIES = 3  # moves put to the exact test before a descent ends
GAIN = 1e-5  # of the item's stake: smaller betterments end a descent


@dataclass(frozen=True, slots=True)
class Room:
    """What one item's areas may take of the ground: taken @ x ≤ free; and their cost per m²."""

    taken: Floats
    free: Floats
    per_m2: Floats

    def holds(self, trials: Floats) -> Bools:
        return np.asarray((trials @ self.taken.T <= self.free + 1e-9).all(axis=1))

    def fitting(self, x: Floats) -> Floats:
        """The largest area each candidate could have beside the others' areas in x."""
        left = (self.free - self.taken @ x)[:, None]
        more = np.divide(left, self.taken, out=np.full(self.taken.shape, np.inf), where=self.taken > 0)
        return np.asarray(x + np.maximum(more.min(axis=0, initial=np.inf), 0.0))


def room_left(part: Part, rows: GroundRows, x: Floats, cost: Floats) -> Room:
    """The ground that the other items' areas in x (whole request's order) leave to this one."""
    others = x.copy()
    others[part.members] = 0.0
    taken = np.zeros((len(rows.limit), len(x)))
    taken[rows.row, rows.candidate] = rows.coefficient
    return Room(taken[:, part.members], np.maximum(rows.limit - rows.used(others), 0.0), cost[part.members])


def room_at_prices(part: Part, cost: Floats) -> Room:
    """No ground rows; `cost` (whole request's order) has the charges in it."""
    return Room(np.zeros((0, part.size)), np.zeros(0), cost[part.members])


def queue_losses(part: Part, trials: Floats) -> Floats:
    """Losses of trials (trials, candidates) under the risk measure; see the module's note."""
    return np.concatenate([_queue(part, trials[a : a + BATCH]) for a in range(0, len(trials), BATCH)])


def _queue(part: Part, trials: Floats) -> Floats:
    own = part.losses
    r = own.request
    used = np.flatnonzero(trials.any(axis=0))
    few = trials[:, used]
    flow = np.zeros((own.layers, len(trials), r.years))
    gone = np.zeros_like(flow)
    demand = own.demand.reshape(r.weeks, own.layers, r.years)[:, :, None, :]
    arrived, expired = own.arrived[:, used], own.expired[:, used]
    for w in range(r.weeks):
        base = np.maximum(gone, few @ expired[w])
        gone = np.minimum(base + demand[w], few @ arrived[w])
        flow += gone - base
    ripe = few @ own.ripe_per_m2[used]
    losses = own.all_lost[0] - np.einsum("k,kmy->my", own.gain[0], flow) + r.spare_weight * own.weight[0] * ripe
    return np.asarray((own.year_weights(losses) * losses).sum(axis=1))


def moves(x: Floats, least: Floats, most: Floats, day: Ints, fitting: Floats) -> Floats:
    """Neighbours of areas x, one per row, every area nought or within its bounds; sowings move by up to
    `NEAR` days. `fitting` is the largest area each could have beside the others."""
    n, made = len(x), np.flatnonzero(x > 0)
    every = np.arange(n)
    blocks = []
    for size in (0.2 * most, 0.45 * most, 0.8 * most, np.minimum(fitting, most)):  # add
        block = np.tile(x, (n, 1))
        block[every, every] = np.maximum(x, np.clip(size, least, most))
        blocks.append(block)
    for j in made:
        resized = np.tile(x, (5, 1))
        resized[:, j] = np.array([0.0, *np.clip(np.array([0.65, 0.85, 1.2, 1.6]) * x[j], least[j], most[j])])
        blocks.append(resized)
        for leave, take in ((0.0, 1.0), (0.0, 1.4), (0.5, 0.5), (0.7, 0.6)):  # move, move more, split, thin
            near = np.flatnonzero((np.abs(day - day[j]) <= NEAR) & (every != j))
            block = np.tile(x, (len(near), 1))
            block[:, j] = max(leave * x[j], least[j]) if leave else 0.0
            block[np.arange(len(near)), near] = np.clip(x[near] + take * x[j], least[near], most[near])
            blocks.append(block)
    return np.unique(np.concatenate(blocks), axis=0)


def descend(part: Part, room: Room, x: Floats, steps: int) -> tuple[Floats, float]:
    """Steepest descent from areas x of the part; areas and their exact cost at room's cost per m²."""
    c = part.losses.request.candidates
    stake = float(part.losses.all_lost[0])

    def outlay(trials: Floats) -> Floats:
        return np.asarray((trials > 0) @ c.trouble + trials @ room.per_m2)

    def exact(trial: Floats) -> float:
        return float(part.losses.items(trial)[0] + outlay(trial[None])[0])

    value = exact(x)
    for _ in range(steps):
        trials = moves(x, c.least, c.most, c.day, room.fitting(x))
        trials = trials[room.holds(trials)]
        if not len(trials):
            break
        weighed = queue_losses(part, trials) + outlay(trials)
        for k in np.argsort(weighed, kind="stable")[:TRIES]:
            found = exact(trials[k])
            if found < value - GAIN * stake:
                x, value = trials[k], found
                break
        else:
            break
    return x, value
