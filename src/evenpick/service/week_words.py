"""Weeks of a plan in words, by their Mondays."""

from __future__ import annotations

from evenpick.base.arrays import Bools
from evenpick.base.days import day_date, short_date
from evenpick.base.language import tell
from evenpick.base.unbroken import unbroken
from evenpick.plan.horizon import Horizon


def monday_of(horizon: Horizon, week: int) -> str:
    return short_date(day_date(horizon.start + 7 * week))


def told_weeks(chosen: Bools, horizon: Horizon) -> str:
    """Weeks, (weeks of the horizon's beginning,), each run from its first to its last."""
    return ", ".join(_run(horizon, first, last) for first, last in unbroken(chosen))


def _run(horizon: Horizon, first: int, last: int) -> str:
    begins, ends = monday_of(horizon, first), monday_of(horizon, last)
    if first == last:
        return tell("the week of {first}", first=begins)
    return tell("{horizon} to {horizon_2}", horizon=begins, horizon_2=ends)
