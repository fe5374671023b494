"""The chance to see a difference, by formula and by simulated trials (docs/design/trials.md, T7, T8)."""

from __future__ import annotations

import numpy as np
import pytest
from statsmodels.stats.power import TTestPower

from evenpick.base.chance import stream
from evenpick.trials.power import (
    blocks_needed,
    least_seen,
    pair_critical,
    power_of_pair,
)

TRIALS = 20_000


@pytest.mark.parametrize(("kinds", "blocks", "difference"), [(2, 6, 0.2), (3, 4, 0.4), (5, 6, 0.35)])
def test_t8_power_by_simulation(kinds: int, blocks: int, difference: float) -> None:
    """Variation 15 %, two varieties apart by the difference and the others midway; blocks differ at will."""
    dice = stream(11, "power", str(kinds))
    truth = np.array([1 - difference / 2, 1 + difference / 2, *[1.0] * (kinds - 2)])
    plots = truth + 0.15 * dice.normal(size=(TRIALS, blocks, kinds)) + dice.normal(size=(TRIALS, blocks, 1))
    within = plots - plots.mean(axis=2, keepdims=True)
    means = within.mean(axis=1)
    df = (kinds - 1) * (blocks - 1)
    error = ((within - means[:, None, :]) ** 2).sum(axis=(1, 2)) / df
    t = (means[:, 1] - means[:, 0]) / np.sqrt(2 * error / blocks)
    seen = np.mean(np.abs(t) > pair_critical(kinds, df))
    error_of = 4 * np.sqrt(0.25 / TRIALS)
    assert power_of_pair(difference, 0.15, kinds, blocks) == pytest.approx(seen, abs=error_of)


def test_t8_two_varieties_are_the_paired_t_of_statsmodels() -> None:
    theirs = TTestPower().power(0.2 / (0.15 * np.sqrt(2)), nobs=7, alpha=0.05)
    assert power_of_pair(0.2, 0.15, 2, 7) == pytest.approx(theirs, abs=1e-9)


def test_t7_blocks_needed_is_the_first_that_is_enough() -> None:
    for kinds in (2, 4):
        needed = blocks_needed(0.25, 0.15, kinds)
        assert needed is not None
        assert power_of_pair(0.25, 0.15, kinds, needed) >= 0.8 > power_of_pair(0.25, 0.15, kinds, needed - 1)
        assert power_of_pair(least_seen(0.15, kinds, needed), 0.15, kinds, needed) == pytest.approx(
            0.8, abs=1e-6
        )
    assert blocks_needed(0.01, 0.3, 3) is None
