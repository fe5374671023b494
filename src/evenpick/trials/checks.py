"""What the comparison takes for granted, looked at in the figures (docs/design/trials.md, T23 to T25)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.trials.fit import CantBeFitted, Fit, fit_blocks

DOUBT = 0.05
FEWEST = 8
"""plots below which spread can't be held against size"""


@dataclass(frozen=True, slots=True)
class Outlier:
    at: int
    """index among the values"""
    expected: float
    """by its variety and block, from the other plots"""
    p: float
    """Bonferroni, of the largest among all"""


def outlier(values: Sequence[float], fit: Fit) -> Outlier | None:
    """The one plot that lies farthest off, where chance would hardly put any so far (beckman1983)."""
    from scipy.stats import t

    free = 1 - fit.leverage
    if fit.df < 2 or fit.variance <= 0:
        return None
    spread = np.where(free > 1e-9, fit.residuals**2 / np.maximum(free, 1e-9), 0.0)
    at = int(np.argmax(spread))
    rest = (fit.error_ss - spread[at]) / (fit.df - 1)
    if rest <= 1e-12 * fit.variance:  # the others fit exactly: measured too coarsely to say
        return None
    p = min(1.0, len(values) * float(2 * t.sf(np.sqrt(spread[at] / rest), fit.df - 1)))
    expected = values[at] - float(fit.residuals[at] / free[at])
    return Outlier(at, expected, p) if p < DOUBT else None


def spreads_with_size(fit: Fit) -> bool:
    """Whether larger figures lie farther off: slope of |residual| on fitted, one-sided (glejser1969)."""
    from scipy.stats import linregress

    if len(fit.fitted) < FEWEST or np.ptp(fit.fitted) <= 0:
        return False
    slope = linregress(fit.fitted, np.abs(fit.residuals), alternative="greater")
    return bool(slope.pvalue < DOUBT)


def without(at: int, values: Sequence[float], blocks: Sequence[str], varieties: Sequence[str]) -> Fit | None:
    """The fit with one plot left out; None where the rest does not bear it."""
    keep = [i for i in range(len(values)) if i != at]
    try:
        return fit_blocks([values[i] for i in keep], [blocks[i] for i in keep], [varieties[i] for i in keep])
    except CantBeFitted:
        return None
