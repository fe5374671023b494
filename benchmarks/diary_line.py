"""Seconds that `evenpick log` takes as a process: `python benchmarks/diary_line.py`; writes diary_line.md.

In an INVENTED book of 20,390 entries: 1,200 sowings with their pickings over six years. Processor time as
well as the clock's, the least of ten, for other work on the machine lengthens both; beside it what the bare
interpreter takes there and then.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

from evenpick.garden.diary import CameUp, Cleared, Entry, Fact, Picked, Sowed, Tended, Watered
from evenpick.service.book import keep

TARGET = Path(__file__).with_suffix(".md")
DEMO = Path(__file__).resolve().parents[1] / "src/evenpick/data/demo/garden.toml"
CROPS = ("radish", "early-carrot", "leek", "pea", "chard", "beetroot")
SOWINGS, STANDING, FIRST = 1200, 10, 19000
LINES = ("picked 1.2 kg radish", "watered tunnel", "sowed 4 m parsnips south wall")


def entries() -> list[Entry]:
    made = []
    for number in range(SOWINGS):
        ids = [f"{number:012x}{part:020x}" for part in range(17)]
        day, crop = FIRST + 2 * number, CROPS[number % len(CROPS)]
        made.append(Entry(ids[0], day, Sowed(crop, "direct", "open", 1.0, ground="long beds"), "sowed"))
        facts: list[Fact] = [CameUp(ids[0]), Tended("thinned", ids[0]), Watered(ids[0]), Watered(ids[0])]
        facts += [Picked(crop, ids[0], kg=0.5)] * 11
        made += [
            Entry(ids[part], day + 9 + part, fact, "picked 0.5 kg") for part, fact in enumerate(facts, 1)
        ]
        if number < SOWINGS - STANDING:
            made.append(Entry(ids[16], day + 80, Cleared(ids[0]), "cleared"))
    return made


def least(command: list[str], folder: Path) -> tuple[float, float]:
    """Least processor and clock seconds of ten runs."""
    processor, clock = [], []
    for _ in range(10):
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        subprocess.run(command, cwd=folder, check=False, capture_output=True)
        clock.append(time.perf_counter() - start)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        processor.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(processor), min(clock)


def main() -> None:
    program = str(Path(sys.executable).with_name("evenpick"))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "garden.toml").write_text(DEMO.read_text(encoding="utf-8"), encoding="utf-8")
        kept = keep(folder / "garden.toml", entries())
        commands = {
            "the bare interpreter": [sys.executable, "-c", "pass"],
            "evenpick --help": [program, "--help"],
            **{f'log "{line}"': [program, "log", "--on", "2026-11-20", line] for line in LINES},
            "log (the last ten)": [program, "log"],
        }
        rows = [
            f"| {what} | {cpu:.3f} | {clock:.3f} |"
            for what, (cpu, clock) in ((what, least(run, folder)) for what, run in commands.items())
        ]
    load = ", ".join(f"{part:.1f}" for part in os.getloadavg())
    text = [
        "# A line of the diary, seconds",
        "",
        f"Made by benchmarks/diary_line.py, {datetime.now(UTC):%Y-%m-%d}; "
        f"{len(kept):,} entries; {os.cpu_count()} cores, load {load}.",
        "",
        "| what | processor | clock |",
        "|---|---|---|",
        *rows,
        "",
    ]
    TARGET.write_text("\n".join(text), encoding="utf-8")


if __name__ == "__main__":
    main()
