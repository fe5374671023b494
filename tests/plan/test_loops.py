"""Compiled loops: they load soon because they make no arrays."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from numba.core.errors import NumbaError

from evenpick.base.arrays import Floats
from evenpick.base.compiled import compiled
from evenpick.plan.loops import ranked


def sums(count: int) -> float:
    return float(np.zeros(count).sum())


def test_a_loop_that_makes_an_array_is_refused() -> None:
    with pytest.raises(NumbaError):
        compiled("f8(i8)")(sums)


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
