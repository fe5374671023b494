"""What a verdict holds. Weights are kg a plot, lengths m, days d, scores 1 to 5, came up a share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from evenpick.trials.compare import Difference
from evenpick.trials.sheet import Kind

Method = Literal["all pairs", "against the standard", "ranks", "came up", "none"]


@dataclass(frozen=True, slots=True)
class Standing:
    """One variety by one measure. `figure`: adjusted mean, median score, or share come up."""

    variety: str
    plots: int
    lost: int
    figure: float
    low: float | None = None
    """ends of the interval of a share come up; None elsewhere"""
    high: float | None = None
    mean_rank: float | None = None
    group: str = ""
    """letters: those who share one can't be told apart; empty where a standard is named"""


@dataclass(frozen=True, slots=True)
class Doubt:
    """The one plot that lies far off."""

    plot: int
    variety: str
    block: str
    value: float
    expected: float
    changes: bool
    """other varieties are told apart without it"""


@dataclass(frozen=True, slots=True)
class Judged:
    """One measure judged; the best variety first, for days the lowest."""

    measure: str
    kind: Kind
    method: Method
    ratios: bool
    """differences are ratios less one: judged in logarithms"""
    standings: tuple[Standing, ...]
    differences: tuple[Difference, ...]
    p: float | None = None
    """that anything differs: F, or Friedman's by shuffling"""
    df: int | None = None
    cv: float | None = None
    """of a plot, share of the mean"""
    could_see: float | None = None
    """smallest true difference of a pair that is told apart four times in five; in ratios less one"""
    dispersion: float | None = None
    dispersion_p: float | None = None
    tastings: int | None = None
    tastings_needed: int | None = None
    left_out: int = 0
    """plots that stand and have no figure, or tastings that are not whole"""
    doubt: Doubt | None = None
    grows: bool = False
    """larger figures lie farther off theirs"""
    why_not: str = ""
    """why it can't be judged"""

    @property
    def told(self) -> tuple[Difference, ...]:
        return tuple(one for one in self.differences if one.told)


@dataclass(frozen=True, slots=True)
class Verdict:
    trial: str
    standard: str | None
    certainty: float
    varieties: tuple[str, ...]
    blocks: int
    lost: tuple[tuple[int, str, str], ...]
    """plot, variety and reason"""
    uneven_plots: bool
    judged: tuple[Judged, ...]
