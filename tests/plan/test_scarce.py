"""The first portions of an item in a year count more, so that nothing is dropped whole while others are full
(planner.md, 2a)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from evenpick.base.arrays import Floats
from evenpick.plan.cuts import Losses
from evenpick.plan.make import make_plan
from evenpick.plan.request import Candidates, Grounds, Item, Request, Supply

WEEKS = 4
GIVES = (1.0, 0.24)
"""kg by m² and week: of what gives little a metre is worth less than the second half of what gives much"""


def little_ground(worth: float) -> Request:
    """Two items of a kilogram a week, one sowing for each, and a square metre of ground for both."""
    week, both = np.tile(np.arange(WEEKS), 2), np.repeat(np.arange(2), WEEKS)
    none, full = np.zeros(2 * WEEKS, np.int64), np.ones(2 * WEEKS)
    return Request(
        Candidates(np.arange(2), ("much", "little"), np.zeros(2, np.int64), np.full(2, 0.1), np.ones(2),
                   np.full(2, 0.1), np.zeros(2)),
        (Item("much"), Item("little")),
        Grounds(("open",), np.ones((1, WEEKS)), none, both, week, full),
        1, WEEKS, np.ones((2, WEEKS)),
        Supply(both, none, week, week, np.repeat(GIVES, WEEKS)),
        scarce_share=0.3, scarce_worth=worth,
    )


def losses(worth: float, much: float, little: float) -> Floats:
    return Losses(little_ground(worth)).items(np.array([much, little]))


def test_what_is_lost_past_seven_tenths_of_a_year_counts_four_times() -> None:
    """A week's kilogram is worth 1.3 to its half and 0.7 from there: 4 are lost of a year without any."""
    assert losses(0.0, 1.0, 0.0) == pytest.approx([0.0, 4.0])
    assert losses(3.0, 1.0, 0.0) == pytest.approx([0.0, 4.0 + 3.0 * (4.0 - 2.8)])
    served = 4 * 1.3 * 0.24 * 0.5
    assert losses(3.0, 0.5, 0.5) == pytest.approx([1.4, 4.0 - served + 3.0 * (4.0 - served - 2.8)])
    assert losses(3.0, 0.5, 1.0)[1] == pytest.approx(losses(0.0, 0.5, 1.0)[1])


def test_nothing_is_dropped_whole_while_others_are_full() -> None:
    """Of thirteen things wished for on 40 m² at Leeds peas, broad beans and, but for 2 m², kale were left out
    while onions and lettuce had four fifths."""
    full, shared = (make_plan(little_ground(worth)) for worth in (0.0, 3.0))
    assert full.areas == pytest.approx([1.0, 0.0], abs=1e-3)
    assert shared.areas == pytest.approx([0.5, 0.5], abs=1e-3)
    assert shared.gap < 1e-3


def test_what_stands_already_is_the_first() -> None:
    """What stands meets the first portions: what is sown beside it counts as it did."""
    request = little_ground(3.0)
    met = np.zeros((WEEKS, 2, 2, 1))
    met[:, :, 1, 0] = 0.3
    plain = replace(request, met=met, scarce_worth=0.0)
    areas = np.array([1.0, 0.5])
    assert Losses(replace(request, met=met)).items(areas)[1] == pytest.approx(Losses(plain).items(areas)[1])
