"""Layouts are whole, fit their beds and are fair (docs/design/trials.md, T1 to T6)."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import chisquare

from evenpick.base.errors import BadTrial
from evenpick.trials.layout import Bed, blocks_that_fit, lay_out

BEDS = (Bed("north", 8.0), Bed("south", 12.0))


@settings(max_examples=60)
@given(st.integers(2, 8), st.integers(2, 10), st.integers(0, 1000), st.floats(0.2, 3), st.floats(0, 1))
def test_t1_every_variety_once_in_every_block(
    kinds: int, blocks: int, seed: int, length: float, guard: float
) -> None:
    varieties = [f"variety {at}" for at in range(kinds)]
    layout = lay_out("any", varieties, blocks, (), length, guard, seed)
    assert [plot.number for plot in layout.plots] == list(range(1, kinds * blocks + 1))
    for block in range(1, blocks + 1):
        assert sorted(plot.variety for plot in layout.plots if plot.block == str(block)) == sorted(varieties)


def test_t3_blocks_lie_whole_between_the_guards() -> None:
    layout = lay_out("leeks", ["A", "B", "C"], None, BEDS, 1.5, 0.5, 7)
    assert layout.blocks == 3
    for bed in BEDS:
        plots = [plot for plot in layout.plots if plot.bed == bed.name]
        assert min(plot.start or 0 for plot in plots) == 0.5
        assert max(plot.end or 0 for plot in plots) <= bed.length - 0.5
        assert all(one.end == two.start for one, two in pairwise(plots))
    assert blocks_that_fit(4, Bed("exact", 7.0), 1.5, 0.5) == 1


def test_t2_the_seed_makes_the_order_and_nothing_else_does() -> None:
    one = lay_out("leeks", "ABCDEFGH", 6, (), 2.0, 0.5, 7)
    assert one == lay_out("leeks", "ABCDEFGH", 6, (), 2.0, 0.5, 7)
    assert one.plots != lay_out("leeks", "ABCDEFGH", 6, (), 2.0, 0.5, 8).plots
    assert one.plots[:24] == lay_out("leeks", "ABCDEFGH", 3, (), 2.0, 0.5, 7).plots


def test_t2_every_variety_in_every_place_about_equally_often() -> None:
    """Chi-square over 2,000 seeds: variety by place in the block, and which variety follows which."""
    kinds, places, follows = "ABCD", Counter[tuple[str, int]](), Counter[tuple[str, str]]()
    for seed in range(2000):
        plots = lay_out("fair", kinds, 2, (), 1.0, 0.0, seed).plots[:4]
        places.update((plot.variety, plot.number) for plot in plots)
        follows.update((one.variety, two.variety) for one, two in pairwise(plots))
    assert len(places) == 16
    assert chisquare(list(places.values()), ddof=6).pvalue > 0.01  # rows and columns are given: 9 are free
    assert len(follows) == 12
    assert chisquare(list(follows.values())).pvalue > 0.01


def test_t2_blocks_are_ordered_apart_from_each_other() -> None:
    same = sum(
        [plot.variety for plot in plots[:3]] == [plot.variety for plot in plots[3:]]
        for plots in (lay_out("apart", "ABC", 2, (), 1.0, 0.0, seed).plots for seed in range(1200))
    )
    assert 150 <= same <= 250  # a sixth: 200, standard deviation 13


@pytest.mark.parametrize(
    ("varieties", "blocks", "beds", "standard", "said"),
    [
        (["A"], 3, (), None, "Name 2 to 26"),
        (["A", "a"], 3, (), None, "named twice"),
        (["A", " "], 3, (), None, "no name"),
        (["A", "B"], 1, (), None, "one block tells nothing"),
        (["A", "B"], 99, (), None, "Give 2 to 60"),
        (["A", "B"], None, (), None, "neither the number"),
        (["A", "B"], 9, BEDS, None, "hold 6 blocks, and 9"),
        (["A", "B", "C"], None, (Bed("short", 5.0),), None, "hold 1 block, and 2"),
        (["A", "B"], 3, (), "C", "not among"),
        (["A", "B"], 2, (Bed("x", 9.0), Bed("x", 9.0)), None, "named twice"),
    ],
)
def test_what_can_t_be_laid_is_told(
    varieties: list[str], blocks: int | None, beds: tuple[Bed, ...], standard: str | None, said: str
) -> None:
    with pytest.raises(BadTrial, match=said):
        lay_out("bad", varieties, blocks, beds, 1.25, 0.5, 1, standard)
