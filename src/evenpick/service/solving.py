"""A task solved: areas as a grower sows them, within the counts, with the gap that is proven."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import exp

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.plan.amounts import rounded, steps_of
from evenpick.plan.counts import Counts, keep_to_counts
from evenpick.plan.effort import Effort, News
from evenpick.plan.hands import HERE, Hands
from evenpick.plan.in_steps import bettered, each_a_step
from evenpick.plan.interval_rule import Rule, rules
from evenpick.plan.kept import Exact
from evenpick.plan.mend import Before, Mended, mended
from evenpick.plan.settled import Settled
from evenpick.plan.task import Task
from evenpick.service.measures import on_planned, summary

Progress = Callable[[str, float], None]
Stop = Callable[[], bool]
"""asked now and then once there is a first plan, and not before: whether to hand over the best so far"""
SMALL = 1200
"""candidate sowings of a household's garden"""
NEAR, NEAR_LARGE = 0.005, 0.02
"""proven gap at which the search ends: a small garden's is cheap to close further"""
BRANCH_ROUNDS, MORE_ROUNDS = 8, 4
"""of the proof, as many as bring a market to 2 %, and as many more while a garden is not there"""
POT_ROUNDS = 3
"""where all goes by whole pots: the bound stands still after them (planner.md, 12)"""
CHANGE = 1.0
"""of the trouble of a sowing: what changing one already planned must be worth in a plan that is mended. One
or two hundredths of the plan's worth are given up for a third of the changes or fewer (season.md, 6)"""
DONE = 0.9
"""of the progress bar, when the search ends"""
TYPICAL_SECONDS = 30.0
"""for the progress bar alone, which slows down where nobody said how long it may take"""


@dataclass(frozen=True, slots=True)
class Solved:
    """The task as it was kept to, and its plan."""

    work: Task
    areas: Floats
    """m² per candidate, as a grower sows them"""
    gap: float | None
    """None where the plan before was only mended"""
    exact: Exact
    """of the task's request"""
    uncounted: float | None = None
    """the gap before it was kept to the counts; None where it is the same, or nothing is proven"""
    stake: float = 1.0
    """what the gap is a share of"""
    uncut: Floats | None = None
    """the areas before any was made smaller for the beds; None where none was"""
    settled: Settled | None = None
    """of a plan mended, what it costs to make what was planned another"""

    @property
    def unlaid(self) -> Floats:
        """The areas as they were before they were laid into beds."""
        return self.areas if self.uncut is None else self.uncut

    def cost(self, areas: Floats) -> float:
        """What areas cost, changes of what was planned before counted."""
        return self.exact.cost(areas) + (0.0 if self.settled is None else self.settled.cost(areas))

    def with_areas(self, areas: Floats) -> Solved:
        """The same with less, or other sowings in its place: what that costs is told in the gap."""
        less = replace(self, areas=areas, uncut=self.unlaid)
        if self.gap is None:
            return less
        more = self.exact.cost(areas) - self.exact.cost(self.areas)
        return replace(less, gap=float(max(self.gap + more / self.stake, 0.0)))


class Watch:
    """Tells how far the work has come and keeps the seconds of each stage."""

    def __init__(self, progress: Progress | None, stop: Stop | None = None) -> None:
        self.tell: Progress = progress or (lambda words, share: None)
        self.stop: Stop = stop or (lambda: False)
        self._marks: list[tuple[str, float]] = []

    def stage(self, words: str, share: float) -> None:
        self._marks.append((words, time.perf_counter()))
        self.tell(words, share)

    def total(self) -> float:
        return time.perf_counter() - self._marks[0][1]

    def stages(self) -> tuple[tuple[str, float], ...]:
        ends = [start for _, start in self._marks[1:]] + [time.perf_counter()]
        return tuple((words, end - start) for (words, start), end in zip(self._marks, ends, strict=True))


def solved(
    work: Task, before: Before | None, counts: Sequence[Counts], watch: Watch, seconds: float | None,
    hands: Hands = HERE,
) -> Solved:
    """A plan in full, or only mended from the one `before`. Where the watch
    is to stop, it does so with the first plan at the earliest."""
    if before is not None:
        farm = np.array([option.farm for option in work.options], dtype=np.int64)
        several = farm if farm.any() else None
        return _mended(work, mended(work.request, before.areas, before.late, change=CHANGE, farm=several,
                                    asked=before.asked), counts)
    from evenpick.plan.make import make_plan as solve  # slow to load, and a plan mended needs none of it

    steps = steps_of(work.options)
    solution = solve(work.request, _effort(watch, work, steps, seconds), hands)
    made = rounded(work.request, work.options, solution.areas)
    exact = Exact.of(work.request)
    made = bettered(exact, made, steps, refill=True)
    kept, areas = keep_to_counts(work, made, counts)
    exact = exact if kept is work else Exact.of(kept.request)
    stake = max(solution.nothing - solution.bound, 1e-9)
    gap, free = (float(max(exact.cost(x) - solution.bound, 0.0) / stake) for x in (areas, made))
    if gap <= free:
        return Solved(kept, areas, gap, exact, stake=stake)
    watch.tell(f"keeping to the counts{_proven(gap)}", DONE)
    return Solved(kept, areas, gap, exact, free, stake)


def _mended(work: Task, found: Mended, counts: Sequence[Counts]) -> Solved:
    """In whole steps, which are much where there was no room for a last plant: bettered by steps too."""
    exact = Exact.of(work.request)
    made = rounded(work.request, work.options, found.areas)
    made = bettered(exact, made, steps_of(work.options), settled=found.settled)
    kept, areas = keep_to_counts(work, made, counts)
    return Solved(kept, areas, None, exact if kept is work else Exact.of(kept.request), settled=found.settled)


def _proven(gap: float) -> str:
    return f": proven within {100 * gap:.1f} % of the best" if gap < 1.0 else ""


def best_rule(work: Task) -> Rule:
    """The setting of the interval rule that does best on the planning years."""
    return min(rules(work), key=lambda each: _misfit(work, each))


def _misfit(work: Task, rule: Rule) -> float:
    """Bare and spare together."""
    found = summary(work, on_planned(work, rule.areas))
    return found.bare + found.spare


def _effort(watch: Watch, work: Task, steps: Floats, seconds: float | None) -> Effort:
    """All the steps; a large garden's end where the proof is near enough, and of branching little where all
    goes by whole pots, for what it brings of parts of pots is lost again."""
    first = False

    def news(found: News) -> None:
        nonlocal first
        first = first or found.gap < 1.0 or found.stage == "descent"
        stop()  # from now on, whoever may stop it knows that there is something to hand over
        done = min(found.seconds / seconds, 1.0) if seconds else 1.0 - exp(-found.seconds / TYPICAL_SECONDS)
        watch.tell(found.stage + _proven(found.gap), 0.2 + (DONE - 0.2) * done)

    def stop() -> bool:
        return first and watch.stop()

    enough = NEAR if len(work.request.candidates) <= SMALL else NEAR_LARGE
    rounds, more = (POT_ROUNDS, 0) if each_a_step(work.request, steps) else (BRANCH_ROUNDS, MORE_ROUNDS)
    measured = Effort(
        branch_rounds=rounds, more_rounds=more, good_enough=enough, near=NEAR_LARGE, stop=stop, progress=news
    )
    return measured if seconds is None else replace(measured, seconds=seconds)
