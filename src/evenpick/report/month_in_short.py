"""The month sheet at one glance, before its tables: what ends, what begins, what goes on, each crop once."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta

from evenpick.base.language import tell
from evenpick.report.days import month_day
from evenpick.report.page import Block, Heading, Items
from evenpick.report.words import Words
from evenpick.service.outlook_answer import MonthAnswer, MonthRow

SOON = 14  # days into the next month within which a time that ends is told: the next sheet is too late for it
FEW = 12  # rows of a sheet so short that it is its own glance
Crop = list[MonthRow]


def in_short(answer: MonthAnswer, words: Words) -> list[Block]:
    """A heading and a line for each of the things to know; nothing for a sheet that is short itself."""
    crops: dict[str, Crop] = {}
    for row in answer.now:
        crops.setdefault(row.crop, []).append(row)
    if len(answer.now) <= FEW:
        return []
    lines = tuple(_lines(answer, list(crops.values()), words))
    return [Heading(tell("in short")), Items(lines), Heading(tell("how to read the tables"))]


def _lines(answer: MonthAnswer, crops: list[Crop], words: Words) -> Iterator[str]:
    last = date(answer.year + answer.month // 12, answer.month % 12 + 1, 1) - timedelta(days=1)
    ends = {rows[0].crop: when for rows in crops if (when := _ends(rows, last)) is not None}
    begins = {rows[0].crop: min(row.from_day for row in rows) for rows in crops
              if rows[0].crop not in ends and all(row.from_day > 1 for row in rows)}

    def told(chosen: Sequence[Crop], when: Callable[[Crop], str] = lambda rows: "") -> str:
        return ", ".join(f"{words.name(_name(rows))}{when(rows)}" for rows in chosen)

    ending = sorted((rows for rows in crops if rows[0].crop in ends), key=lambda rows: ends[rows[0].crop])
    if ending:
        named = told(ending, lambda rows: f" ({_short(ends[rows[0].crop])})")
        yield tell("Do not put off; the good time ends for: {named}.", named=named)
    starting = [rows for rows in crops if rows[0].crop in begins]
    starting.sort(key=lambda rows: begins[rows[0].crop])
    if starting:
        named = told(starting, lambda rows: f" ({begins[rows[0].crop]})")
        yield tell("The good time begins for: {named}.", named=named)
    rest = [rows for rows in crops if rows[0].crop not in ends and rows[0].crop not in begins]
    outside = [rows for rows in rest
               if _from_the_first(rows, lambda row: row.way != "raised" and "open" in row.covers)]
    raised = [rows for rows in rest
              if rows not in outside and _from_the_first(rows, lambda row: row.way == "raised")]
    covered = [rows for rows in rest if rows not in outside and rows not in raised]
    if outside:
        yield tell("All month, outside: {named}.", named=told(outside))
    if raised:
        yield tell("All month, raised in warmth: {named}.", named=told(raised))
    if covered:
        yield tell("All month, under cover: {named}.", named=told(covered))


def _from_the_first(rows: Crop, how: Callable[[MonthRow], bool]) -> bool:
    """Whether it may be sown in that way on the month's first day."""
    return any(row.from_day == 1 and how(row) for row in rows)


def _name(rows: Crop) -> str:
    return min((row.name for row in rows), key=len)


def _ends(rows: Crop, last: date) -> date | None:
    """The last good day of what is soon over in every way; None of what goes on."""
    closing = [_closing(row, last) for row in rows]
    latest = max((day for day in closing if day is not None), default=None)
    if None in closing or latest is None or latest > last + timedelta(days=SOON):
        return None
    return latest


def _closing(row: MonthRow, last: date) -> date | None:
    if row.closes is None:
        return None
    month, day = row.closes
    year = last.year + (month < last.month)  # what closes after the New Year
    return date(year, month, min(day, monthrange(year, month)[1]))


def _short(day: date) -> str:
    return month_day((day.month, day.day))
