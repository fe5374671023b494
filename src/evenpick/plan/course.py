"""How far the making of a plan has come: its stages, the best plan's cost, the proven bound, and when to
stop."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from evenpick.plan.bench import Late
from evenpick.plan.effort import Effort, News

TOLD = 0.98  # of the gap told last: bounds in the middle of a stage are told from there on


def gap_between(value: float, bound: float, nothing: float) -> float:
    """(value − bound) / (nothing − bound); 0 where nothing is at stake."""
    stake = nothing - bound
    return max(value - bound, 0.0) / stake if stake > 1e-9 else 0.0


@dataclass(slots=True)
class Course:
    """`nothing` is what sowing nothing costs; `over` says that the processes have been ended."""

    effort: Effort
    over: Callable[[], bool]
    began: float
    nothing: float
    value: float = field(init=False)
    """cost of the best plan so far"""
    proven: float = 0.0  # losses and costs are never negative
    seconds: dict[str, float] = field(default_factory=dict)
    rounds: dict[str, int] = field(default_factory=dict)
    cut_short: bool = False
    _stage: str = field(init=False)
    _told: float = field(init=False)
    """the gap that was told last"""

    def __post_init__(self) -> None:
        self.value = self.nothing
        self._told = self.gap

    @property
    def gap(self) -> float:
        return gap_between(self.value, self.proven, self.nothing)

    def stage(self, name: str, times: int, work: Callable[[int], None], enough: float = 0.0) -> None:
        """Some rounds of it, until the gap is good enough."""
        for _k in range(times):
            late = self.late()
            if late or self.gap <= max(self.effort.good_enough, enough):
                self.cut_short |= late
                return
            self._stage, start = name, time.monotonic()
            try:
                work(self.rounds.get(name, 0))
            except Late:  # what was under way is dropped; what was found before it stands
                self.cut_short = True
                return
            self.seconds[name] = self.seconds.get(name, 0.0) + time.monotonic() - start
            self.rounds[name] = self.rounds.get(name, 0) + 1
            self.tell()

    def tell(self) -> None:
        self._told = self.gap
        seconds = time.monotonic() - self.began
        self.effort.progress(News(self._stage, self.value, self.proven, self._told, seconds))

    def prove(self, bound: float) -> None:
        """A bound proven in the middle of a stage; told if it closes something."""
        self.proven = max(self.proven, bound)
        if self.gap < TOLD * self._told:
            self.tell()

    def late(self) -> bool:
        """Stopped, or past the limit of seconds; that waits for a first plan."""
        over = time.monotonic() - self.began > self.effort.seconds
        over = over and self.rounds.get("descent", 0) > 0
        return over or self.over() or self.effort.stop()
