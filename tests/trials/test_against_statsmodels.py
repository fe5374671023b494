"""The same figures from another library, on invented and on published data."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import statsmodels.api as sm
from published import GOMEZ, ORKNEY
from scipy.stats import studentized_range
from statsmodels.stats.multicomp import pairwise_tukeyhsd
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.proportion import proportion_confint

from evenpick.base.chance import stream
from evenpick.trials.compare import holm, tukey
from evenpick.trials.counts import count_shares, wilson
from evenpick.trials.fit import CantBeFitted, fit_blocks


def invented(seed: int, kinds: int, blocks: int, lost: int) -> tuple[list[float], list[str], list[str]]:
    dice = stream(seed, "invented trial")
    plots = [(str(b), str(k)) for b in range(blocks) for k in range(kinds)]
    kept = sorted(dice.permutation(len(plots))[lost:])
    values = [float(5 + dice.normal() + int(plots[at][0]) / 2 + int(plots[at][1])) for at in kept]
    return values, [plots[at][0] for at in kept], [plots[at][1] for at in kept]


@pytest.mark.parametrize(
    ("seed", "kinds", "blocks", "lost"), [(1, 3, 4, 0), (2, 5, 4, 3), (3, 2, 8, 2), (4, 8, 3, 4)]
)
def test_fit_of_unbalanced_blocks(seed: int, kinds: int, blocks: int, lost: int) -> None:
    values, places, names = invented(seed, kinds, blocks, lost)
    fit = fit_blocks(values, places, names)
    block = np.array([[place == str(b) for b in range(blocks)] for place in places], dtype=float)
    variety = np.array([[name == one for one in fit.varieties] for name in names], dtype=float)
    full = sm.OLS(values, np.hstack([block, variety[:, 1:]])).fit()
    without = sm.OLS(values, block).fit()
    f, p, _ = full.compare_f_test(without)
    assert (fit.f, fit.p) == pytest.approx((f, p))
    assert fit.variance == pytest.approx(full.mse_resid)
    for a, b in combinations(range(len(fit.varieties)), 2):
        contrast = np.zeros(full.params.size)
        for at, sign in ((a, 1.0), (b, -1.0)):
            if at:
                contrast[blocks + at - 1] += sign
        test = full.t_test(contrast)
        assert fit.means[a] - fit.means[b] == pytest.approx(float(np.squeeze(test.effect)))
        assert fit.standard_error(a, b) == pytest.approx(float(np.squeeze(test.sd)))


def test_tukey_without_blocks() -> None:
    values = [float(v) for row in GOMEZ.values() for v in row]
    names = [kind for kind, row in GOMEZ.items() for _ in row]
    ours, _ = tukey(fit_blocks(values, ["1"] * len(names), names), 0.05)
    theirs = pairwise_tukeyhsd(values, names)
    for a, b, _, _, low, high, _ in theirs.summary().data[1:]:
        one = next(d for d in ours if {d.first, d.second} == {a, b})
        ends = sorted((abs(float(low)), abs(float(high))))
        assert sorted((abs(one.low or 0), abs(one.high or 0))) == pytest.approx(ends, abs=1e-3)


def test_critical_range_is_scipy_s_own() -> None:
    fit = fit_blocks(*invented(5, 4, 4, 0))
    _, critical = tukey(fit, 0.05)
    assert critical * np.sqrt(2) == pytest.approx(studentized_range.ppf(0.95, 4, 9), abs=1e-5)


def test_ranges_of_shares() -> None:
    for came, sown in ((0, 7), (3, 7), (20, 20), (440, 500)):
        assert wilson(came, sown) == pytest.approx(proportion_confint(came, sown, method="wilson"), abs=1e-9)


def test_dispersion_is_that_of_the_binomial_model() -> None:
    plates = [(came, sown, kind) for kind, pairs in ORKNEY.items() for came, sown in pairs]
    counts = np.array([(came, sown - came) for came, sown, _ in plates], dtype=float)
    design = np.array([[kind == one for one in ORKNEY] for _, _, kind in plates], dtype=float)
    model = sm.GLM(counts, design, family=sm.families.Binomial()).fit()
    ours = count_shares([c for c, _, _ in plates], [s for _, s, _ in plates], [k for _, _, k in plates], 0.05)
    assert ours.dispersion == pytest.approx(model.pearson_chi2 / model.df_resid)


def test_holm() -> None:
    p = [0.04, 0.001, 0.2, 0.012, 0.012]
    assert holm(p) == pytest.approx(list(multipletests(p, method="holm")[1]))


@pytest.mark.parametrize(
    ("blocks", "kinds"), [("1111", "abcd"), ("12", "ab"), ("1122", "aabb"), ("12", "aa")]
)
def test_what_can_t_be_fitted_is_said(blocks: str, kinds: str) -> None:
    with pytest.raises(CantBeFitted):
        fit_blocks([1.0, 2.0, 3.0, 5.0][: len(blocks)], list(blocks), list(kinds))
