"""How many blocks see a difference, and what so many blocks can see (docs/design/trials.md, T7, T8).

Differences and the coefficient of variation (`cv`) are shares of the mean. The chance is that of the verdict
itself: one named pair among all told apart by Tukey's range (two varieties: the paired t).
"""

from __future__ import annotations

from functools import cache
from math import isnan, sqrt

from evenpick.trials.layout import MOST_BLOCKS

TYPICAL_CV = 0.20
"""own choice between mangolds 5 % on 20 m² plots (mercerhall1911), cucumber 10 and 22 % (bridges1989), tomato
30 % on 3.6 m² (buesocampos1985), all computed, and 18 %, above which pea trials are discarded (bcforage)"""
POWER = 0.8
LEVEL = 0.05


@cache
def pair_critical(varieties: int, df: int, level: float = LEVEL) -> float:
    """What |t| of a pair must pass so that all pairs together err in `level` of trials: q / √2 (T8)."""
    from scipy.optimize import brentq
    from scipy.stats import studentized_range, t

    alone, each = (float(t.isf(level / 2 / pairs, df)) for pairs in (1, varieties * (varieties - 1) / 2))
    if varieties == 2:
        return alone

    def beyond(critical: float) -> float:
        return float(studentized_range.sf(critical * sqrt(2), varieties, df)) - level

    return float(brentq(beyond, alone, each + 0.01, xtol=1e-7))  # a fifth of the time of scipy's own ppf


def chance_to_tell(shift: float, critical: float, df: int) -> float:
    """Chance that |t| passes `critical` where the true difference is `shift` standard errors."""
    from scipy.stats import nct

    up, down = float(nct.sf(critical, df, shift)), float(nct.cdf(-critical, df, shift))
    return 1.0 if isnan(up) or isnan(down) else up + down


def power_of_pair(difference: float, cv: float, varieties: int, blocks: int, level: float = LEVEL) -> float:
    """Chance to tell apart one pair that truly differs by `difference` (share of the mean)."""
    df = (varieties - 1) * (blocks - 1)
    return chance_to_tell(difference / (cv * sqrt(2 / blocks)), pair_critical(varieties, df, level), df)


def blocks_needed(
    difference: float, cv: float, varieties: int, power: float = POWER, level: float = LEVEL
) -> int | None:
    """Fewest blocks, 2 to 60, that see the difference with at least `power`; None where 60 do not."""
    low, high = 1, MOST_BLOCKS
    if power_of_pair(difference, cv, varieties, high, level) < power:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        enough = power_of_pair(difference, cv, varieties, middle, level) >= power
        low, high = (low, middle) if enough else (middle, high)
    return high


def least_shift(critical: float, df: int, power: float = POWER) -> float:
    """Standard errors of a difference that a true one must measure to be told apart with chance `power`."""
    from scipy.optimize import brentq

    return float(brentq(lambda shift: chance_to_tell(shift, critical, df) - power, 0.0, 4 * critical + 20))


def least_seen(cv: float, varieties: int, blocks: int, power: float = POWER, level: float = LEVEL) -> float:
    """The smallest difference of a pair (share of the mean) that so many blocks see with chance `power`."""
    df = (varieties - 1) * (blocks - 1)
    return least_shift(pair_critical(varieties, df, level), df, power) * cv * sqrt(2 / blocks)
