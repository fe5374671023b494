"""What a plan made anew costs at household size: the whole command by the clock and its parts, and how far a
mended plan is from one made in full.

    python benchmarks/replan.py          the command and its parts, some times over
    python benchmarks/replan.py full     and the plan in full beside it

Writes nothing; its figures stand in docs/design/season.md. The first run on a machine compiles loops.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from datetime import date
from pathlib import Path
from typing import Any

TODAY = date(2027, 6, 10)
RUNS = 5
KEPT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def carried_out(folder: Path) -> Path:
    """The household's garden and plan, all of it sown up to the day, and half of a radish sowing lost."""
    from evenpick.garden.diary import Lost, Sowed
    from evenpick.service.book import write
    from evenpick.service.planning import make_plan, save_plan

    garden = folder / "garden.toml"
    shutil.copy(Path(__file__).with_name("household.toml"), garden)
    first = make_plan(garden)
    save_plan(garden, first)
    sown = [s for s in first.sowings if s.sow < TODAY]
    facts = [Sowed(s.crop, s.way, s.cover, s.area_m2, planned=s.id) for s in sown]
    entries = write(garden, [(s.sow, fact, "") for s, fact in zip(sown, facts, strict=True)])
    radish = [entry for entry, s in zip(entries, sown, strict=True) if s.crop == "radish"][-1]
    write(garden, [(TODAY, Lost(radish.id, "eaten", 0.5, "slugs"), "")])
    return garden


def copied(garden: Path) -> Path:
    """The same garden and book in a folder of their own: each run mends the same plan."""
    there = Path(tempfile.mkdtemp(dir=garden.parent))
    for file in (garden, garden.with_suffix(".book")):
        shutil.copy(file, there)
    return there / garden.name


def ran(command: list[str], garden: Path) -> tuple[float, float, str]:
    """Seconds by the clock from the start of the process to its end, CPU seconds of it and its helpers, what
    it said."""
    before, began = os.times(), time.perf_counter()
    done = subprocess.run([*command, str(copied(garden))], env=KEPT, check=True, text=True,
                          stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    spent, after = time.perf_counter() - began, os.times()
    used = after.children_user + after.children_system - before.children_user - before.children_system
    return spent, used, done.stdout


class Parts:
    """Seconds by the clock and of this process's CPU, by part, in their order."""

    def __init__(self) -> None:
        self.spent: dict[str, tuple[float, float]] = {}
        self._mark = time.perf_counter(), time.process_time()
        self.spent["Python's start"] = 0.0, self._mark[1]

    def end(self, part: str) -> None:
        """What was done since the last part ended was this."""
        now = time.perf_counter(), time.process_time()
        wall, cpu = self.spent.get(part, (0.0, 0.0))
        self.spent[part] = wall + now[0] - self._mark[0], cpu + now[1] - self._mark[1]
        self._mark = now

    def ends_with(self, module: Any, name: str, part: str, before: str = "") -> None:
        """What a function does is a part, or ends it; what was done before it may be another."""
        work = getattr(module, name)

        def doing(*given: Any, **named: Any) -> Any:
            if before:
                self.end(before)
            done = work(*given, **named)
            self.end(part)
            return done

        setattr(module, name, doing)


def by_parts(garden: Path) -> None:
    """What the command does, in the same order, each part timed; JSON."""
    parts = Parts()
    from evenpick.cli.hands import hands_of

    with hands_of(None) as hands:
        from evenpick.cli import plans
        from evenpick.cli.options import asked, words
        from evenpick.plan import beside
        from evenpick.service import fitted, planning

        parts.end("loading: commands and service")
        say = words(asked({"garden": garden}))
        parts.ends_with(beside, "_load_what_comes_next", "loading: compiled loops, solver",
                        "asking the helper")
        parts.ends_with(planning, "wanted_items", "reading garden, diary, weather")
        for name, part in (
            ("grown_crops", "growing what may be sown"), ("garden_task", "growing what stands; the task"),
            ("solved", "mending"), ("_answer", "measuring"),
        ):
            parts.ends_with(planning, name, part)
        parts.ends_with(fitted, "lie", "laying into beds")
        answer = planning.make_plan(garden, TODAY, mend=True, hands=hands)
    parts.end("ending the helper")
    planning.save_plan(garden, answer)
    parts.end("writing")
    told, sys.stdout = sys.stdout, sys.stderr
    plans.show_plan(answer, say, False)
    sys.stdout = told
    parts.end("telling")
    print(json.dumps(parts.spent))


def timed(garden: Path) -> None:
    whole = sorted(
        ran([sys.executable, "-m", "evenpick", "plan", "--mend", "--on", str(TODAY), "--garden"], garden)[:2]
        for _ in range(RUNS + 1)
    )
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else float("nan")
    print(f"evenpick plan --mend, {RUNS + 1} runs: {whole[0][0]:.2f} s at best, {whole[RUNS // 2][0]:.2f} s "
          f"in the middle; CPU {min(used for _, used in whole):.2f} s with its helper; load {load:.1f}")
    several = [json.loads(ran([sys.executable, __file__, "parts"], garden)[2]) for _ in range(RUNS)]
    for part in several[0]:
        wall, cpu = (min(each[part][at] for each in several) for at in range(2))
        print(f"    {part:34} {wall:5.2f} s by the clock, {cpu:5.2f} CPU in this process")
    warm(garden)


def warm(garden: Path) -> None:
    """The same in a process that has everything loaded, as the pages ask it."""
    from evenpick.service.planning import make_plan

    def once() -> tuple[float, float]:
        began = time.perf_counter(), time.process_time()
        make_plan(garden, TODAY, mend=True)
        return time.perf_counter() - began[0], time.process_time() - began[1]

    once()
    several = [once() for _ in range(RUNS)]
    cpu = min(used for _, used in several)
    print(f"asked again of one process: {min(several)[0]:.2f} s at best, CPU {cpu:.2f} s")


def in_full(garden: Path) -> None:
    from evenpick.service.planning import make_plan

    for mend in (True, False):
        began, used = time.perf_counter(), time.process_time()
        plan = make_plan(garden, TODAY, mend=mend)
        print(f"{'mended' if mend else 'in full'}: {time.perf_counter() - began:.1f} s, "
              f"{time.process_time() - used:.1f} CPU in this process; bare {plan.plan.bare:.3f}, "
              f"spare {plan.plan.spare:.3f}, {len(plan.sowings)} sowings, {len(plan.changes)} changes")


def main() -> None:
    if sys.argv[1:2] == ["parts"]:
        by_parts(Path(sys.argv[2]))
        return
    with tempfile.TemporaryDirectory() as folder:
        garden = carried_out(Path(folder))
        timed(garden)
        if sys.argv[1:] == ["full"]:
            in_full(garden)


if __name__ == "__main__":
    main()
