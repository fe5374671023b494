"""The analyses against the answers that were printed with the data (docs/design/trials.md, T10 to T22)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import pytest
from published import BLOOD, GOMEZ, MAIZE, MANGOLDS, ORKNEY, ROUNDING, SLEEP, WARPBREAKS, YATES

from evenpick.trials.compare import dunnett, dunnett_critical, letters, tukey
from evenpick.trials.counts import count_shares, wilson
from evenpick.trials.fit import Fit, fit_blocks
from evenpick.trials.power import pair_critical
from evenpick.trials.scores import rank_scores


def in_blocks(table: Mapping[str, Sequence[float | None]]) -> Fit:
    """A fit to {variety: a value a block}; None is a lost plot."""
    found = [
        (value, str(block), variety)
        for variety, values in table.items()
        for block, value in enumerate(values)
        if value is not None
    ]
    return fit_blocks([v for v, _, _ in found], [b for _, b, _ in found], [k for _, _, k in found])


def paired(pairs: Sequence[tuple[float, float]]) -> Fit:
    return in_blocks({"first": [a for a, _ in pairs], "second": [b for _, b in pairs]})


def test_t10_complete_blocks() -> None:
    """gomez1984 p. 29 prints F = 2.17 ns and a variation of 6.7 % (memory of the page)."""
    fit = in_blocks(GOMEZ)
    assert round(fit.f, 2) == 2.17
    assert fit.p > 0.05
    assert round(100 * np.sqrt(fit.variance) / fit.means.mean(), 1) == 6.7
    assert not any(one.told for one in tukey(fit, 0.05)[0])


def test_t11_lost_plots_get_the_means_that_yates_filled_in() -> None:
    """yates1933: the means after filling each missing plot by his formula are the adjusted means.

    agridat says of its data that least squares gives the same values for the missing plots as Yates printed.
    """
    fit = in_blocks(YATES)
    assert fit.df == 7 * 9 - 9
    filled = {kind: list(values) for kind, values in YATES.items()}
    for _ in range(60):  # Yates' own way: each plot from the totals of its block, its variety and the whole
        for kind, values in YATES.items():
            for block, value in enumerate(values):
                if value is None:
                    filled[kind][block] = yates_formula(filled, kind, block)
    means = [np.mean(filled[kind]) for kind in fit.varieties]
    assert fit.means == pytest.approx(means, abs=1e-9)


def yates_formula(table: Mapping[str, list[float | None]], kind: str, block: int) -> float:
    """(t T + b B − G) / ((t − 1)(b − 1)), totals without the plot itself (yates1933)."""
    known = {k: [v or 0.0 for v in values] for k, values in table.items()}
    own = known[kind][block]
    variety = sum(known[kind]) - own
    in_block = sum(values[block] for values in known.values()) - own
    whole = sum(map(sum, known.values())) - own
    kinds, blocks = len(known), len(known[kind])
    return (kinds * variety + blocks * in_block - whole) / ((kinds - 1) * (blocks - 1))


def test_t12_pairs_are_the_paired_t_of_fisher() -> None:
    """fisher1935 (17) on Darwin's maize: mean difference 20.93 eighths of an inch, t = 2.148."""
    fit = paired(MAIZE)
    (one,), _ = tukey(fit, 0.05)
    assert round(8 * one.estimate, 2) == 20.93
    assert round(np.sqrt(fit.f), 3) == 2.148
    assert one.told
    assert one.p < 0.05


def test_t12_pairs_have_the_interval_that_r_prints() -> None:
    """student1908 by R's t.test: difference −1.58, 95 % from −2.4598858 to −0.7001142, p = 0.002833."""
    (one,), _ = tukey(paired(SLEEP), 0.05)
    assert (one.first, round(one.estimate, 2)) == ("second", 1.58)
    assert (round(one.low or 0, 7), round(one.high or 0, 7)) == (0.7001142, 2.4598858)
    assert round(one.p, 6) == 0.002833


def test_t13_all_pairs_as_tukey_hsd_prints_them() -> None:
    """R's TukeyHSD of warpbreaks, wool + tension: three pairs with intervals and p."""
    found = [(value, wool, tension) for (wool, tension), values in WARPBREAKS.items() for value in values]
    differences, _ = tukey(fit_blocks(*map(list, zip(*found, strict=True))), 0.05)  # type: ignore[arg-type]
    printed = {
        "LM": (10.000000, 0.6465793, 19.35342, 0.0336262),
        "LH": (14.722222, 5.3688015, 24.07564, 0.0011218),
        "MH": (4.722222, -4.6311985, 14.07564, 0.4474210),
    }
    for one in differences:
        expected = printed[one.first + one.second]
        assert (one.estimate, one.low, one.high, one.p) == pytest.approx(expected, abs=6e-6)
    assert letters("LMH", differences) == {"L": "a", "M": "b", "H": "b"}


