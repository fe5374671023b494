"""Taste scores: ranks within each tasting, and chance by shuffling them (docs/design/trials.md, T16 to T18).

A score of 4 is better than 2 and not twice as good, so that only the order within a tasting is used.
Shuffling holds exactly at any number of tastings and with ties; the usual tables hold for many tastings only.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

from evenpick.base.arrays import Bools, Floats
from evenpick.base.chance import DEFAULT_SEED, stream
from evenpick.trials.compare import Difference, holm

SHUFFLES = 20_000
ALL_SIGNS = 13
"""tastings up to which every way of swapping is counted, and none drawn"""


@dataclass(frozen=True, slots=True)
class Ranked:
    varieties: tuple[str, ...]
    """the highest rank first"""
    medians: tuple[float, ...]
    """of the scores"""
    mean_ranks: tuple[float, ...]
    """1 is the lowest of a tasting"""
    chi_square: float
    """Friedman's, ties taken into account (friedman1937)"""
    p: float
    """that anything differs"""
    differences: tuple[Difference, ...]
    """of mean ranks, the better first"""
    tastings: int


def tastings_of(scores: Mapping[tuple[str, str], float]) -> tuple[tuple[str, ...], Floats, int]:
    """Varieties, scores (tastings, varieties) of the whole tastings, and how many were not whole.

    `scores` are by tasting and variety.
    """
    varieties = tuple(dict.fromkeys(variety for _, variety in scores))
    names = tuple(dict.fromkeys(tasting for tasting, _ in scores))
    whole = [name for name in names if all((name, variety) in scores for variety in varieties)]
    table = np.array([[scores[name, variety] for variety in varieties] for name in whole], dtype=float)
    return varieties, table.reshape(len(whole), len(varieties)), len(names) - len(whole)


def rank_scores(
    varieties: Sequence[str],
    table: Floats,
    level: float,
    against: str | None = None,
    seed: int = DEFAULT_SEED,
) -> Ranked:
    """Ranks compared; `table` is (tastings, varieties). Pairs are all, or those with `against`.

    No pair is told apart where nothing differs over all: both claims together err in `level` of trials.
    """
    from scipy.stats import rankdata

    ranks = rankdata(table, axis=1)
    p = _p_of_all(ranks, seed)
    sums = ranks.sum(axis=0)
    order = [int(at) for at in np.argsort(-sums, kind="stable")]
    pairs = _pairs(order, None if against is None else list(varieties).index(against))
    gaps = np.stack([ranks[:, a] - ranks[:, b] for a, b in pairs], axis=1)
    adjusted = holm(_p_of_pairs(gaps, seed))
    differences = tuple(
        Difference(
            varieties[a],
            varieties[b],
            float(sums[a] - sums[b]) / len(table),
            None,
            None,
            max(one, p),
            max(one, p) <= level,
        )
        for (a, b), one in zip(pairs, adjusted, strict=True)
    )
    medians, means = np.median(table, axis=0), sums / len(table)
    return Ranked(
        tuple(varieties[at] for at in order),
        tuple(float(medians[at]) for at in order),
        tuple(float(means[at]) for at in order),
        chi_square(ranks),
        p,
        differences,
        len(table),
    )


def chi_square(ranks: Floats) -> float:
    """Friedman's statistic from ranks (tastings, varieties); nought where every tasting ties all."""
    kinds = ranks.shape[1]
    within = float(np.sum((ranks - (kinds + 1) / 2) ** 2)) / (kinds - 1)
    return 0.0 if within == 0 else float(_spread(ranks.sum(axis=0))) / within


def tastings_needed(pairs: int, level: float) -> int:
    """Fewest tastings, all agreeing, in which a pair can be told apart: 2^(1−n) · pairs ≤ level."""
    return next(n for n in range(2, 100) if pairs * 2.0 ** (1 - n) <= level)


def _p_of_all(ranks: Floats, seed: int) -> float:
    """Friedman's test with its chance from shuffling every tasting's ranks."""
    dice, sums = stream(seed, "tastings"), np.zeros((SHUFFLES, ranks.shape[1]))
    for tasting in ranks:
        sums += dice.permuted(np.tile(tasting, (SHUFFLES, 1)), axis=1)
    return _share(_spread(sums) >= _spread(ranks.sum(axis=0)) - 1e-9)


def _p_of_pairs(gaps: Floats, seed: int) -> list[float]:
    """For each column of rank gaps (tastings, pairs): two alike might stand swapped in any tasting."""
    tastings = len(gaps)
    if tastings <= ALL_SIGNS:
        swaps = np.array(list(product((1.0, -1.0), repeat=tastings)))
        return [float(one) for one in (np.abs(swaps @ gaps) >= np.abs(gaps.sum(axis=0)) - 1e-9).mean(axis=0)]
    swaps = stream(seed, "swaps").choice((1.0, -1.0), size=(SHUFFLES, tastings))
    hits = np.abs(swaps @ gaps) >= np.abs(gaps.sum(axis=0)) - 1e-9
    return [_share(hits[:, at]) for at in range(gaps.shape[1])]


def _pairs(order: Sequence[int], standard: int | None) -> list[tuple[int, int]]:
    if standard is None:
        return list(combinations(order, 2))
    return [(at, standard) for at in order if at != standard]


def _spread(sums: Floats) -> Floats:
    """Σ (R − mean R)² over the last axis."""
    centred = sums - sums.mean(axis=-1, keepdims=True)
    return np.asarray(np.sum(centred**2, axis=-1))


def _share(hits: Bools) -> float:
    """With the trial itself counted among the draws, so that it is never nought (phipson2010)."""
    return float((1 + np.count_nonzero(hits)) / (1 + hits.size))
