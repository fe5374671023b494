"""What a diary can hold that comes from elsewhere: days that were, amounts that ground can bear."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadDiary, Problem
from evenpick.base.language import tell
from evenpick.garden.amounts import few
from evenpick.garden.diary import Corrected, Entry, Reading

OLDEST = timedelta(days=36525)
"""a diary goes back no farther than a life of gardening"""
AHEAD = timedelta(days=366)
"""that an entry from elsewhere may lie ahead: clocks differ, and a season may be written ahead to try it
(our choice)"""
TIMES = 10.0
"""an area may be so many times all the ground there is now: there may have been more once (our choice)"""
MOST = {"kg": 1e5, "litres": 1e6, "rain": 2000.0, "pieces": 1e6, "seeds": 1e8, "grams": 1e6,
        "area": 1e6}
"""by field of a fact: more is a slip of the pen whatever the garden. Rain, mm in a day: the most ever
measured is 1825 (WMO, Foc-Foc 1966; from memory)"""


@dataclass(frozen=True, slots=True)
class Bounds:
    today: date
    ground: float | None
    """m² there is; None where that is not known"""


def refuse_beyond(entry: Entry, bounds: Bounds) -> None:
    """BadDiary for an entry, or a correction, of a day or an amount that can't be, with its field."""
    problems = [*_day(entry.day, bounds)]
    fact = entry.fact
    if isinstance(fact, Corrected):
        problems += _day(fact.day, bounds)
        fact = fact.fact
    for name in ("until", "sow"):
        later = getattr(fact, name, None)
        if later is not None and later > day_number(bounds.today + OLDEST):
            problems.append(Problem(tell("{found} is too far off.", found=day_date(later)),
                                    tell("Look at the date again."), field=name))
    low, high = (fact.tmin, fact.tmax) if isinstance(fact, Reading) else (None, None)
    if low is not None and high is not None and low > high:
        problems.append(Problem(tell("the lowest can't be above the highest."),
                                tell("Look at the thermometer again."), field="tmin"))
    for field, most in MOST.items():
        value = getattr(fact, field, None)
        if isinstance(value, float | int) and value > most:
            problems.append(Problem(tell("{value:g} is more than anyone grows.", value=value),
                                    tell("Look at the amount again."), field=field))
    area = getattr(fact, "area", None)
    if area is not None and bounds.ground is not None and MOST["area"] >= area > TIMES * bounds.ground:
        what = tell("{area} m² is far more than all the ground there is ({ground} m²).",
                    area=few(area), ground=few(bounds.ground))
        problems.append(Problem(what, tell("Look at the amount again."), field="area"))
    if problems:
        raise BadDiary(problems)


def _day(number: int, bounds: Bounds) -> Iterator[Problem]:
    found, first, last = day_date(number), bounds.today - OLDEST, bounds.today + AHEAD
    if not first <= found <= last:
        yield Problem(tell("{found} is no day of this diary.", found=found),
                      tell("Give one from {first} to {last}.", first=first, last=last), field="day")
