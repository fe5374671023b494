"""Which days of the horizon lie in a season, against the calendar day by day."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from evenpick.base.days import day_date
from evenpick.garden.garden import MonthDay, in_season
from evenpick.plan.horizon import Horizon
from evenpick.plan.wanted import season_days

MONTH_DAYS = st.tuples(st.integers(1, 12), st.integers(1, 31))


@given(MONTH_DAYS | st.none(), MONTH_DAYS, st.integers(20_000, 22_000))
def test_each_day_is_in_its_season_or_not(opens: MonthDay | None, closes: MonthDay, begin: int) -> None:
    horizon = Horizon(begin, 5)
    days = [day_date(horizon.start + day) for day in range(horizon.days)]
    there = [in_season(opens, closes, day.month, day.day) for day in days]
    assert season_days(opens, closes, horizon).tolist() == there
