"""From a sheet to a verdict: what is told apart, what is not, and what is said of the figures."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenpick.base.chance import stream
from evenpick.base.errors import BadTrial
from evenpick.trials.checks import outlier, spreads_with_size
from evenpick.trials.compare import Difference, letters
from evenpick.trials.fit import fit_blocks
from evenpick.trials.judge import judge
from evenpick.trials.scores import rank_scores, tastings_needed
from evenpick.trials.sheet import Sheet
from evenpick.trials.sheet_reading import against, read_sheet
from evenpick.trials.verdict import Judged

KINDS = "ABC"


def sheet(
    column: str,
    cell: Callable[[int, str], object],
    blocks: int = 4,
    kinds: Sequence[str] = KINDS,
    extra: Callable[[int, str], str] = lambda block, kind: "",
) -> Sheet:
    """A sheet with one measured column; `extra` is what stands under lost."""
    lines = [f"plot,block,variety,{column},lost"]
    plots = [(block, kind) for block in range(blocks) for kind in kinds]
    lines += [
        f"{at},{block},{kind},{cell(block, kind)},{extra(block, kind)}"
        for at, (block, kind) in enumerate(plots, 1)
    ]
    return read_sheet("\n".join(lines), "invented.csv")


def noisy(steps: dict[str, float], seed: int = 1, spread: float = 0.2) -> Callable[[int, str], str]:
    dice = stream(seed, "judge")
    return lambda block, kind: f"{5 + steps[kind] + block / 2 + spread * dice.normal():.4f}"


def only(found: Sheet, ratios: bool = False) -> Judged:
    (one,) = judge(found, ratios=ratios).judged
    return one


def test_a_clear_winner() -> None:
    one = only(sheet("weight_kg", noisy({"A": 0.0, "B": 3.0, "C": 0.1})))
    assert one.standings[0].variety == "B"
    assert {(pair.first, pair.second) for pair in one.told} == {("B", "A"), ("B", "C")}
    assert {standing.variety: standing.group for standing in one.standings} == {"B": "a", "A": "b", "C": "b"}


def test_alike_is_not_told_apart_and_what_could_be_seen_is_told() -> None:
    one = only(sheet("weight_kg", noisy({"A": 0.0, "B": 0.0, "C": 0.0})))
    assert not one.told
    assert one.could_see is not None
    assert 0.3 < one.could_see < 1.5


def test_fewer_days_come_first() -> None:
    one = only(sheet("days_to_picking", noisy({"A": 60.0, "B": 50.0, "C": 70.0})))
    assert [standing.variety for standing in one.standings] == ["B", "A", "C"]
    assert one.standings[0].group == "a"


def test_units_are_brought_to_kg() -> None:
    pounds = only(sheet("weight_lb", noisy({"A": 0.0, "B": 3.0, "C": 0.0})))
    kilos = only(sheet("weight_kg", noisy({"A": 0.0, "B": 3.0, "C": 0.0})))
    assert pounds.standings[0].figure == pytest.approx(0.45359237 * kilos.standings[0].figure)


def test_against_a_standard_only_pairs_with_it() -> None:
    one = only(against(sheet("weight_kg", noisy({"A": 0.0, "B": 3.0, "C": 0.1})), "a"))
    assert [(pair.first, pair.second, pair.told) for pair in one.differences] == [
        ("B", "A", True),
        ("C", "A", False),
    ]
    assert one.method == "against the standard"
    with pytest.raises(BadTrial, match="not in the trial"):
        against(sheet("weight_kg", noisy({"A": 0, "B": 0, "C": 0})), "Z")


def test_a_lost_plot_is_neither_nought_nor_blank() -> None:
    cell = noisy({"A": 0.0, "B": 3.0, "C": 0.1})
    lost = sheet(
        "weight_kg",
        lambda b, k: "" if (b, k) == (1, "B") else cell(b, k),
        extra=lambda b, k: "slugs" if (b, k) == (1, "B") else "",
    )
    verdict = judge(lost)
    assert verdict.lost == ((5, "B", "slugs"),)
    assert verdict.judged[0].left_out == 0
    assert {s.variety: (s.plots, s.lost) for s in verdict.judged[0].standings}["B"] == (3, 1)
    assert verdict.judged[0].standings[0].figure == pytest.approx(8.7, abs=0.5)
    blank = sheet("weight_kg", lambda b, k: "" if (b, k) == (1, "B") else cell(b, k))
    assert judge(blank).judged[0].left_out == 1


def test_ratios_are_of_adjusted_means_in_logs() -> None:
    dice = stream(3, "ratios")
    one = only(
        sheet(
            "weight_kg",
            lambda b, k: f"{(b + 1) * {'A': 1, 'B': 2, 'C': 1}[k] * np.exp(0.05 * dice.normal())}",
        ),
        ratios=True,
    )
    best = one.differences[0]
    assert best.first == "B"
    assert best.low is not None
    assert best.high is not None
    assert best.low < 1.0 < best.high
    assert best.estimate == pytest.approx(1.0, abs=0.15)
    nought = only(sheet("weight_kg", lambda b, k: b), ratios=True)
    assert "nought" in nought.why_not


@pytest.mark.parametrize(
    ("column", "cell", "blocks", "said"),
    [
        ("weight_kg", lambda b, k: 2, 4, "measure more finely"),
        ("weight_kg", lambda b, k: b + ord(k), 1, "two blocks"),
        ("weight_kg", lambda b, k: b if k == "A" else "", 4, "fewer than two varieties"),
        ("weight_kg", lambda b, k: b * 1.1 if (k == "A") == (b < 2) else "", 4, "never stood in one block"),
        ("taste", lambda b, k: 3, 1, "two tastings"),
    ],
)
def test_what_can_t_be_judged_is_said(
    column: str, cell: Callable[[int, str], object], blocks: int, said: str
) -> None:
    one = only(sheet(column, cell, blocks))
    assert one.method == "none"
    assert said in one.why_not


def test_one_plot_far_off_is_named() -> None:
    cell = noisy({"A": 0.0, "B": 3.0, "C": 0.1})
    one = only(sheet("weight_kg", lambda b, k: 50 if (b, k) == (2, "C") else cell(b, k)))
    assert one.doubt is not None
    assert (one.doubt.plot, one.doubt.variety, one.doubt.changes) == (9, "C", True)
    assert one.doubt.expected == pytest.approx(6.1, abs=1.0)


def test_t23_an_outlier_is_named_in_one_trial_of_twenty_or_fewer() -> None:
    dice, kinds, places = (
        stream(5, "outliers"),
        list("ABCD") * 5,
        [str(b) for b in range(5) for _ in range(4)],
    )
    named = 0
    for _ in range(400):
        values = [float(v) for v in dice.normal(size=20)]
        named += outlier(values, fit_blocks(values, places, kinds)) is not None
    assert named / 400 <= 0.05 + 2.5 * np.sqrt(0.05 * 0.95 / 400)


def test_t24_spread_that_grows_with_size_is_seen() -> None:
    dice, kinds, places = stream(6, "spread"), list("ABCD") * 6, [str(b) for b in range(6) for _ in range(4)]
    grown = level = 0
    for _ in range(200):
        noise = dice.normal(size=24)
        size = np.array([4.0 ** "ABCD".index(kind) for kind in kinds])
        grown += spreads_with_size(fit_blocks((size * np.exp(0.3 * noise)).tolist(), places, kinds))
        level += spreads_with_size(fit_blocks((size + noise).tolist(), places, kinds))
    assert grown / 200 > 0.8
    assert level / 200 < 0.11


def test_t16_tasters_are_the_tastings_where_one_block_was_tasted() -> None:
    names = [f"taste_t{at}" for at in range(8)]
    lines = [f"plot,block,variety,{','.join(names)}"]
    lines += [
        f"{at},1,{kind},{','.join([score] * 8)}"
        for at, (kind, score) in enumerate(zip("ABC", "125", strict=True), 1)
    ]
    one = only(read_sheet("\n".join(lines), "t.csv"))
    assert one.tastings == 8
    assert [standing.variety for standing in one.standings] == ["C", "B", "A"]
    assert len(one.told) == 3


def test_t18_too_few_tastings_tell_nothing_and_say_so() -> None:
    one = only(sheet("taste", lambda b, k: "135"["ABC".index(k)], 4))
    assert not one.told
    assert (one.tastings, one.tastings_needed) == (4, 7)
    assert one.p is not None
    assert one.p < 0.05
    assert only(sheet("taste", lambda b, k: "135"["ABC".index(k)], 7)).told
    assert [tastings_needed(pairs, 0.05) for pairs in (1, 3, 6)] == [6, 7, 8]


@settings(max_examples=25)
@given(st.lists(st.lists(st.integers(1, 5), min_size=3, max_size=3), min_size=2, max_size=9))
def test_t16_only_the_order_within_a_tasting_counts(scores: list[list[int]]) -> None:
    table = np.array(scores, dtype=float)
    stretched = np.exp(table) + np.arange(len(table))[:, None]
    one, two = rank_scores("ABC", table, 0.05), rank_scores("ABC", stretched, 0.05)
    assert (one.differences, one.p, one.mean_ranks) == (two.differences, two.p, two.mean_ranks)


def test_seeds_of_one_plot_each_are_held_to_fisher_s_exact_test() -> None:
    """fisher1935: the lady tasting tea, 3 of 4 and 1 of 4: p = 0.486 two-sided."""
    found = read_sheet("plot,block,variety,came_up,sown\n1,1,A,3,4\n2,1,B,1,4", "t.csv")
    (pair,) = only(found).differences
    assert round(pair.p, 3) == 0.486
    assert not pair.told


@settings(max_examples=80)
@given(
    st.integers(2, 7).flatmap(
        lambda k: st.tuples(st.just(k), st.sets(st.tuples(st.integers(0, k - 1), st.integers(0, k - 1))))
    )
)
def test_t15_letters_are_shared_just_by_those_not_told_apart(drawn: tuple[int, set[tuple[int, int]]]) -> None:
    count, pairs = drawn
    names = [f"v{at}" for at in range(count)]
    apart = {frozenset((names[a], names[b])) for a, b in pairs if a != b}
    marks = letters(names, [Difference(*sorted(pair), 0.0, None, None, 0.0, True) for pair in apart])
    for one in names:
        assert marks[one]
        for two in names:
            if one != two:
                assert bool(set(marks[one]) & set(marks[two])) == (frozenset((one, two)) not in apart)


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.floats(0.1, 10), st.floats(-50, 50))
def test_the_verdict_does_not_hang_on_units_or_on_the_order_of_lines(
    seed: int, scale: float, shift: float
) -> None:
    cells = {
        (b, k): 100 + 10 * float(stream(seed, "any", str(b), k).normal()) for b in range(4) for k in KINDS
    }
    one = only(sheet("weight_kg", lambda b, k: repr(cells[b, k])))
    two = only(sheet("weight_kg", lambda b, k: repr(cells[b, k] * scale + shift + 60), kinds="CBA"))
    assert {frozenset((p.first, p.second)) for p in one.told} == {
        frozenset((p.first, p.second)) for p in two.told
    }
    assert one.p == pytest.approx(two.p, rel=1e-4)


def test_nothing_recorded_is_nothing_judged() -> None:
    assert judge(sheet("weight_kg", lambda b, k: "")).judged == ()
