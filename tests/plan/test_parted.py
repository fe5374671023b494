"""Whose it is that is picked where farms fill the same wishes (docs/design/cooperative.md, 5). Invented."""

from __future__ import annotations

import numpy as np
import pytest

from evenpick.base.chance import stream
from evenpick.plan.measure import evaluate
from evenpick.plan.parted import parted
from evenpick.plan.request import Supply

NONE = np.zeros(2, np.int64)


def test_two_farms_with_all_that_is_asked_pick_a_half_each() -> None:
    """Each has 10 kg ripe in week 1 and good in week 2; 10 kg are wanted in both weeks."""
    supply = Supply(np.arange(2), NONE, NONE + 1, NONE + 2, np.full(2, 10.0))
    wanted = np.array([[0.0, 10.0, 10.0, 0.0]])
    found = parted(NONE, np.arange(2), np.ones(2), supply, wanted, 1, 2)
    assert found[:, 0, :, 0].tolist() == [[0.0, 5.0, 5.0, 0.0]] * 2


def test_what_goes_over_first_is_picked_first_whosever_it_is() -> None:
    supply = Supply(np.arange(2), NONE, NONE + 1, np.array([1, 2]), np.array([8.0, 10.0]))
    found = parted(NONE, np.arange(2), np.ones(2), supply, np.array([[0.0, 10.0, 10.0]]), 1, 2)
    assert found[:, 0, :, 0] == pytest.approx(np.array([[0.0, 8.0, 0.0], [0.0, 2.0, 8.0]]))


@pytest.mark.parametrize("seed", range(4))
def test_the_parts_are_the_whole(seed: int) -> None:
    """In every week and year what all farms pick is what is used and goes over of all of it together."""
    chance = stream(seed, "parted")
    n, entries, years, weeks = 12, 200, 5, 20
    ripe = chance.integers(0, weeks, entries)
    supply = Supply(chance.integers(0, n, entries), chance.integers(0, years, entries), ripe,
                    ripe + chance.integers(0, 6, entries), chance.uniform(0, 3, entries))
    item, farm, areas = chance.integers(0, 3, n), chance.integers(0, 4, n), chance.uniform(0, 2, n)
    wanted = chance.uniform(0, 3, (3, weeks))
    whole = evaluate(item, areas, supply, wanted, years)
    parts = parted(item, farm, areas, supply, wanted, years, 4)
    np.testing.assert_allclose(parts.sum(axis=0), whole.used + whole.over, atol=1e-6)
    assert (parts >= 0).all()
