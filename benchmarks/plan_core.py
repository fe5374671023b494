"""Speed and proven gap of the planner's core on invented tasks.

Run: PYTHONPATH=src:tests/plan python benchmarks/plan_core.py [--trace] [items years weeks scale [seconds]]
"""

from __future__ import annotations

import sys
import time

from sowing_cases import household

from evenpick.plan.make import Effort, News, make_plan


def tell(news: News) -> None:
    print(f"  {news.seconds:7.1f} s  {news.stage:10s} plan {news.value:9.2f}  bound {news.bound:9.2f}"
          f"  gap {news.gap:6.1%}", flush=True)


def main(arguments: list[str]) -> None:
    trace = "--trace" in arguments
    numbers = [a for a in arguments if a != "--trace"] or ["18", "30", "70", "1"]
    items, years, weeks = (int(a) for a in numbers[:3])
    request = household(items, years, weeks, scale=float(numbers[3]))
    limit = float(numbers[4]) if len(numbers) > 4 else float("inf")
    start = time.perf_counter()
    plan = make_plan(request, Effort(seconds=limit, progress=tell) if trace else Effort(seconds=limit))
    spent = time.perf_counter() - start
    print("items candidates years weeks entries seconds gap sowings value bound nothing")
    print(items, len(request.candidates), years, weeks, len(request.supply.kg), f"{spent:.1f}",
          f"{plan.gap:.3f}", int((plan.areas > 0).sum()),
          f"{plan.value:.3f} {plan.bound:.3f} {plan.nothing:.3f}")
    print("seconds by stage", {name: round(value, 1) for name, value in plan.seconds.items()})


if __name__ == "__main__":
    main(sys.argv[1:])
