"""Which count a tree branches on (planner.md, 10)."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from evenpick.plan.branching import Gains


def promised(gains: Gains, rest: np.ndarray) -> int:
    return gains.most_promising(rest, rest > 0)


def test_before_anything_was_gained_the_count_nearest_to_a_half() -> None:
    rest = np.array([0.1, 0.9, 0.45, 0.0, 0.7])
    assert promised(Gains(), rest) == 2
    vain = Gains()
    vain.learn(2, 0.0, 0.0)
    assert promised(vain, rest) == 2


def test_what_gained_before_draws_branching_near() -> None:
    gains = Gains()
    gains.learn(3, 0.1, 0.1)
    gains.learn(30, 5.0, 5.0)
    for likely in gains.likely(40):
        assert int(likely.argmax()) == 30
        assert int(likely.argmin()) == 3
        assert likely[29] > likely[20] > likely[10]
    rest = np.full(40, 0.5)
    assert promised(gains, rest) == 30


@given(st.lists(st.tuples(st.integers(0, 19), st.floats(0.0, 10.0), st.floats(0.0, 10.0)), max_size=30))
def test_what_is_likely_lies_within_what_was_seen(seen: list[tuple[int, float, float]]) -> None:
    gains = Gains()
    for count, fewer, more in seen:
        gains.learn(count, fewer, more)
    for likely, gained in zip(gains.likely(20), (gains.fewer, gains.more), strict=True):
        if any(gained):
            assert np.all((likely >= min(gained) - 1e-9) & (likely <= max(gained) + 1e-9))
        else:
            assert np.all(likely == 1.0)
