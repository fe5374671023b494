"""Searching running totals (docs/design/outlook.md, O2), against a loop and a fine integral."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from evenpick.base.arrays import Floats
from evenpick.crops import clock as clocks
from evenpick.crops.clock import NEARLY, at_days, clock, hasten, looked_up, mean_between, means

DAYS = 30
# tenths and noughts: sums that tie exactly in decimals are the hardest for binary fractions
TENTHS = st.integers(0, 200).map(lambda n: n / 10)
RATES = arrays(np.float64, (3, DAYS), elements=st.one_of(st.just(0.0), TENTHS))
STARTS = arrays(np.int64, (3, 4), elements=st.integers(0, DAYS))


@pytest.fixture(autouse=True, params=[False, True], ids=["arrays", "loops"])
def either_way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clocks, "_loops", None)
    if request.param:
        hasten()


def loop(rate: Floats, start: int, need: float) -> int:
    heap = 0.0
    for day in range(start, rate.size):
        heap += rate[day]
        if heap >= need - NEARLY:
            return day
    return int(rate.size)


@settings(max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(RATES, STARTS, st.integers(0, 4000).map(lambda n: n / 10))
def test_reach_is_the_first_day_with_enough(rate: Floats, start: np.ndarray, need: float) -> None:
    made = clock(rate)
    day = made.reach(start, need)
    assert (day >= start).all()
    assert day.tolist() == [[loop(rate[y], s, need) for s in start[y]] for y in range(3)]


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(RATES, STARTS, arrays(np.float64, (3, 1), elements=TENTHS))
def test_more_takes_no_less_time(rate: Floats, start: np.ndarray, need: Floats) -> None:
    made = clock(rate)
    assert made.reach(start, need).tolist() == [
        [loop(rate[y], s, float(need[y, 0])) for s in start[y]] for y in range(3)
    ]
    assert (made.reach(start, need + 1) >= made.reach(start, need)).all()


def test_a_hopeless_need_stays_in_its_own_year() -> None:
    rate = np.full((60, 800), 20.0)
    assert (clock(rate).reach(np.zeros((60, 1), dtype=np.int64), 20_000.0) == 800).all()


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(RATES, STARTS, STARTS)
def test_between_and_rate_give_back_what_went_in(rate: Floats, a: np.ndarray, b: np.ndarray) -> None:
    made = clock(rate)
    first, last = np.minimum(a, b), np.maximum(a, b)
    wanted = [[rate[y, f:t].sum() for f, t in zip(first[y], last[y], strict=True)] for y in range(3)]
    np.testing.assert_allclose(made.between(first, last), wanted, atol=1e-6)
    np.testing.assert_allclose(made.rate, rate, atol=1e-6)
    assert (made.rate >= 0).all()


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(RATES, STARTS, STARTS)
def test_mean_between_takes_at_least_a_day_of_the_axis(rate: Floats, a: np.ndarray, b: np.ndarray) -> None:
    got = mean_between(means(rate), a, b)
    for y in range(3):
        for i in range(4):
            first = min(int(a[y, i]), DAYS - 1)
            days = rate[y, first : max(int(b[y, i]), first + 1)]
            assert got[y, i] == pytest.approx(days.mean(), abs=1e-9)


def test_at_days() -> None:
    table = np.arange(12).reshape(3, 4)
    day = np.array([[0, 3], [1, 1], [2, 0]])
    assert at_days(table, day).tolist() == np.take_along_axis(table, day, axis=1).tolist()


@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(RATES, STARTS, arrays(np.float64, (3, 4), elements=TENTHS))
def test_each_sowing_may_need_something_of_its_own(rate: Floats, start: np.ndarray, need: Floats) -> None:
    assert clock(rate).reach(start, need).tolist() == [
        [loop(rate[y], int(start[y, n]), float(need[y, n])) for n in range(4)] for y in range(3)
    ]


def test_a_day_may_be_told_once_for_all_years_or_for_all_sowings() -> None:
    made, rate = clock(np.ones((3, DAYS))), np.ones((3, DAYS))
    once, years = np.arange(4), np.array([[1], [2], [3]])
    assert made.reach(np.broadcast_to(once, (3, 4)), 5.0).tolist() == [[4, 5, 6, 7]] * 3
    assert made.between(once, np.full((3, 4), 9)).tolist() == [[9.0, 8.0, 7.0, 6.0]] * 3
    assert made.reach(years, 2.0).tolist() == [[2], [3], [4]]
    assert mean_between(means(rate), once, years + once).tolist() == [[1.0] * 4] * 3


@given(arrays(np.int16, (3, DAYS + 1), elements=st.integers(0, DAYS)), STARTS)
@settings(max_examples=100, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_table_of_days_is_looked_up_by_year(table: np.ndarray, day: np.ndarray) -> None:
    found = looked_up(table, day)
    assert found.dtype == np.int64
    assert found.tolist() == [[table[y, d] for d in day[y]] for y in range(3)]
    once = np.broadcast_to(day[0], day.shape)  # a day told once for all years
    assert looked_up(table, once).tolist() == [[table[y, d] for d in day[0]] for y in range(3)]
