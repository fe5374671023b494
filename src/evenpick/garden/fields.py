"""Reading the tables of a file so that every fault in it is noted and none stops the reading.

A value that can't be read gives its stand-in; the stand-ins never get out, because a file with a fault
noted ends in BadGarden.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from math import isfinite
from typing import Any, TypeVar

from evenpick.base.days import day_number, parse_date
from evenpick.base.errors import BadGarden, EvenpickError, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.garden.garden import MonthDay
from evenpick.garden.lines import Lines, Path

T = TypeVar("T")
D = TypeVar("D")
Word = TypeVar("Word", bound=str)
Parse = Callable[[Any], T]
"""value of a TOML key → value inside, or an EvenpickError that need not know its place"""

DAYS_IN_MONTH = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def refuse(what: str, mend: str) -> BadGarden:
    return BadGarden(Problem(what, mend))


def shown(value: object) -> str:
    """A value short enough to stand in a sentence."""
    text = str(value)
    return f"'{text[:60]}…'" if len(text) > 60 else f"'{text}'"


def text(value: object) -> str:
    if not isinstance(value, str):
        raise refuse(tell("{value} is not in quotes.",
                          value=shown(value)), tell("Put it in quotes, with its unit if it "
                                                               "has one."))
    if not value.strip():
        raise refuse(tell("the quotes are empty."),
                     tell("Write something between them or leave the line out."))
    return value.strip()


def through(parse: Callable[[str], T]) -> Parse[T]:
    """A reader of text as a reader of any value."""
    return lambda value: parse(text(value))


def texts(value: object) -> tuple[str, ...]:
    if not isinstance(value, list):
        raise refuse(tell("{value} is not a list.",
                          value=shown(value)), tell('Write a list such as ["pea", "mangetout"].'))
    return tuple(text(one) for one in value)


def number(low: float, high: float) -> Parse[float]:
    def parse(value: object) -> float:
        mend = tell("Write a number from {low:g} to {high:g}, without quotes.", low=low, high=high)
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not isfinite(value):
            raise refuse(tell("{value} is not a plain number.", value=shown(value)), mend)
        if not low <= value <= high:
            raise refuse(tell("{value} is out of bounds.", value=shown(value)), mend)
        return float(value)

    return parse


def whole(low: int, high: int) -> Parse[int]:
    def parse(value: object) -> int:
        mend = tell("Write a whole number from {low} to {high}, without quotes.", low=low, high=high)
        if isinstance(value, bool) or not isinstance(value, int):
            raise refuse(tell("{value} is not a whole number.", value=shown(value)), mend)
        if not low <= value <= high:
            raise refuse(tell("{value} is out of bounds.", value=shown(value)), mend)
        return value

    return parse


def yes_or_no(value: object) -> bool:
    if not isinstance(value, bool):
        raise refuse(tell("{value} is neither true nor false.",
                          value=shown(value)), tell("Write true or false without quotes."))
    return value


def one_of(words: Sequence[Word]) -> Parse[Word]:
    def parse(value: object) -> Word:
        found = next((word for word in words if word == text(value).casefold()), None)
        if found is None:
            choices = ", ".join(f'"{word}"' for word in words)
            raise refuse(tell("{value} is not known here.", value=shown(value)), tell(
                        "Write one of {choices}.", choices=choices))
        return found

    return parse


def weekday(value: object) -> int:
    """0 Monday to 6 Sunday."""
    return WEEKDAYS.index(one_of(WEEKDAYS)(value))


def weekdays(value: object) -> tuple[int, ...]:
    """One day of the week or a list of several, in their order from Monday."""
    if not isinstance(value, list):
        return (weekday(value),)
    mend = tell('Write the days once each, such as ["tuesday", "friday"].')
    if not value:
        raise refuse(tell("the list of days is empty."), mend)
    found = [weekday(one) for one in value]
    for number, one in enumerate(found):
        if one in found[:number]:
            raise refuse(tell("{day} is given twice.", day=shown(WEEKDAYS[one])), mend)
    return tuple(sorted(found))


def month_day(value: object) -> MonthDay:
    """'05-15' as (5, 15)."""
    mend = tell('Write month-day in quotes, such as "05-15" for the 15th of May.')
    parts = text(value).split("-")
    if len(parts) != 2 or not all(part.isascii() and part.isdigit() and len(part) <= 2 for part in parts):
        raise refuse(tell("{value} is not a day of the year.", value=shown(value)), mend)
    month, day = int(parts[0]), int(parts[1])
    if not 1 <= month <= 12 or not 1 <= day <= DAYS_IN_MONTH[month - 1]:
        raise refuse(tell("{value}: there is no such day.", value=shown(value)), mend)
    return month, day


def full_date(value: object) -> int:
    """Day number of 2027-02-01, with or without quotes."""
    is_date = type(value) is date
    number = day_number(value) if isinstance(value, date) and is_date else parse_date(text(value), "the day")
    if not day_number(date(1970, 1, 1)) <= number <= day_number(date(2200, 1, 1)):
        raise refuse(tell("{value} is too far off.",
                          value=shown(value)), tell("Write a day between 1970 and 2200."))
    return number


class Faults:
    """Every problem found in one file."""

    def __init__(self, file: str, lines: Lines) -> None:
        self.file, self.lines = file, lines
        self.problems: list[Problem] = []

    def add(self, problem: Problem, path: Path) -> None:
        parts = [f" {key + 1}" if isinstance(key, int) else f", {key}" for key in path]
        self.problems.append(problem.at(self.file, self.lines.line(path), "".join(parts).removeprefix(", ")))

    def raise_any(self) -> None:
        """BadGarden with all problems from the top of the file downwards, if there are any."""
        if self.problems:
            raise BadGarden(sorted(self.problems, key=lambda problem: problem.line or 0))


class Table:
    """One table of the file. `keys` are all the names it may hold; others are noted as faults."""

    def __init__(self, values: Mapping[str, Any], path: Path, keys: Sequence[str], faults: Faults) -> None:
        self.values, self.path, self.faults = values, path, faults
        self.hints = ""
        for key in values:
            if key not in keys:
                self._unknown(key, keys)

    def _unknown(self, key: str, keys: Sequence[str]) -> None:
        where = f"[{self.path[0]}]" if self.path else "the top of the file"
        if self.path and key in ("never", "invented"):
            mend = tell("It belongs at the top of the file, above the first [heading].")
        else:
            hint = did_you_mean(key, keys)
            self.hints += hint
            mend = hint or tell("Names known here: {keys}.", keys=", ".join(keys))
        self.note(tell("{key} is not a name that {where} knows.", key=shown(key), where=where), mend, key)

    def note(self, what: str, mend: str, key: str | None = None) -> None:
        self.faults.add(Problem(what, mend), self.path if key is None else (*self.path, key))

    def has(self, key: str) -> bool:
        return key in self.values

    def get(self, key: str, parse: Parse[T], otherwise: D) -> T | D:
        """The value read by `parse`; `otherwise` where the key is absent or can't be read (noted)."""
        if key not in self.values:
            return otherwise
        try:
            return parse(self.values[key])
        except EvenpickError as error:
            for problem in error.problems:
                self.faults.add(problem, (*self.path, key))
            return otherwise

    def need(self, key: str, parse: Parse[T], stand_in: D, example: str) -> T | D:
        """As `get`, but absence is a fault, unless it is there and misspelt, which is noted already."""
        if key not in self.values and repr(key) not in self.hints:
            self.note(tell("'{key}' is missing.", key=key),
                      tell("Add a line such as {key} = {example}.", key=key,
                                                   example=example))
        return self.get(key, parse, stand_in)

    def table(self, key: str, keys: Sequence[str]) -> Table:
        """A table inside this one; an empty one if it is absent."""
        inner = self.values.get(key, {})
        if not isinstance(inner, dict):
            mend = tell("Write [{key}] on a line of its own, once.", key=key)
            self.note(tell("'{key}' is not a heading with lines under it.", key=key), mend, key)
            inner = {}
        return Table(inner, (*self.path, key), keys, self.faults)

    def tables(self, key: str, keys: Sequence[str]) -> list[Table]:
        """The tables under a heading that repeats."""
        inner = self.values.get(key, [])
        if not isinstance(inner, list) or not all(isinstance(one, dict) for one in inner):
            mend = tell("Write [[{key}]] with two brackets each time.", key=key)
            self.note(tell("'{key}' is a heading that repeats.", key=key), mend, key)
            return []
        return [Table(one, (*self.path, key, i), keys, self.faults) for i, one in enumerate(inner)]


def season(table: Table) -> tuple[MonthDay | None, MonthDay | None]:
    """'from' and 'until' of a table as days of the year; both or neither."""
    for given, missing in (("from", "until"), ("until", "from")):
        if table.has(given) and not table.has(missing):
            mend = tell("Give both, or neither for all the year.")
            table.note(tell("'{given}' stands without '{missing}'.", given=given,
                            missing=missing), mend, given)
    return table.get("from", month_day, None), table.get("until", month_day, None)
