"""Which count a tree branches on (planner.md, 10)."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from evenpick.plan.branching import Gains, most_promising


def promised(gains: Gains, rest: np.ndarray) -> int:
    every = gains.likely(len(rest))
    return most_promising(every * rest, every * (1.0 - rest), rest > 0)


def test_before_anything_was_gained_the_count_nearest_to_a_half() -> None:
    rest = np.array([0.1, 0.9, 0.45, 0.0, 0.7])
    assert promised(Gains(), rest) == 2
    vain = Gains()
    vain.learn(2, 0.0)
    assert promised(vain, rest) == 2


def test_what_gained_before_draws_branching_near() -> None:
    gains = Gains()
    gains.learn(3, 0.1)
    gains.learn(30, 5.0)
    likely = gains.likely(40)
    assert int(likely.argmax()) == 30
    assert int(likely.argmin()) == 3
    assert likely[29] > likely[20] > likely[10]
    rest = np.full(40, 0.5)
    assert promised(gains, rest) == 30


@given(st.lists(st.tuples(st.integers(0, 19), st.floats(0.0, 10.0)), max_size=30))
def test_what_is_likely_lies_within_what_was_seen(seen: list[tuple[int, float]]) -> None:
    gains = Gains()
    for count, gained in seen:
        gains.learn(count, gained)
    likely = gains.likely(20)
    if any(gained for _, gained in seen):
        low, high = min(g for _, g in seen), max(g for _, g in seen)
        assert np.all((likely >= low - 1e-9) & (likely <= high + 1e-9))
    else:
        assert np.all(likely == 1.0)
