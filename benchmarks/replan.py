"""What a plan made anew costs at household size: CPU seconds of growing crops and of planning, and how far a
mended plan is from one made in full.

Run: python benchmarks/replan.py. Writes nothing; its figures stand in docs/design/season.md.
"""

from __future__ import annotations

import shutil
import tempfile
import time
from datetime import date
from pathlib import Path

from evenpick.garden.diary import Lost, Sowed
from evenpick.service import planning
from evenpick.service.answers import PlanAnswer
from evenpick.service.book import write
from evenpick.service.planning import make_plan, save_plan

TODAY = date(2027, 6, 10)
SPENT: dict[str, float] = {}


def timed(name: str) -> None:
    """Keep the CPU seconds that a function of the service spends, its threads with it."""
    work = getattr(planning, name)

    def spending(*given: object) -> object:
        began = time.process_time()
        done = work(*given)
        SPENT[name] = time.process_time() - began
        return done

    setattr(planning, name, spending)


def made(garden: Path, mend: bool) -> PlanAnswer:
    began = time.process_time()
    plan = make_plan(garden, TODAY, mend=mend)
    whole = time.process_time() - began
    print(f"{'mended' if mend else 'in full'}: {whole:.2f} s CPU in this process, {SPENT['garden_task']:.2f} "
          f"growing crops, {SPENT['solved']:.2f} planning; bare {plan.plan.bare:.3f}, "
          f"spare {plan.plan.spare:.3f}, {len(plan.sowings)} sowings, {len(plan.changes)} changes")
    return plan


def main() -> None:
    for name in ("garden_task", "solved"):
        timed(name)
    with tempfile.TemporaryDirectory() as folder:
        garden = Path(folder) / "garden.toml"
        shutil.copy(Path(__file__).with_name("household.toml"), garden)
        first = make_plan(garden)
        save_plan(garden, first)
        sown = [s for s in first.sowings if s.sow < TODAY]
        facts = [Sowed(s.crop, s.way, s.cover, s.area_m2, planned=s.id) for s in sown]
        entries = write(garden, [(s.sow, fact, "") for s, fact in zip(sown, facts, strict=True)])
        radish = [entry for entry, s in zip(entries, sown, strict=True) if s.crop == "radish"][-1]
        write(garden, [(TODAY, Lost(radish.id, "eaten", 0.5, "slugs"), "")])
        made(garden, mend=True)
        made(garden, mend=False)


if __name__ == "__main__":
    main()
