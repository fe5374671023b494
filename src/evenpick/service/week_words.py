"""Weeks of a plan in words, by their Mondays."""

from __future__ import annotations

from evenpick.base.arrays import Bools
from evenpick.base.days import day_date, short_date
from evenpick.base.language import tell, together
from evenpick.base.unbroken import unbroken
from evenpick.plan.horizon import Horizon


def monday_of(horizon: Horizon, week: int) -> str:
    return short_date(day_date(horizon.start + 7 * week))


def listed_weeks(chosen: Bools, horizon: Horizon) -> str:
    """Weeks, (weeks of the horizon's beginning,), each run from its first to its last: '3 Aug to 10 Aug'."""
    return ", ".join(
        tell("the week of {first}", first=run) if first == last else run
        for (first, last), run in zip(unbroken(chosen), _runs(chosen, horizon), strict=True)
    )


def told_weeks(chosen: Bools, horizon: Horizon) -> str:
    """The same within a sentence: 'the weeks of 17 May to 31 May and 9 Aug'."""
    runs = _runs(chosen, horizon)
    if int(chosen.sum()) == 1:
        return tell("the week of {first}", first=runs[0])
    return tell("the weeks of {runs}", runs=together(runs))


def _runs(chosen: Bools, horizon: Horizon) -> list[str]:
    return [_run(horizon, first, last) for first, last in unbroken(chosen)]


def _run(horizon: Horizon, first: int, last: int) -> str:
    begins, ends = monday_of(horizon, first), monday_of(horizon, last)
    return begins if first == last else tell("{horizon} to {horizon_2}", horizon=begins, horizon_2=ends)
