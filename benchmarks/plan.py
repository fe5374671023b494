"""Speed and proven gap of the planner's core on invented tasks, beside one big mixed-integer model.

Run: PYTHONPATH=src:tests/plan python benchmarks/plan.py [--big SECONDS] [household|market|cooperative ...]
Prints a line a task for plan.md; every stage goes to standard error.
"""

from __future__ import annotations

import argparse
import os
import resource
import sys
import time
from dataclasses import dataclass, field

import numpy as np
from sowing_cases import household

from evenpick.plan.kept import Exact
from evenpick.plan.make import Effort, News, Plan, make_plan
from evenpick.plan.request import Request
from evenpick.plan.solver import INF, Answer, Model, SolverFailed

SIZES = {  # items, years, weeks, scale of wants and ground, days between sowings in weeks
    "household": (15, 30, 70, 1.0, 1), "market": (40, 30, 70, 10.0, 1), "cooperative": (60, 30, 70, 80.0, 1),
}


@dataclass
class Trace:
    """Seconds at which a plan was first there and each gap first proven."""

    first: float = INF
    proven: dict[float, float] = field(default_factory=dict)

    def tell(self, news: News) -> None:
        print(f"  {news.seconds:7.1f} s  {news.stage:10s} plan {news.value:9.2f}  bound {news.bound:9.2f}"
              f"  gap {news.gap:6.2%}", file=sys.stderr, flush=True)
        if news.stage not in ("sounding", "proof"):
            self.first = min(self.first, news.seconds)
        for gap in (0.05, 0.02, 0.01):
            if news.gap <= gap:
                self.proven.setdefault(gap, news.seconds)


def big_model(request: Request, seconds: float) -> Answer:
    """Everything at once: areas, sowings, and in every year kilograms from cells to layers of each week."""
    task, c = Exact.of(request), request.candidates
    n, years = len(c), request.years
    costs, uppers, rows = [c.cost, c.trouble], [c.most, np.ones(n)], []
    lows, highs = [np.full(n, -INF), np.zeros(n)], [np.zeros(n), np.full(n, INF)]
    for factor in (-c.most, -c.least):
        rows += [(np.array([j, n + j]), np.array([1.0, factor[j]])) for j in range(n)]
    at = 2 * n
    for row in range(len(task.rows.limit)):
        own = task.rows.row == row
        rows.append((task.rows.candidate[own], task.rows.coefficient[own]))
    lows.append(np.full(len(task.rows.limit), -INF))
    highs.append(task.rows.limit)
    for part in task.parts:
        at = _item(part, at, years, request, costs, uppers, rows, lows, highs)
    model = Model(np.concatenate(costs), np.zeros(at), np.concatenate(uppers), request.seed)
    starts = np.concatenate([[0], np.cumsum([len(own) for own, _ in rows])[:-1]])
    model.add_rows(np.concatenate(lows), np.concatenate(highs), starts,
                   np.concatenate([own for own, _ in rows]), np.concatenate([value for _, value in rows]))
    model.set_integer(n + np.arange(n))
    return model.solve_integer(10**9, 1e-4, seconds)


