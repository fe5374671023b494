"""Good and bad years and sowings by chance, spread evenly over years that are used together (outlook.md)."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache, lru_cache
from statistics import NormalDist

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.chance import stream
from evenpick.crops.crop import Crop
from evenpick.outlook.grow import parameter_draws
from evenpick.outlook.outcome import Outcome

YEAR_TO_YEAR = 0.25
"""most of the spread of ln(yield) that is taken as change from year to year; the rest of what tables
differ by lies between places and growers, which only a grower's own records can settle (memory)"""
STAND = {"direct": (0.85, 8.0, 0.04), "raised": (0.95, 30.0, 0.02), "planted": (0.95, 30.0, 0.02)}
"""mean share that stands, size of its beta, chance of losing all (growth E4 for direct; rest memory)"""


def best_emerged(outcome: Outcome) -> float:
    """Share that comes up on the best of its sow days."""
    return float(outcome.emerged.mean(axis=0, dtype=np.float64).max())


def stand_factors(
    outcome: Outcome, start: int, groups: Sequence[Ints], seed: int, best: float, farm: str = ""
) -> Floats:
    """How well each sowing stands, as a factor on the yield of a good stand, which is had where as much comes
    up as on the `best` day; (years, n). Axis day 0 is day number `start`: a sowing's luck is that of its
    date, so that a plan mended in April finds what it was made by. Each `farm` has its own."""
    days = [str(start + day) for day in outcome.sow]
    mean, size, lost = STAND[outcome.way.name]
    key = f"{outcome.crop.key}/{outcome.way.name}/{outcome.cover}" + (f"/{farm}" if farm else "")
    years = outcome.first.shape[0]
    emerged = outcome.emerged.mean(axis=0, dtype=np.float64)
    expected = np.clip(mean * emerged / max(best, 1e-6), 0.01, 0.99)
    stands = np.stack(
        [np.interp(_levels(years, groups, seed, "stand", key, day), *beta_cumulative(each, size))
         for day, each in zip(days, expected, strict=True)], axis=1,
    )
    gone = np.stack([_dealt(lost, 0.0, years, groups, seed, "lost", key, day) for day in days], axis=1)
    return np.asarray((1.0 - gone) * stands / mean)


def _levels(years: int, groups: Sequence[Ints], seed: int, *names: str) -> Floats:
    """Probabilities spread evenly over each group of years, shuffled; (years,)."""
    return _dealt(None, 0.5, years, groups, seed, *names)


def _dealt(
    lost: float | None, else_: float, years: int, groups: Sequence[Ints], seed: int, *names: str
) -> Floats:
    """The same several for so many years, shuffled in each group of years; (years,).

    That keeps the mean of every sowing's draws the same in every group: else a plan would pick the sowings
    that chance favoured in the years it saw.
    """
    dealt = np.full(years, else_)
    for number, group in enumerate(groups):
        dealt[group] = _shuffled(lost, group.size, seed, *names, str(number))
    return dealt


@lru_cache(maxsize=30_000)  # some 10 MB, and a plan mended in a running process draws none of it anew
def _shuffled(lost: float | None, count: int, seed: int, *names: str) -> Floats:
    """Losses by that chance, or without one even steps, in an order by chance; not to be written to."""
    return stream(seed, *names).permutation(_even(count) if lost is None else _losses(count, lost))


@cache
def _losses(count: int, chance: float) -> Floats:
    """Shares of so many years' sowings that are lost, whole ones but for the last, so that their mean is the
    chance however many years there are: of 26 none or one whole is 0 or 3.8 % for 2."""
    return np.clip(count * chance - np.arange(count), 0.0, 1.0)


@cache
def _even(count: int) -> Floats:
    """The middles of so many equal steps from 0 to 1."""
    return np.asarray((np.arange(count) + 0.5) / max(count, 1))


def beta_cumulative(mean: float, size: float, steps: int = 400) -> tuple[Floats, Floats]:
    """(probabilities, shares) of a beta distribution with this mean and a + b = size, for interpolation."""
    upper, made, missed = _shares(steps)
    a, b = mean * size, (1.0 - mean) * size
    weight = (a - 1) * made + (b - 1) * missed
    density = np.exp(weight - weight.max())
    return np.cumsum(density) / density.sum(), upper


@cache
def _shares(steps: int) -> tuple[Floats, Floats, Floats]:
    """Upper ends of equal steps from 0 to 1, and the logarithms of their middles and of 1 less these."""
    share = (np.arange(steps) + 0.5) / steps
    return share + 0.5 / steps, np.log(share), np.log1p(-share)


def harvest_factors(crop: Crop, years: int, groups: Sequence[Ints], seed: int) -> Floats:
    """Good and bad years for the crop: lognormal, mean 1; (years, 1)."""
    sd = min(crop.produce.sd_ln, YEAR_TO_YEAR)
    normal = NormalDist()
    draw = np.array([normal.inv_cdf(p) for p in _levels(years, groups, seed, "harvest", crop.key)])
    return np.asarray(np.exp(sd * draw - sd**2 / 2)[:, None])


def timing_factors(crop: Crop, years: int, groups: Sequence[Ints], seed: int) -> Floats:
    """Factors on the thermal time, spread evenly over each group of years; (years, 1)."""
    factor = np.ones((years, 1))
    for number, group in enumerate(groups):
        factor[group] = parameter_draws(crop, group.size, seed + number)
    return factor
