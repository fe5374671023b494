"""Speed and proven gap of the planner: gardens of real crops in real weather, and harder invented tasks.

Run: PYTHONPATH=src:tests/plan python benchmarks/plan.py [--big SECONDS] [--seconds LIMIT]
         [household.toml|market.toml|household.toml:made|market.toml:made|cooperative/cooperative.toml
          |household|market|cooperative ...]
Prints a line a task for plan.md; every stage goes to standard error. A garden (a file beside this one) is
measured twice: its task, made as `evenpick plan` makes it, in the core, and the command from its start.
`--big` gives one big mixed-integer model so many seconds at each task.
"""

from __future__ import annotations

import argparse
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from sowing_cases import household

from evenpick.plan.effort import Effort, News
from evenpick.plan.make import make_plan
from evenpick.plan.request import Request
from evenpick.plan.solver import INF, Answer, SolverFailed
from evenpick.service.cooperative_files import cooperative_of
from evenpick.service.farm_tasks import tasks_of_farms
from evenpick.service.planning import first_day, task_of
from evenpick.service.setups import garden_of, setup_text
from evenpick.service.solving import Watch
from evenpick.service.standing import UnderWay
from extensive import extensive

SIZES = {  # items, years, weeks, scale of wants and ground, days between sowings in weeks
    "household": (15, 30, 70, 1.0, 1), "market": (40, 30, 70, 10.0, 1), "cooperative": (60, 30, 70, 80.0, 1),
}
MADE = ":made"
"""of a garden's name: moved near Cambridge, far from packaged records, where sixty weather years are made of
a station's monthly figures and thirty of them planned on"""
MOVED = 'at = "52.2, 0.1"\nheight = "12 m"'
FARMS = "cooperative/cooperative.toml"
GARDENS = ("household.toml", "market.toml", f"household.toml{MADE}", f"market.toml{MADE}", FARMS)
GAPS = (0.05, 0.02, 0.01)
ROUNDS = 12  # of branching: half as many again as the command has
TOLD = re.compile(r"proven within ([0-9.]+) %")


@dataclass
class Trace:
    """Seconds, and processor seconds of all processes, at which a plan was first there (gap 1) and each gap
    was first proven."""

    began: float = field(default_factory=lambda: processor_seconds())
    at: dict[float, tuple[float, float]] = field(default_factory=dict)
    told: list[News] = field(default_factory=list)

    def tell(self, news: News) -> None:
        spent = processor_seconds() - self.began
        print(f"  {news.seconds:7.1f} s ({spent:7.1f})  {news.stage:10s} plan {news.value:9.2f}"
              f"  bound {news.bound:9.2f}  gap {news.gap:6.2%}", file=sys.stderr, flush=True)
        for gap in (1.0, *GAPS):
            if news.gap <= gap and news.stage != "sounding":
                self.at.setdefault(gap, (news.seconds, spent))
        self.told.append(news)

    def words(self, gap: float) -> str:
        return "{:.1f} ({:.0f})".format(*self.at[gap]) if gap in self.at else "–"

    def by(self, seconds: float) -> str:
        """The gap proven by then."""
        return next((f"{n.gap:.2%}" for n in reversed(self.told) if n.seconds <= seconds), "–")


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


def request_of(name: str) -> Request:
    """Of a garden's file beside this one, as the command makes it; else of an invented task."""
    if name not in GARDENS:
        items, years, weeks, scale, every = SIZES[name]
        return household(items, years, weeks, scale=scale, every=every)
    with tempfile.TemporaryDirectory() as folder:
        path = garden_file(name, folder)
        if name == FARMS:
            described = cooperative_of(path)
            return tasks_of_farms(described, first_day(described.gardens[0], None), Watch(None))[1].request
        garden = garden_of(path, setup_text(path))
    return task_of(garden, "", first_day(garden, None), UnderWay(), Watch(None)).work.request


def garden_file(name: str, folder: str) -> Path:
    """A garden's file, copied; a cooperative's with those of its farms."""
    if name == FARMS:
        shutil.copytree((Path(__file__).parent / name).parent, folder, dirs_exist_ok=True)
        return Path(folder, Path(name).name)
    source = Path(__file__).with_name(name.removesuffix(MADE))
    text, path = source.read_text(encoding="utf-8"), Path(folder, source.name)
    if name.endswith(MADE):
        text, changed = re.subn(r"(?m)^at = .*\nheight = .*\nweather = .*$", MOVED, text)
        assert changed == 1
    path.write_text(text, encoding="utf-8")
    return path


def command(name: str) -> str:
    """Seconds from the start of `evenpick plan` to a first plan, to 2 % and to its end; the gap told."""
    first = near = last = "–"
    with tempfile.TemporaryDirectory() as folder:
        garden = garden_file(name, folder)
        began = time.perf_counter()
        run = subprocess.Popen(
            [sys.executable, "-m", "evenpick", "plan", "--garden", garden, "--json"], text=True,
            stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
        )
        assert run.stderr is not None
        for line in run.stderr:
            print(f"  {time.perf_counter() - began:7.1f} s  {line.rstrip()}", file=sys.stderr, flush=True)
            if (told := TOLD.search(line)) and float(told[1]) < 100:
                spent, last = f"{time.perf_counter() - began:.1f}", f"{told[1]} %"
                first = spent if first == "–" else first
                near = spent if near == "–" and float(told[1]) <= 2 else near
        if run.wait():
            return "failed"
    return f"{first} / {near} / {time.perf_counter() - began:.1f}, {last}"


def measured(name: str, big_seconds: float, seconds: float) -> str:
    request = request_of(name)
    trace = Trace()
    began, before = time.perf_counter(), os.times()
    plan = make_plan(request, Effort(progress=trace.tell, seconds=seconds, branch_rounds=ROUNDS))
    spent, after = time.perf_counter() - began, os.times()
    own = after.user + after.system - before.user - before.system
    others = (after.children_user + after.children_system
              - before.children_user - before.children_system)
    memory = sum(resource.getrusage(who).ru_maxrss
                 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)) / 1024
    cells = (name, len(request.items), len(request.candidates), request.years, len(request.supply.kg),
             *(trace.words(gap) for gap in (1.0, *GAPS)), trace.by(20.0), trace.by(60.0),
             f"{spent:.0f} ({own:.0f} + {others:.0f})",
             f"{plan.value:.2f}", f"{plan.bound:.2f}", f"{plan.nothing:.2f}",
             f"{plan.gap:.2%}{'' if plan.whole else ', cut short'}", f"{memory:.0f}",
             f"{os.getloadavg()[0]:.1f}", command(name) if name in GARDENS else "",
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
    asked.add_argument("task", nargs="*", default=[*GARDENS, *SIZES])
    given = asked.parse_args()
    columns = ("task", "items", "candidates", "years", "supply entries", "first plan",
               *(f"{gap:.0%} proven" for gap in GAPS), "gap by 20 s", "by 60 s",
               "in all", "plan", "bound", "nothing sown", "gap",
               "peak MB, planner and its largest process", "load",
               "command: first plan / 2 % / its end, gap", "one big model")
    print("| " + " | ".join(columns) + " |")
    print("|---" * len(columns) + "|", flush=True)
    for name in given.task:
        print(measured(name, given.big, given.seconds), flush=True)


if __name__ == "__main__":
    main()