def test_t13_the_studentized_range_of_the_tables() -> None:
    """q at 5 %: 3.77 (3, 12), 4.60 (6, 15), 5.01 (10, 20) in the usual tables (memory)."""
    for kinds, df, q in ((3, 12, 3.77), (6, 15, 4.60), (10, 20, 5.01)):
        assert pair_critical(kinds, df) * np.sqrt(2) == pytest.approx(q, abs=0.006)


def test_t14_dunnett_s_own_example_and_table() -> None:
    """dunnett1955: drug B differs from the control, A does not; scipy's documentation: p = 0.620, 0.0059.

    Two-sided 5 % points, equal numbers, 20 degrees of freedom: 2.38, 2.54, 2.65, 2.73 (dunnett1964, memory).
    """
    kinds = [kind for kind, values in BLOOD.items() for _ in values]
    fit = fit_blocks([value for values in BLOOD.values() for value in values], ["1"] * len(kinds), kinds)
    differences, _ = dunnett(fit, "control", 0.05)
    assert [(one.first, one.told) for one in differences] == [("B", True), ("A", False)]
    assert [one.p for one in differences] == pytest.approx([0.0059, 0.620], abs=4e-4)
    for others, point in ((2, 2.38), (3, 2.54), (4, 2.65), (5, 2.73)):
        half = tuple(tuple(1.0 if a == b else 0.5 for a in range(others)) for b in range(others))
        assert dunnett_critical(half, 20, 0.05) == pytest.approx(point, abs=0.006)


def test_t17_friedman_as_hollander_and_wolfe_have_it() -> None:
    """hollander1973 by R's friedman.test: chi-square 11.143, p = 0.003805 (ours is by shuffling)."""
    ranked = rank_scores(("round", "narrow", "wide"), np.array(ROUNDING), 0.05)
    assert round(ranked.chi_square, 3) == 11.143
    assert ranked.p == pytest.approx(0.0038, abs=0.0015)
    assert [one.told for one in ranked.differences] == [False, True, True]


def test_t19_the_ranges_of_shares() -> None:
    """newcombe1998 table I, methods 3 and 5 (memory); Mendel's peas by R's binom.test."""
    printed = {
        (81, 263): (0.2553, 0.3662),
        (15, 148): (0.0624, 0.1605),
        (0, 20): (0, 0.1611),
        (1, 29): (0.0061, 0.1718),
    }
    for (came, sown), ends in printed.items():
        assert wilson(came, sown) == pytest.approx(ends, abs=6e-5)


def test_t20_crowder_s_seeds_vary_beyond_chance() -> None:
    """crowder1978: totals; Pearson's chi-square 31.65 on 17: plain ranges are too narrow by a third."""
    plates = [(came, sown, kind) for kind, pairs in ORKNEY.items() for came, sown in pairs]
    counted = count_shares(*map(list, zip(*plates, strict=True)), 0.05)  # type: ignore[arg-type]
    assert {one.variety: (one.came, one.sown) for one in counted.shares} == {
        "O75 bean": (99, 272),
        "O73 bean": (49, 123),
        "O75 cucumber": (201, 295),
        "O73 cucumber": (75, 141),
    }
    assert counted.dispersion is not None
    assert counted.dispersion * 17 == pytest.approx(31.651, abs=1e-3)
    best = counted.shares[0]
    plain = wilson(best.came, best.sown)
    assert (best.high - best.low) / (plain[1] - plain[0]) > 1.3
    assert {(one.first, one.second) for one in counted.differences if one.told} == {
        ("O75 cucumber", "O75 bean"),
        ("O75 cucumber", "O73 bean"),
    }


def test_what_was_treated_alike_is_not_told_apart() -> None:
    """fisher.latin of agridat: mangolds under dummy treatments; rows of the square as blocks."""
    square, yields = MANGOLDS
    table = {
        kind: [float(row[line.index(kind)]) for line, row in zip(square, yields, strict=True)]
        for kind in "ABCDE"
    }
    assert not any(one.told for one in tukey(in_blocks(table), 0.05)[0])
