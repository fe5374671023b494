"""Which varieties may be told apart: all pairs by Tukey and Kramer, or each against a standard by Dunnett.

Either way the chance that even one pair of truly equal varieties is told apart is at most 1 − certainty
(docs/design/trials.md, T13 to T15).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import sqrt
from string import ascii_letters

import numpy as np

from evenpick.trials.fit import Fit
from evenpick.trials.power import pair_critical

DICE = 20270301
"""of the integration over the multivariate t, so that a verdict stays"""


@dataclass(frozen=True, slots=True)
class Difference:
    """`first` less `second`, in the unit measured; a ratio where the trial is judged in ratios."""

    first: str
    second: str
    estimate: float
    low: float | None
    """ends of the interval that holds for all pairs together; None where only ranks are compared"""
    high: float | None
    p: float
    """adjusted for the number of pairs"""
    told: bool
    """whether they may be told apart: p is at most 1 − certainty"""


def tukey(fit: Fit, level: float) -> tuple[tuple[Difference, ...], float]:
    """Every pair, the better mean first, and what |t| had to pass (Tukey 1953, Kramer 1956)."""
    from scipy.stats import studentized_range, t

    kinds = len(fit.varieties)
    critical = pair_critical(kinds, fit.df, level)

    def p_of(ratio: float) -> float:
        if kinds == 2:
            return float(2 * t.sf(ratio, fit.df))
        return float(studentized_range.sf(ratio * sqrt(2), kinds, fit.df))

    order = np.argsort(-fit.means, kind="stable")
    return tuple(
        _difference(fit, int(a), int(b), critical, p_of) for a, b in combinations(order, 2)
    ), critical


def dunnett(fit: Fit, standard: str, level: float) -> tuple[tuple[Difference, ...], float]:
    """Every other variety less the standard, the best first, and what |t| had to pass (dunnett1955)."""
    at = fit.varieties.index(standard)
    shape = correlation(fit, at)
    critical = dunnett_critical(shape, fit.df, level)
    others = [int(i) for i in np.argsort(-fit.means, kind="stable") if i != at]
    return tuple(
        _difference(fit, other, at, critical, lambda ratio: _beyond(shape, fit.df, ratio)) for other in others
    ), critical


def correlation(fit: Fit, standard: int) -> tuple[tuple[float, ...], ...]:
    """Of the other varieties' differences from the standard, in the fit's own order."""
    others = [i for i in range(len(fit.varieties)) if i != standard]
    contrasts = np.zeros((len(others), len(fit.varieties)))
    contrasts[np.arange(len(others)), others], contrasts[:, standard] = 1.0, -1.0
    covariance = contrasts @ fit.covariance @ contrasts.T
    scale = np.sqrt(np.diag(covariance))
    return tuple(map(tuple, np.round(covariance / np.outer(scale, scale), 9).tolist()))


@lru_cache(maxsize=64)
def dunnett_critical(correlation: tuple[tuple[float, ...], ...], df: int, level: float) -> float:
    """What the largest |t| of comparisons so correlated passes in `level` of trials of equal varieties."""
    from scipy.optimize import brentq
    from scipy.stats import t

    alone, each = float(t.isf(level / 2, df)), float(t.isf(level / 2 / len(correlation), df))
    if len(correlation) == 1:
        return alone
    return float(brentq(lambda c: _beyond(correlation, df, c) - level, alone, each + 0.01, xtol=1e-4))


def _beyond(correlation: tuple[tuple[float, ...], ...], df: int, ratio: float) -> float:
    """Chance that any |t| passes `ratio` where nothing differs: multivariate t, by seeded integration."""
    from scipy.stats import multivariate_t, t

    if len(correlation) == 1:
        return float(2 * t.sf(abs(ratio), df))
    ends = np.full(len(correlation), abs(ratio))
    inside = multivariate_t.cdf(
        ends,
        shape=np.array(correlation),
        df=df,
        lower_limit=-ends,
        maxpts=20_000 * len(ends),
        random_state=DICE,
    )
    return float(min(1.0, max(0.0, 1 - inside)))


def _difference(
    fit: Fit, first: int, second: int, critical: float, p_of: Callable[[float], float]
) -> Difference:
    estimate = float(fit.means[first] - fit.means[second])
    error = fit.standard_error(first, second)
    half = critical * error
    return Difference(
        fit.varieties[first],
        fit.varieties[second],
        estimate,
        estimate - half,
        estimate + half,
        p_of(abs(estimate) / error),
        abs(estimate) > half,
    )


def holm(p: Sequence[float]) -> list[float]:
    """p of several tests, so adjusted that all together err no oftener than each says (holm1979)."""
    order = np.argsort(p, kind="stable")
    adjusted, highest = [0.0] * len(p), 0.0
    for rank, at in enumerate(order):
        highest = max(highest, min(1.0, (len(p) - rank) * p[at]))
        adjusted[at] = highest
    return adjusted


def letters(best_first: Sequence[str], differences: Sequence[Difference]) -> Mapping[str, str]:
    """Varieties that share a letter can't be told apart: the maximal sets of such, named from the best on."""
    apart = {frozenset((one.first, one.second)) for one in differences if one.told}
    alike = {
        name: {other for other in best_first if other != name and frozenset((name, other)) not in apart}
        for name in best_first
    }
    groups = sorted(
        _cliques(set(), set(best_first), set(), alike),
        key=lambda group: sorted(best_first.index(name) for name in group),
    )
    marks = [_mark(at) for at in range(len(groups))]
    return {
        name: "".join(mark for mark, group in zip(marks, groups, strict=True) if name in group)
        for name in best_first
    }


def _mark(at: int) -> str:
    """One letter, a to z, A to Z, then on from the Greek."""
    return ascii_letters[at] if at < len(ascii_letters) else chr(ord("α") + at - len(ascii_letters))


def _cliques(
    chosen: set[str], free: set[str], done: set[str], alike: Mapping[str, set[str]]
) -> list[set[str]]:
    """Maximal sets of which every pair is alike (bron1973)."""
    if not free and not done:
        return [chosen]
    pivot = max(free | done, key=lambda name: (len(alike[name] & free), name))
    found: list[set[str]] = []
    for name in sorted(free - alike[pivot]):
        found += _cliques(chosen | {name}, free & alike[name], done & alike[name], alike)
        free, done = free - {name}, done | {name}
    return found
