"""The book with a long diary: seconds of whole processes, as a Markdown table.

    python benchmarks/book.py > benchmarks/book.md

20,000 invented entries, some twenty years of a busy garden. Each run is a process of its own.
"""

from __future__ import annotations

import os
import random
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from evenpick.garden.diary import (
    Answered,
    Cleared,
    Corrected,
    Entry,
    Fact,
    Noted,
    Picked,
    Sowed,
    Tended,
    Watered,
)
from evenpick.store.book import Book

ENTRIES, RUNS = 20_000, 9
GARDEN = ('[site]\nat = "51.5, -1.25"\n[[ground]]\nname = "bed"\ncover = "open"\narea = "20 m²"\n'
          '[[wish]]\nitem = "leeks"\neach_week = "2 portions"\n')
TODAY = "from evenpick.cli.main import main\nmain(['today', '--garden', str(garden), '--on', "
WORK = {
    "start Python and import nothing": "pass",
    "add one line": "from evenpick.service.book import write\n"
                    "from evenpick.garden.diary import Noted\n"
                    "from datetime import date\n"
                    "write(garden, [(date(2027, 3, 1), Noted(), 'a line')])",
    "the sowings and what ended them": "from evenpick.service.book import record_of\n"
                                       "record_of(garden, ('sowed', 'planted out', 'lost', 'cleared'))",
    "the whole record": "from evenpick.service.book import record_of\nrecord_of(garden)",
    "evenpick today, of another day each time": TODAY + "'2038-10-ON'])",
    "evenpick today, of the same day": TODAY + "'2038-11-01'])",
}


def diary() -> list[Entry]:
    """A tenth sowings; pickings, waterings and notes of the last two hundred; a few corrections."""
    dice = random.Random(4)
    entries: list[Entry] = []
    sown: list[str] = []
    for number in range(ENTRIES):
        identity, day = f"{1_600_000_000_000 + number * 30_000_000:012x}{number:020x}", 18_500 + number // 3
        about = dice.choice(sown[-200:]) if sown else ""
        fact: Fact
        if not about or number % 10 == 0:
            fact = Sowed("carrot", "direct", "open", 1.2, ground=f"bed {number % 9}")
            sown.append(identity)
        elif number % 10 == 5 and len(sown) > 60:
            fact = Cleared(sown[-60])
        elif number % 100 == 99:
            fact = Corrected(about, day, Sowed("leek", "raised", "open", 2.0))
        else:
            fact = dice.choice((Picked("carrot", about, kg=0.5), Watered(about, litres=10.0),
                                Tended("weeded", about), Noted(), Answered(f"sow:{number}", "done")))
        entries.append(Entry(identity, day, fact, f"typed line {number}"))
    return entries


def run(code: str, garden: Path) -> tuple[float, float]:
    """Seconds by the clock and of the processor, of one process."""
    whole = f"from pathlib import Path\ngarden = Path({str(garden)!r})\n{code}"
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run([sys.executable, "-c", whole], check=True, stdout=subprocess.DEVNULL)
    seconds, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    return seconds, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    print("# The book with 20,000 entries\n")
    print(f"Made by `python benchmarks/book.py > benchmarks/book.md`: the median of {RUNS} processes on "
          f"{os.cpu_count()} cores; the bar is 0.2 s to add a line and 0.5 s for `today`.\n")
    print("| a process that does this | seconds by the clock | of the processor |\n|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        garden = Path(folder) / "garden.toml"
        garden.write_text(GARDEN, encoding="utf-8")
        Book(garden.with_suffix(".book")).add(diary())
        for words, code in WORK.items():
            runs = (run(code.replace("ON", str(10 + number)), garden) for number in range(RUNS))
            clock, work = zip(*runs, strict=True)
            print(f"| {words} | {statistics.median(clock):.2f} | {statistics.median(work):.2f} |")
        print(f"\nThe file: {garden.with_suffix('.book').stat().st_size / 2**20:.1f} MB.")


if __name__ == "__main__":
    main()
