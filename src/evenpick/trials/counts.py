"""So many came up of so many sown (docs/design/trials.md, T19 to T22)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import sqrt

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.trials.compare import Difference, holm

INTERVAL = 0.95


@dataclass(frozen=True, slots=True)
class Share:
    """What came up of one variety. All but the counts are shares, 0 to 1."""

    variety: str
    came: int
    sown: int
    plots: int
    estimate: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Counted:
    shares: tuple[Share, ...]
    """the best first"""
    dispersion: float | None
    """Pearson's chi-square over its df; 1 is pure chance; None where no variety has two plots"""
    dispersion_p: float | None
    df: int
    """plots less varieties"""
    differences: tuple[Difference, ...]


def wilson(came: float, sown: float, level: float = 1 - INTERVAL) -> tuple[float, float]:
    """The score interval of a share (newcombe1998, method 3); counts may be thinned and not whole."""
    from scipy.stats import norm

    z = float(norm.isf(level / 2))
    share = came / sown
    centre = (share + z * z / (2 * sown)) / (1 + z * z / sown)
    half = z / (1 + z * z / sown) * sqrt(share * (1 - share) / sown + z * z / (4 * sown * sown))
    low, high = max(0.0, centre - half), min(1.0, centre + half)
    return (0.0 if came == 0 else low), (1.0 if came == sown else high)


def count_shares(
    came: Sequence[int],
    sown: Sequence[int],
    varieties: Sequence[str],
    level: float,
    against: str | None = None,
) -> Counted:
    """One entry a plot. Intervals and pairs are widened by what plots of one variety differ beyond chance."""
    kinds = tuple(dict.fromkeys(varieties))
    member = np.array([[name == kind for kind in kinds] for name in varieties])
    each_up, each_down = np.asarray(came, dtype=float), np.asarray(sown, dtype=float)
    up, down = each_up @ member, each_down @ member
    df = len(varieties) - len(kinds)
    dispersion, p = _dispersion(each_up, each_down, member, up / down, df)
    order = [int(at) for at in np.argsort(-up / down, kind="stable")]
    if against is not None:
        pairs = [(at, kinds.index(against)) for at in order if kinds[at] != against]
    else:
        pairs = list(combinations(order, 2))
    wide = dispersion or 0.0
    shares = tuple(
        Share(
            kinds[at],
            int(up[at]),
            int(down[at]),
            int(member[:, at].sum()),
            float(up[at] / down[at]),
            *_range(up[at], down[at], wide, df, 1 - INTERVAL),
        )
        for at in order
    )
    raw = [_p(up[a], down[a], up[b], down[b], wide, df) for a, b in pairs]
    each = level / len(pairs)
    return Counted(
        shares,
        dispersion,
        p,
        df,
        tuple(
            _difference(
                kinds[a], kinds[b], (up[a], down[a]), (up[b], down[b]), wide, df, each, adjusted, level
            )
            for (a, b), adjusted in zip(pairs, holm(raw), strict=True)
        ),
    )


def _dispersion(
    came: Floats, sown: Floats, member: Bools, share: Floats, df: int
) -> tuple[float | None, float | None]:
    from scipy.stats import chi2

    if df < 1:
        return None, None
    expected = sown * (member @ share)
    spread = expected * (1 - expected / sown)
    alive = spread > 0
    pearson = float(np.sum((came[alive] - expected[alive]) ** 2 / spread[alive]))
    return pearson / df, float(chi2.sf(pearson, df))


def _range(came: float, sown: float, wide: float, df: int, level: float) -> tuple[float, float]:
    """Wilson's interval; of counts thinned, where plots of a variety differ by more than chance (T21)."""
    from scipy.stats import norm, t

    thinned = 1.0
    if df >= 1:
        thinned = max(1.0, wide * (float(t.isf(level / 2, df)) / float(norm.isf(level / 2))) ** 2)
    return wilson(came / thinned, sown / thinned, level)


def _p(up: float, down: float, up2: float, down2: float, wide: float, df: int) -> float:
    """Fisher's exact test of single plots (fisher1935); else the larger p, of z or of t by plots (T22)."""
    from scipy.stats import fisher_exact, norm, t

    if df < 1:
        return float(fisher_exact([[int(up), int(down - up)], [int(up2), int(down2 - up2)]]).pvalue)
    pooled = (up + up2) / (down + down2)
    error = sqrt(pooled * (1 - pooled) * (1 / down + 1 / down2))
    if error == 0:
        return 1.0
    z = abs(up / down - up2 / down2) / error
    by_chance = float(2 * norm.sf(z))
    return max(by_chance, float(2 * t.sf(z / sqrt(wide), df))) if wide > 0 else by_chance


def _difference(
    first: str,
    second: str,
    one: tuple[float, float],
    two: tuple[float, float],
    wide: float,
    df: int,
    each: float,
    p: float,
    level: float,
) -> Difference:
    """The difference, its interval made of the two Wilson intervals (newcombe1998b, method 10)."""
    a, b = one[0] / one[1], two[0] / two[1]
    (a_low, a_high), (b_low, b_high) = _range(*one, wide, df, each), _range(*two, wide, df, each)
    low = a - b - sqrt((a - a_low) ** 2 + (b_high - b) ** 2)
    high = a - b + sqrt((a_high - a) ** 2 + (b - b_low) ** 2)
    return Difference(first, second, a - b, low, high, p, p <= level)
