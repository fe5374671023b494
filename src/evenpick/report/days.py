"""Days as the reader's pages tell them: '14 Mar', '9-23 Jun', 'Wednesday 3 February 2027'."""

from __future__ import annotations

from datetime import date, timedelta

from evenpick.base.language import month, month_name, tell, weekday


def day(when: date, year: int | None = None) -> str:
    """'14 Mar'; with its year where that is not the one the page is about."""
    said = month_day((when.month, when.day))
    return said if year is None or when.year == year else tell("{day} {year}", day=said, year=when.year)


def full_day(when: date) -> str:
    """'14 Mar 2027'."""
    return day(when, 0)


def long_day(when: date) -> str:
    """'Wednesday 3 February 2027'."""
    return tell("{weekday} {day} {month} {year}", weekday=weekday(when.weekday()), day=when.day,
                month=month_name(when.month), year=when.year)


def month_day(pair: tuple[int, int]) -> str:
    return tell("{day} {month}", day=pair[1], month=month(pair[0]))


def span(first: date, last: date, year: int | None = None) -> str:
    """'9-23 Jun', '28 May-11 Jun'."""
    if first == last:
        return day(last, year)
    if (first.year, first.month) == (last.year, last.month):
        said = tell("{first}-{last} {month}", first=first.day, last=last.day, month=month(last.month))
        return said if year is None or last.year == year else tell("{day} {year}", day=said, year=last.year)
    return f"{day(first, None if year is None or first.year == last.year else year)}-{day(last, year)}"


def after(start: date, days: float) -> date:
    """The day so many days on, to the nearest whole day."""
    return start + timedelta(days=round(days))
