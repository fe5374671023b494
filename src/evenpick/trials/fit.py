"""Least squares with an effect for every block and every variety (docs/design/trials.md, T10 to T12).

Complete blocks, lost plots, pairs of strips and several plots of a variety in a block are all cases of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.language import tell


@dataclass(frozen=True, slots=True)
class Fit:
    """What least squares says. k varieties, n plots; values in the unit that was measured, or in its logs."""

    varieties: tuple[str, ...]
    means: Floats
    """(k,) adjusted: what each would have in the mean of all blocks"""
    covariance: Floats
    """(k, k) of the means, in units of `variance`"""
    variance: float
    """of a plot about its expectation: the error mean square"""
    df: int
    """degrees of freedom of the error"""
    variety_ss: float
    """sum of squares of varieties, adjusted for blocks"""
    error_ss: float
    fitted: Floats
    residuals: Floats
    leverage: Floats

    def standard_error(self, first: int, second: int) -> float:
        """Of the difference of two adjusted means."""
        c = self.covariance
        return float(np.sqrt(self.variance * (c[first, first] + c[second, second] - 2 * c[first, second])))

    @property
    def f(self) -> float:
        """Variance ratio of varieties, adjusted for blocks; on k − 1 and `df` degrees of freedom."""
        return (
            self.variety_ss / (len(self.varieties) - 1) / self.variance if self.variance > 0 else float("inf")
        )

    @property
    def p(self) -> float:
        from scipy.stats import f

        return float(f.sf(self.f, len(self.varieties) - 1, self.df))


class CantBeFitted(ValueError):
    """Why the figures don't bear a comparison, in words."""


def fit_blocks(values: Sequence[float], blocks: Sequence[str], varieties: Sequence[str]) -> Fit:
    """The fit to one value a plot; varieties in the order of `varieties`' first appearance.

    CantBeFitted where there is one variety, no plot to spare for the error, or varieties that no blocks link.
    """
    y = np.asarray(values, dtype=float)
    kinds, places = tuple(dict.fromkeys(varieties)), tuple(dict.fromkeys(blocks))
    if len(kinds) < 2:
        raise CantBeFitted(tell("fewer than two varieties were measured"))
    block = np.array([[name == one for one in places] for name in blocks], dtype=float)
    variety = np.array([[name == one for one in kinds] for name in varieties], dtype=float)
    design = np.hstack([block, variety[:, 1:]])
    if np.linalg.matrix_rank(design) < design.shape[1]:
        raise CantBeFitted(tell("some varieties never stood in one block with the others"))
    df = len(y) - design.shape[1]
    if df < 1:
        raise CantBeFitted(
            tell("there are too few plots to tell chance from variety: it takes two blocks at least")
        )
    inverse = np.linalg.inv(design.T @ design)
    effects = inverse @ design.T @ y
    fitted = design @ effects
    residuals = y - fitted
    error = float(residuals @ residuals)
    to_means = np.hstack([np.full((len(kinds), len(places)), 1 / len(places)), np.eye(len(kinds))[:, 1:]])
    return Fit(
        kinds,
        to_means @ effects,
        to_means @ inverse @ to_means.T,
        _nought_if_noise(error, y) / df,
        df,
        _without(y, block) - error,
        error,
        fitted,
        residuals,
        np.einsum("ij,jk,ik->i", design, inverse, design),
    )


def _without(y: Floats, block: Floats) -> float:
    """Sum of squares left where varieties are not told apart."""
    means = (block.T @ y) / block.sum(axis=0)
    return float(np.sum((y - block @ means) ** 2))


def _nought_if_noise(error: float, y: Floats) -> float:
    """What rounding leaves of an error that is truly nought."""
    return 0.0 if error <= 1e-20 * float(y @ y) else error
