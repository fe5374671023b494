"""The planner's compiled loops against plain counting."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from evenpick.base.arrays import Floats
from evenpick.plan.loops import ranked


@given(
    arrays(np.float64, st.tuples(st.integers(1, 4), st.integers(1, 12)),
           elements=st.integers(0, 3).map(float)),
    st.integers(1, 14),
)
def test_ranks_are_those_of_a_stable_sort_from_the_greatest_on(values: Floats, ranks: int) -> None:
    due, rest = 10.0 + np.arange(ranks, dtype=np.float64), -1.0
    found, columns = np.empty(values.shape), values.shape[1]
    ranked(values, due, rest, np.empty(ranks, dtype=np.int64), found)
    order = np.argsort(-values, axis=1, kind="stable")
    by_rank = np.append(due, np.full(columns, rest))[:columns]
    assert np.array_equal(np.take_along_axis(found, order, axis=1), np.tile(by_rank, (len(values), 1)))
