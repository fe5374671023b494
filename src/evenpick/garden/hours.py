"""The hours of work that a garden file tells, by the week or by its days."""

from __future__ import annotations

from evenpick.base.language import tell
from evenpick.garden import amounts
from evenpick.garden.fields import WEEKDAYS, Table, through

HOURS = ("week", "days")
ALIKE = 1 / 120  # h: a sum that differs by less is the same


def read_hours(top: Table) -> tuple[float | None, tuple[float, ...] | None]:
    """h in a week, and on each of its days from Monday on; None: not told, any number."""
    table = top.table("hours", HOURS)
    week = table.get("week", through(amounts.week_hours), None)
    by_day = _by_day(table)
    if by_day is None:
        return week, None
    whole = sum(by_day)
    if week is not None and abs(week - whole) > ALIKE:
        what = tell("the days come to {whole:.4g} h and the week has {week:.4g} h.", whole=whole, week=week)
        table.note(what, tell("Leave 'week' out: it is the sum of its days."), "week")
    return whole, by_day


def _by_day(table: Table) -> tuple[float, ...] | None:
    given = table.values.get("days")
    if given is None:
        return None
    if not isinstance(given, dict) or not given:
        table.note(tell("no day with its hours is told."),
                   tell('Write days = {example}.', example='{ tuesday = "3 h", saturday = "6 h" }'), "days")
        return None
    days = table.table("days", WEEKDAYS)
    return tuple(days.get(name, through(amounts.day_hours), 0.0) for name in WEEKDAYS)
