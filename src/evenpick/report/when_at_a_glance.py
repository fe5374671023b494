"""When every crop may be sown, for a page that is read in the plot: what may be sown now and until when, what
is soon, what is later; each crop in one line, all its windows behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from evenpick.base.language import tell, tell_n
from evenpick.base.trade import COVERS
from evenpick.crops.crop import FRESH
from evenpick.report.days import month_day
from evenpick.report.windows import days_told, middle_picking, name_of
from evenpick.report.words import WAY_WORDS, Words, capital, percent, sentence
from evenpick.service.outlook_answer import MonthDay, WindowRow, WindowsAnswer

SOON = timedelta(weeks=8)
YEAR = 365


@dataclass(frozen=True, slots=True)
class CropWindows:
    """One crop: in short, and each of its windows in a sentence or two."""

    crop: str
    name: str
    short: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Glance:
    said: str
    now: tuple[CropWindows, ...]
    """the window that closes first, first"""
    soon: tuple[CropWindows, ...]
    later: tuple[CropWindows, ...]
    """both by the day on which they open"""


def at_a_glance(answer: WindowsAnswer, today: date, words: Words) -> Glance:
    """Every crop that has a window here, once: under now, soon or later."""
    crops: dict[str, list[WindowRow]] = {}
    for row in answer.windows:
        crops.setdefault(row.crop, []).append(row)
    now, ahead = [], []
    for rows in crops.values():
        open_now = [row for row in rows if _open(row, today)]
        if open_now:
            shown = _simplest(open_now)
            now.append((min(_left(row, today) for row in shown), _told(rows, _until(shown, words), words)))
        else:
            first = min(rows, key=lambda row: (_wait(row, today), COVERS.index(row.cover)))
            ahead.append((_wait(first, today), _told(rows, _from(first, words), words)))
    now.sort(key=lambda one: one[0])
    ahead.sort(key=lambda one: one[0])
    soon = tuple(one for days, one in ahead if days <= SOON.days)
    said = tell_n("{n} crop may be sown now", "{n} crops may be sown now", len(now))
    more = tell_n(", {n} more within eight weeks", ", {n} more within eight weeks", len(soon)) if soon else ""
    return Glance(f"{said}{more}.", tuple(one for _, one in now), soon,
                  tuple(one for days, one in ahead if days > SOON.days))


def _told(rows: Sequence[WindowRow], short: str, words: Words) -> CropWindows:
    name = words.name(min((row.name for row in rows), key=len))
    return CropWindows(rows[0].crop, name, short, tuple(_lines(rows, words)))


def _simplest(rows: Sequence[WindowRow]) -> list[WindowRow]:
    """Of each use the window under the simplest cover; the ordinary use first."""
    simplest: dict[str, WindowRow] = {}
    for row in sorted(rows, key=lambda row: COVERS.index(row.cover)):
        simplest.setdefault(_use(row), row)
    return sorted(simplest.values(), key=lambda row: _use(row) != "")


def _until(rows: Sequence[WindowRow], words: Words) -> str:
    """'to 3 Aug; baby leaf, tunnel, to 25 Aug'."""
    return "; ".join(_dated(row, tell("all year") if row.all_year
                            else tell("to {day}", day=month_day(row.closes)), words) for row in rows)


def _from(row: WindowRow, words: Words) -> str:
    return _dated(row, tell("from {day}", day=month_day(row.opens)), words)


def _dated(row: WindowRow, when: str, words: Words) -> str:
    return ", ".join(part for part in (_use(row), _cover(row, words), when) if part)


def _use(row: WindowRow) -> str:
    return "" if row.purpose == FRESH else tell(row.use or row.purpose)


def _cover(row: WindowRow, words: Words) -> str:
    return "" if row.cover == "open" else words.cover(row.cover)


def _lines(rows: Sequence[WindowRow], words: Words) -> Iterator[str]:
    for row in rows:
        how = tell("{name}, {cover}, {way}", name=name_of(row, words), cover=words.cover(row.cover),
                   way=tell(WAY_WORDS[row.way]))
        parts = [tell("{how}: {days}, a crop worth picking in {share} of years.", how=how,
                      days=days_told(row), share=percent(row.success))]
        if (middle := middle_picking(row)) is not None:
            parts.append(tell("Sown {day} it is first picked after {low:.0f} to {high:.0f} days.",
                              day=month_day(middle.sow), low=middle.days.low, high=middle.days.high))
        against = [said for said in (
            row.closed_before and tell("sooner: {why}", why=tell(row.closed_before)),
            row.closed_after and tell("later: {why}", why=tell(row.closed_after))) if said]
        if against:
            parts.append(sentence(capital("; ".join(against))))
        yield " ".join(parts)


def _open(row: WindowRow, today: date) -> bool:
    return row.all_year or _between(row.opens, row.closes) >= _between(row.opens, (today.month, today.day))


def _left(row: WindowRow, today: date) -> int:
    """Days until it closes."""
    return YEAR if row.all_year else _between((today.month, today.day), row.closes)


def _wait(row: WindowRow, today: date) -> int:
    """Days until it opens."""
    return _between((today.month, today.day), row.opens)


def _between(first: MonthDay, then: MonthDay) -> int:
    """Days from one day of the year to the next such other, 29 February as the first of March."""
    begins, ends = (date(2027, *((3, 1) if day == (2, 29) else day)) for day in (first, then))
    return (ends - begins).days % YEAR
