"""What given areas lose, item by item, and the cuts that bound it from below (planner.md, 2 to 5).

A cut of item i says: loss_i ≥ constant − Σ_j (by_sowing_j·z_j + by_area_j·x_j) for every plan with
0 ≤ x ≤ most·z and z 0 or 1. It is valid whatever weeks and year weights it was made from.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.plan.deepest import Alone, deepest_weeks, depth
from evenpick.plan.pickings import Cells, Sweep, gather, gathered, good_weeks, next_good, serve
from evenpick.plan.request import Request

MADE, WHOLE = 1e-7, 1e-6  # m², below it nothing is sown; share, this near to one it is made whole
NUDGE = 1.0 + 1e-9  # evaluates a slope just right of a kink


@dataclass(frozen=True, slots=True)
class Cuts:
    """Cuts by item and year: `constant` (items, years), `by_sowing` and `by_area` (candidates, years)."""

    constant: Floats
    by_sowing: Floats
    by_area: Floats


class Losses:
    """The second stage of a request: exact losses and cuts. Holds arrays made once from the request."""

    def __init__(self, request: Request) -> None:
        r = self.request = request
        self.item = r.candidates.item.copy()  # compiled loops take only arrays that may be written
        self.columns = len(r.items) * r.years
        self.layers = len(r.levels)
        self.weight = np.array([item.weight for item in r.items])
        step = np.array(r.values) - np.append(r.values[1:], 0.0)
        self.gain = np.outer(self.weight, step)  # worth of a kilogram in the flow of each layer
        self.gain[:, -1] += r.spare_weight * self.weight
        self.cells: Cells = gather(r.supply, self.item, len(r.items), r.years, r.weeks)
        share = np.diff(r.levels, prepend=0.0) @ np.array(r.values)
        whole = self.weight * r.wanted.sum(axis=1) * share
        to_be_had = self.weight * np.where(self._in_reach(), r.wanted, 0.0).sum(axis=1) * share
        self.knee: Floats = whole - r.scarce_share * to_be_had
        """loss of an item in a year past which it counts more, (items,)"""
        by_column = np.repeat(r.wanted, r.years, axis=0).T
        self.demand = np.concatenate([level * by_column for level in r.levels], axis=1)
        self.lost = np.repeat(whole[:, None], r.years, axis=1)
        """loss of sowing nothing before `counted`"""
        self.by_rank, self.rest = self._by_rank()
        if r.met is not None:
            self._take_off(r.met, np.outer(self.weight, step))
        nothing = self.counted(self.lost)
        self.all_lost: Floats = (self.year_weights(nothing) * nothing).sum(axis=1)
        self.demand = np.ascontiguousarray(self.demand)
        entry = r.supply.candidate * r.years + r.supply.year
        ripe = np.bincount(entry, r.supply.kg, minlength=len(self.item) * r.years)
        self.ripe_per_m2: Floats = np.asarray(ripe, dtype=np.float64).reshape(-1, r.years)
        self.of_year = (self.item[:, None] * r.years + np.arange(r.years)).ravel()
        self.arrived, self.expired = self._cumulative()

    def _in_reach(self) -> Bools:
        """Weeks in which something that can be sown is ripe in some year, (items, weeks)."""
        r, item = self.request, self.item[self.request.supply.candidate]
        change = np.zeros((len(r.items), r.weeks + 1))
        np.add.at(change, (item, r.supply.ripe), 1.0)
        np.add.at(change, (item, r.supply.last + 1), -1.0)
        return np.asarray(np.cumsum(change, axis=1)[:, :-1] > 0.0)

    def _take_off(self, met: Floats, worth: Floats) -> None:
        """What stands is served first (season.md, 4)."""
        self.demand = np.maximum(self.demand - met.reshape(self.demand.shape), 0.0)
        self.lost = np.maximum(self.lost - np.einsum("ik,wkiy->iy", worth, met), 0.0)

    def counted(self, losses: Floats) -> Floats:
        """Losses, an item in each row, as they count: past the knee more. Convex and rising."""
        scarce = np.maximum(losses - self.knee[:, None], 0.0)
        return np.asarray(losses + self.request.scarce_worth * scarce)

    def _cumulative(self) -> tuple[Floats, Floats]:
        """kg/m² ripened by, and gone before, each week if each candidate's produce goes over in the order
        it ripens; (years, weeks, candidates). Where it does not, `last` is raised: a bound from above."""
        r, s, n = self.request, self.request.supply, len(self.item)
        series = s.candidate * r.years + s.year
        order = np.lexsort((s.ripe, series))
        last = np.minimum(s.last, r.weeks - 1)[order] + series[order] * r.weeks
        raised = np.maximum.accumulate(last) - series[order] * r.weeks
        shape = (r.years, r.weeks, n)
        c, y, kg = s.candidate[order], s.year[order], s.kg[order]
        inside = raised + 1 < r.weeks
        arrived = _summed((y, s.ripe[order], c), kg, shape)
        expired = _summed((y[inside], raised[inside] + 1, c[inside]), kg[inside], shape)
        return np.cumsum(arrived, axis=1, out=arrived), np.cumsum(expired, axis=1, out=expired)

    def amounts(self, x: Floats) -> Floats:
        """kg in each cell for areas x (m² per candidate)."""
        return gathered(self.cells, x)

    def sweep(self, x: Floats) -> Sweep:
        return serve(self.cells, self.amounts(x), self.demand, self.columns)

    def by_year(self, x: Floats, sweep: Sweep) -> Floats:
        """Lost worth plus weighed spare as they count, (items, years)."""
        r = self.request
        flow = sweep.used.sum(axis=0).reshape(self.layers, len(r.items), r.years)
        each = (self.ripe_per_m2 * x[:, None]).ravel()
        ripe = np.bincount(self.of_year, each, self.columns).reshape(len(r.items), r.years)
        saved = np.einsum("ik,kiy->iy", self.gain, flow)
        return self.counted(self.lost - saved + r.spare_weight * self.weight[:, None] * ripe)

    def year_weights(self, losses: Floats) -> Floats:
        """Weights of the years at which the risk measure is attained, (items, years), rows sum to 1."""
        from evenpick.plan import loops

        weights, order = np.empty(losses.shape), np.empty(len(self.by_rank), dtype=np.int64)
        loops.ranked(np.ascontiguousarray(losses), self.by_rank, self.rest, order, weights)
        return weights

    def _by_rank(self) -> tuple[Floats, float]:
        """Weights of the worst years from the worst on, (worst,), and that of each other."""
        r = self.request
        cap = 1.0 / (r.risk_tail * r.years)
        tail = np.clip(1.0 - cap * np.arange(r.years), 0.0, cap)
        each = (1.0 - r.risk_share) / r.years
        return np.asarray(each + r.risk_share * tail[tail > 0.0]), each

    def items(self, x: Floats) -> Floats:
        """Each item's loss under the risk measure, (items,), kg-equivalents."""
        losses = self.by_year(x, self.sweep(x))
        return np.asarray((self.year_weights(losses) * losses).sum(axis=1))

    def cuts(self, x: Floats, z: Floats, pace: Floats) -> tuple[Floats, Cuts]:
        """Exact losses by year at x, and cuts tight there when z is 1 wherever x > 0 (planner.md, 4 and 5).

        `pace`, x/z where a sowing is made and any guess elsewhere, decides where its saturation is taken.
        """
        r = self.request
        sweep = self.sweep(x)
        good = self._deepest(sweep, x, z, pace)
        by_layer = np.where(good, 0.0, self.demand).sum(axis=0).reshape(self.layers, len(r.items), r.years)
        constant = self.lost - np.einsum("ik,kiy->iy", self.gain, by_layer)
        reaching = self._slopes(next_good(good))
        pace = pace * NUDGE
        flow, slope = self._alone(pace, np.where(good, self.demand, 0.0))
        scale = pace[:, None, None]
        # a line is as good as its value at the pace: what reaches good weeks, or what it alone would fill
        straight = reaching * scale <= flow
        slope = np.where(straight, reaching, slope)
        rise = np.where(straight, 0.0, flow - slope * scale)
        worth = self.gain[self.item]
        by_area = np.einsum("jk,jyk->jy", worth, slope)
        by_sowing = np.einsum("jk,jyk->jy", worth, rise)
        by_area -= (r.spare_weight * self.weight[self.item])[:, None] * self.ripe_per_m2
        cuts = Cuts(constant, np.maximum(by_sowing, 0.0), by_area)
        return self.by_year(x, sweep), self._past_knee(cuts, x, z)

    def _past_knee(self, cuts: Cuts, x: Floats, z: Floats) -> Cuts:
        """Cuts of losses as they count, by the line of `counted` higher at (x, z): it rises, so either
        bounds it."""
        r = self.request
        saved = (cuts.by_sowing * z[:, None] + cuts.by_area * x[:, None]).ravel()
        value = cuts.constant - np.bincount(self.of_year, saved, self.columns).reshape(cuts.constant.shape)
        steep = np.where(value > self.knee[:, None], 1.0 + r.scarce_worth, 1.0)
        each = steep[self.item]
        constant = steep * cuts.constant - (steep - 1.0) * self.knee[:, None]
        return Cuts(constant, each * cuts.by_sowing, each * cuts.by_area)

    def _deepest(self, sweep: Sweep, x: Floats, z: Floats, pace: Floats) -> Bools:
        """Good weeks; where sowings of one item are made in part, other weeks that cut deeper than those good
        for all of them together."""
        good, made = good_weeks(sweep), np.flatnonzero(x > MADE)
        if len(self.request.items) > 1 or np.all(z[made] > 1.0 - WHOLE):
            return good
        each = pace[made]
        ripe, gone = (np.take(sums, made, axis=2) * each for sums in (self.arrived, self.expired))
        alone = Alone(ripe, gone, z[made])
        other = deepest_weeks(good, self.demand, alone)
        deeper = depth(other, self.demand, alone) < sweep.used.sum(axis=0)
        return np.where(deeper, other, good)

    def _slopes(self, following: Ints) -> Floats:
        """kg per m² of each candidate that reach a good week; (candidates, years, layers)."""
        c, r, s = self.cells, self.request, self.request.supply
        entry = s.candidate * r.years + s.year
        found = np.empty((len(self.item), r.years, self.layers))
        for k in range(self.layers):
            reaches = following[c.ripe, k * self.columns + c.column] <= c.last
            total = np.bincount(entry, s.kg * reaches[c.of], minlength=self.ripe_per_m2.size)
            found[:, :, k] = total.reshape(self.ripe_per_m2.shape)
        return found

    def _alone(self, pace: Floats, demand: Floats) -> tuple[Floats, Floats]:
        """What each candidate by itself would have used of `demand` at area `pace`, and its slope in area;
        (candidates, years, layers). Queue served in the order of ripening (planner.md, 5)."""
        from evenpick.plan import loops

        r = self.request
        open_to = demand.reshape(r.weeks, self.layers, len(r.items), r.years)
        flow, slope = (np.zeros((len(pace), r.years, self.layers)) for _ in range(2))
        room = np.empty((4, len(pace)))
        loops.alone(open_to, self.item, self.arrived, self.expired, pace, room, flow, slope)
        return flow, slope


def _summed(at: tuple[Ints, ...], kg: Floats, shape: tuple[int, ...]) -> Floats:
    """Amounts added up where they belong in an array of a shape, in their order."""
    cells = np.ravel_multi_index(at, shape)
    return np.asarray(np.bincount(cells, kg, int(np.prod(shape))), dtype=np.float64).reshape(shape)
