"""The weeks for whose sowings seed is bought: the same in a plan and in the tin (docs/design/seed.md, 5)."""

from __future__ import annotations

from datetime import date, timedelta

from evenpick.base.days import monday_of
from evenpick.plan.horizon import YEAR_WEEKS


def seed_year(day: date) -> tuple[date, date]:
    """First and last day of a year of whole weeks, from the one that the day lies in."""
    first = monday_of(day)
    return first, first + timedelta(days=7 * YEAR_WEEKS - 1)
