"""Days and weeks (docs/design/days.md).

Inside, a day is an integer: days since 1970-01-01. A weather year is one continuous axis of days
that never wraps, so autumn sowings and the southern hemisphere need no special case. numpy comes in only
where arrays are made: writing one line into the diary must not wait for it.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import month, tell

if TYPE_CHECKING:
    from evenpick.base.arrays import Floats, Ints

EPOCH = date(1970, 1, 1)
FIRST_YEAR, LAST_YEAR = 1900, 2200
"""that questions are answered for"""


def day_number(when: date) -> int:
    """Days since 1970-01-01."""
    return (when - EPOCH).days


def day_date(number: int) -> date:
    """The calendar date of a day number."""
    return EPOCH + timedelta(days=int(number))


def dated(when: date) -> str:
    """A day with its year: '14 Mar 2027'."""
    return tell("{day} {year}", day=short_date(when), year=when.year)


def short_date(when: date) -> str:
    """A day as it is said within a season: '14 Mar'."""
    return tell("{day} {month}", day=when.day, month=month(when.month))


def days_of_year(start: int, count: int) -> Floats:
    """FAO-56's J (1 to 366) for `count` days from day number `start`; shape (count,)."""
    import numpy as np

    days = np.datetime64(start, "D") + np.arange(count)
    january = days.astype("datetime64[Y]").astype("datetime64[D]")
    number: Floats = ((days - january).astype(np.int64) + 1).astype(np.float64)
    return number


def months(start: int, count: int) -> Ints:
    """Calendar month 1 to 12 of `count` days from day number `start`; shape (count,)."""
    import numpy as np

    days = np.datetime64(start, "D") + np.arange(count)
    month: Ints = days.astype("datetime64[M]").astype(np.int64) % 12 + 1
    return month


def years(start: int, count: int) -> Ints:
    """Calendar year of `count` days from day number `start`; shape (count,)."""
    import numpy as np

    days = np.datetime64(start, "D") + np.arange(count)
    year: Ints = days.astype("datetime64[Y]").astype(np.int64) + EPOCH.year
    return year


def monday(number: int) -> int:
    """The Monday that opens the ISO 8601 week of a day; 1970-01-01 was a Thursday."""
    return number - (number + 3) % 7


def first_monday(on: date, begins: date) -> date:
    """The Monday of the week of `on`, or of the first week of what begins later."""
    return max(monday_of(on), monday_of(begins))


def monday_of(when: date) -> date:
    """The Monday that opens the ISO 8601 week of a date."""
    return day_date(monday(day_number(when)))


def week_label(when: date) -> str:
    """The ISO 8601 week of a date as it is written, such as 2027-W09."""
    calendar = when.isocalendar()
    return f"{calendar.year}-W{calendar.week:02d}"


def month_day(number: int) -> str:
    """MM-DD of a day number."""
    return day_date(number).strftime("%m-%d")


def refuse_far(when: date, field: str | None = None) -> None:
    """BadRequest for a day so far off that nothing can be told of it."""
    if not FIRST_YEAR <= when.year <= LAST_YEAR:
        raise BadRequest(Problem(tell("{found} is too far off.", found=when),
                                 tell("Give a year from {first} to {last}.", first=FIRST_YEAR,
                                      last=LAST_YEAR), field=field))


def parse_date(text: str, what: str = "the date") -> int:
    """Day number of an ISO date; raises BadRequest with the remedy."""
    try:
        return day_number(date.fromisoformat(text))
    except ValueError as error:
        raise BadRequest(
            Problem(tell("{what} '{text}' is not a date.", what=what, text=text), tell(
                        "Write year-month-day, such as 2027-03-14."))
        ) from error
