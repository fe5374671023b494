"""Speed and proven gap of the planner's core on invented tasks, beside one big mixed-integer model.

Run: PYTHONPATH=src:tests/plan python benchmarks/plan.py [--big SECONDS] [--seconds LIMIT]
         [household|market|cooperative ...]
Prints a line a task for plan.md; every stage goes to standard error.
"""

from __future__ import annotations

import argparse
import os
import resource
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from sowing_cases import household

from evenpick.plan.make import Effort, News, make_plan
from evenpick.plan.request import Request
from evenpick.plan.solver import INF, Answer, SolverFailed
from extensive import extensive

SIZES = {  # items, years, weeks, scale of wants and ground, days between sowings in weeks
    "household": (15, 30, 70, 1.0, 1), "market": (40, 30, 70, 10.0, 1), "cooperative": (60, 30, 70, 80.0, 1),
}

GAPS = (0.05, 0.02, 0.01)


@dataclass
class Trace:
    """Seconds, and processor seconds of all processes, at which a plan was first there (gap 1) and each gap
    was first proven."""

    began: float = field(default_factory=lambda: processor_seconds())
    at: dict[float, tuple[float, float]] = field(default_factory=dict)

    def tell(self, news: News) -> None:
        spent = processor_seconds() - self.began
        print(f"  {news.seconds:7.1f} s ({spent:7.1f})  {news.stage:10s} plan {news.value:9.2f}"
              f"  bound {news.bound:9.2f}  gap {news.gap:6.2%}", file=sys.stderr, flush=True)
        for gap in (1.0, *GAPS):
            if news.gap <= gap and news.stage != "sounding":
                self.at.setdefault(gap, (news.seconds, spent))

    def words(self, gap: float) -> str:
        return "{:.0f} ({:.0f})".format(*self.at[gap]) if gap in self.at else "–"


def processor_seconds() -> float:
    """Of this process and those it started that still run (Linux); 0 elsewhere."""
    total, here, tick = 0.0, os.getpid(), os.sysconf("SC_CLK_TCK")
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            number, rest = stat.read_text().split(" ", 1)
        except OSError:  # ended meanwhile
            continue
        columns = rest.rpartition(")")[2].split()
        if here in (int(number), int(columns[1])):
            total += (int(columns[11]) + int(columns[12])) / tick
    return total


def big_model(request: Request, seconds: float) -> Answer:
    """Everything at once, branched on by the solver alone."""
    model, n = extensive(request)
    model.set_integer(n + np.arange(n))
    return model.solve_integer(10**9, 1e-4, seconds)


def measured(name: str, big_seconds: float, seconds: float) -> str:
    items, years, weeks, scale, every = SIZES[name]
    request = household(items, years, weeks, scale=scale, every=every)
    trace = Trace()
    began, before = time.perf_counter(), os.times()
    plan = make_plan(request, Effort(progress=trace.tell, seconds=seconds))
    spent, after = time.perf_counter() - began, os.times()
    own = after.user + after.system - before.user - before.system
    others = (after.children_user + after.children_system
              - before.children_user - before.children_system)
    memory = sum(resource.getrusage(who).ru_maxrss
                 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)) / 1024
    cells = (name, items, len(request.candidates), years, len(request.supply.kg),
             *(trace.words(gap) for gap in (1.0, *GAPS)), f"{spent:.0f} ({own:.0f} + {others:.0f})",
             f"{plan.value:.2f}", f"{plan.bound:.2f}", f"{plan.nothing:.2f}",
             f"{plan.gap:.2%}{'' if plan.whole else ', cut short'}", f"{memory:.0f}",
             _big(request, big_seconds))
    return "| " + " | ".join(str(cell) for cell in cells) + " |"


def _big(request: Request, seconds: float) -> str:
    """The big model's cost and bound after the same task."""
    if not seconds:
        return "not run"
    began = time.perf_counter()
    try:
        answer = big_model(request, seconds)
    except SolverFailed as failed:
        return f"no answer: {failed}"
    spent = time.perf_counter() - began
    value = "no plan" if answer.x is None else f"plan {answer.value:.2f}"
    return f"{value}, bound {answer.bound:.2f} in {spent:.0f} s"


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    asked.add_argument("--big", type=float, default=0.0, help="seconds for the big model; 0 leaves it out")
    asked.add_argument("--seconds", type=float, default=INF, help="limit for a task; all the effort without")
    asked.add_argument("task", nargs="*", default=list(SIZES))
    given = asked.parse_args()
    columns = ("task", "items", "candidates", "years", "supply entries", "first plan",
               *(f"{gap:.0%} proven" for gap in GAPS), "in all", "plan", "bound", "nothing sown", "gap",
               "peak MB, planner and its largest process", "one big model")
    print("| " + " | ".join(columns) + " |")
    print("|---" * len(columns) + "|", flush=True)
    for name in given.task:
        print(measured(name, given.big, given.seconds), flush=True)


if __name__ == "__main__":
    main()