def _item(part, at, years, request, costs, uppers, rows, lows, highs):  # type: ignore[no-untyped-def]
    """Columns: loss, threshold of the worst years, excess by year, then kilograms; rows for each."""
    own, r = part.losses, part.losses.request
    cells, s, weight = own.cells, r.supply, float(own.weight[0])
    threshold, excess, loss = at, at + 1 + np.arange(years), at + 1 + years + np.arange(years)
    lam, tail = request.risk_share, request.risk_tail
    costs += [np.array([lam]), np.full(years, lam / (tail * years)), np.full(years, (1 - lam) / years)]
    uppers += [np.full(1 + 2 * years, INF)]
    at += 1 + 2 * years
    spans = cells.last - cells.ripe + 1
    cell = np.repeat(np.arange(len(spans)), spans)
    week = cells.ripe[cell] + np.arange(len(cell)) - np.repeat(np.cumsum(spans) - spans, spans)
    layers, year = len(r.levels), cells.column
    flow = at + np.arange(len(cell) * layers).reshape(len(cell), layers)
    costs.append(np.zeros(flow.size))
    uppers.append(np.full(flow.size, INF))
    at += flow.size
    bounds = []
    entries = np.argsort(cells.of, kind="stable")
    first = np.searchsorted(cells.of[entries], np.arange(len(spans) + 1))
    firsts = np.cumsum(np.append(0, spans))
    for k in range(len(spans)):  # what is taken of a cell ≤ what ripens in it
        e = entries[first[k] : first[k + 1]]
        taken = flow[firsts[k] : firsts[k + 1]].ravel()
        rows.append((np.concatenate([taken, part.members[s.candidate[e]]]),
                     np.concatenate([np.ones(len(taken)), -s.kg[e]])))
        bounds.append((-INF, 0.0))
    wants = np.diff(r.levels, prepend=0.0)[:, None] * r.wanted[0]
    spare = r.spare_weight * weight
    for y in range(years):
        here = np.flatnonzero(year[cell] == y)
        for w in np.unique(week[here]):
            for k in range(layers):
                own_flow = flow[here[week[here] == w], k]
                rows.append((own_flow, np.ones(len(own_flow))))
                bounds.append((-INF, float(wants[k, w])))
        mine = flow[here]
        ripe = own.ripe_per_m2[:, y]
        rows.append((np.concatenate([[loss[y]], mine.ravel(), part.members]), np.concatenate(
            [[1.0], np.tile(weight * np.array(r.values) + spare, len(mine)), -spare * ripe])))
        bounds.append((float(own.all_lost[0]), INF))
        rows.append((np.array([excess[y], loss[y], threshold]), np.array([1.0, -1.0, 1.0])))
        bounds.append((0.0, INF))
    lows.append(np.array([a for a, _ in bounds]))
    highs.append(np.array([b for _, b in bounds]))
    return at


def measured(name: str, big_seconds: float) -> str:
    items, years, weeks, scale, every = SIZES[name]
    request = household(items, years, weeks, scale=scale, every=every)
    trace = Trace()
    began, before = time.perf_counter(), os.times()
    plan = make_plan(request, Effort(progress=trace.tell))
    spent, after = time.perf_counter() - began, os.times()
    own = after.user + after.system - before.user - before.system
    others = (after.children_user + after.children_system
              - before.children_user - before.children_system)
    memory = sum(resource.getrusage(who).ru_maxrss
                 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)) / 1024
    proven = (f"{trace.proven[g]:.0f}" if g in trace.proven else "–" for g in (0.05, 0.02, 0.01))
    cells = (name, items, len(request.candidates), years, len(request.supply.kg), f"{trace.first:.1f}",
             *proven, f"{spent:.1f}", f"{own:.1f} + {others:.1f}", f"{plan.gap:.2%}", f"{memory:.0f}",
             _big(request, plan, big_seconds))
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def _big(request: Request, plan: Plan, seconds: float) -> str:
    """The big model's cost and bound after the same task; gaps by what is at stake for the planner."""
    if not seconds:
        return "not run"
    began = time.perf_counter()
    try:
        answer = big_model(request, seconds)
    except SolverFailed as failed:
        return f"no answer: {failed}"
    spent = time.perf_counter() - began
    value = "no plan" if answer.x is None else f"plan {answer.value:.2f}"
    return f"{value}, bound {answer.bound:.2f} in {spent:.0f} s (planner {plan.value:.2f}, {plan.bound:.2f})"


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--big", type=float, default=0.0, help="seconds for the big model; 0 leaves it out")
    asked.add_argument("task", nargs="*", default=["household", "market"])
    given = asked.parse_args()
    print("| task | items | candidates | years | supply entries | first plan s | 5 % s | 2 % s | 1 % s "
          "| in all s | processor s, own + its two processes | gap "
          "| peak MB, planner and its largest process | one big model |")
    print("|---" * 14 + "|", flush=True)
    for name in given.task:
        print(measured(name, given.big), flush=True)


if __name__ == "__main__":
    main()
