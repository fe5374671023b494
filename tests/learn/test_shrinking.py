"""Shrunk effects against the textbook (docs/design/learning.md, 1)."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from evenpick.base.chance import stream
from evenpick.learn.shrinking import TIMING, Evidence, Spread, shrink


def test_no_record_gives_the_prior_back() -> None:
    belief = shrink([], TIMING).belief("carrot")
    prior = np.sqrt(TIMING.site**2 + TIMING.crop**2 + TIMING.residual**2)
    assert (belief.mean, belief.freedom, belief.records) == (0.0, 8.0, 0)
    assert belief.sd == pytest.approx(prior)


def test_the_posterior_is_that_of_a_gaussian_with_the_same_covariance() -> None:
    """Given σ, effects are jointly normal with the records: condition numerically (any text on Gaussian
    regression; rasmussen2006 eq. 2.19 has this form)."""
    y = np.array([0.2, 0.1, -0.1])
    kinds = (("carrot", "", "open"), ("carrot", "early", "open"), ("pea", "", "tunnel"))
    records = [Evidence(*kind, each) for kind, each in zip(kinds, y, strict=True)]
    effects = np.array([[1, 1, 0, 0, 0], [1, 1, 1, 0, 0], [1, 0, 0, 1, 1]], dtype=float)
    prior = np.diag([TIMING.site, TIMING.crop, TIMING.variety, TIMING.crop, TIMING.cover]) ** 2
    joint = effects @ prior @ effects.T + TIMING.residual**2 * np.eye(3)
    expected = prior @ effects.T @ np.linalg.solve(joint, y)
    assert shrink(records, TIMING, robust=False).mean == pytest.approx(expected)


def test_the_evidence_of_the_residual_is_inverse_gamma() -> None:
    """σ² | y ~ IG(a₀ + n/2, b₀ + ½ yᵀ(I + X V Xᵀ)⁻¹y): gelman2013, section 14.8, in this parametrisation."""
    y = np.array([0.5, -0.3])
    found = shrink([Evidence("carrot", "", "open", each) for each in y], TIMING, robust=False)
    ratio = (TIMING.site**2 + TIMING.crop**2) / TIMING.residual**2
    misfit = y @ np.linalg.solve(np.eye(2) + ratio * np.ones((2, 2)), y)
    assert found.shape == TIMING.shape + 1
    assert found.scale == pytest.approx(TIMING.shape * TIMING.residual**2 + misfit / 2)


def test_a_record_from_unmeasured_weather_counts_less() -> None:
    sure, unsure = (shrink([Evidence("pea", "", "open", 0.2, sd)], TIMING, robust=False) for sd in (0.0, 0.3))
    assert 0 < unsure.belief("pea").mean < sure.belief("pea").mean < 0.2


def test_a_wrong_record_does_not_rule() -> None:
    good = [Evidence("pea", "", "open", 0.10 + 0.02 * k) for k in range(-3, 4)]
    wrong = Evidence("pea", "", "open", 1.0)
    robust, plain = (shrink([*good, wrong], TIMING, robust=each).belief("pea").mean for each in (True, False))
    without = shrink(good, TIMING).belief("pea").mean
    assert abs(robust - without) < 0.3 * abs(plain - without)
    assert shrink([*good, wrong], TIMING).weights[-1] < 0.2


def test_eight_in_ten_of_what_comes_next_lie_in_the_band() -> None:
    """Growers drawn from the prior itself, three records each: the 80 % band of the fourth holds 80 %."""
    dice, inside = stream(7, "growers"), 0
    spread = Spread(site=0.15, crop=0.18, variety=0.07, cover=0.07, residual=0.09)
    for _ in range(600):
        variance = spread.residual**2 * spread.shape / dice.gamma(spread.shape)
        scale = np.sqrt(variance) / spread.residual
        centre = scale * (spread.site * dice.normal() + spread.crop * dice.normal())
        y = centre + np.sqrt(variance) * dice.normal(size=4)
        records = [Evidence("pea", "", "open", each) for each in y[:3]]
        belief = shrink(records, spread, robust=False).belief("pea")
        inside += abs(y[3] - belief.mean) <= belief.sd * stats.t.ppf(0.9, belief.freedom)
    assert inside / 600 == pytest.approx(0.8, abs=0.045)
