"""Today's answer with that of a warmer climate beside it, a column each."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.language import later, tell
from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.windows import days_by_growing, name_of
from evenpick.report.words import WAY_WORDS, Words
from evenpick.service.answers import MonthAnswer, MonthRow, WhyAnswer, WindowRow, WindowsAnswer
from evenpick.service.shifts import ON, Shifted

SAME = later("Rain and light are as they were; a shift knows nothing of winters that warm more than summers "
             "or of longer heat waves.")


def windows_beside(
    page: Page, now: WindowsAnswer, then: Sequence[Shifted[WindowsAnswer]], trend: bool, words: Words
) -> Page:
    """The windows page, then every window at each warmth."""
    table = _windows(now.windows, [(one, one.answer.windows) for one in then], words)
    return _with(page, table, trend, words)


def why_beside(
    page: Page, now: WhyAnswer, then: Sequence[Shifted[WhyAnswer]], trend: bool, words: Words
) -> Page:
    """The why page, then the score of the day and the windows at each warmth."""
    table = _windows(now.windows, [(one, one.answer.windows) for one in then], words)
    scores = tuple(f"{score:.2f}" for score in (now.score, *(one.answer.score for one in then)))
    of_day = (tell("score of this day"), "", "", *scores)
    return _with(page, Table(table.columns, (of_day, *table.rows)), trend, words)


def month_beside(
    page: Page, now: MonthAnswer, then: Sequence[Shifted[MonthAnswer]], trend: bool, words: Words
) -> Page:
    """The month sheet, then the crops whose days of the month change with the warmth."""
    found = [_days(now), *(_days(one.answer) for one in then)]
    first = {key: row for one in reversed(found) for key, row in one.items()}
    rows = [
        (words.name(row.name), tell(WAY_WORDS[row.way]), words.cover(row.covers[0]),
         *(_of_month(one[key]) if key in one else tell("no") for one in found))
        for key, row in first.items()
    ]
    moved = tuple(row for row in sorted(rows) if len(set(row[3:])) > 1)
    said: Block = (Table(_columns(then, tell("days now"), words), moved) if moved else
                   Text(tell("Nothing on this sheet changes with the warmth.")))
    return _with(page, said, trend, words)


def _with(page: Page, said: Block, trend: bool, words: Words) -> Page:
    untold = [] if trend else [Text(tell(
        "The place's own trend is not among them: there is no daily record of twenty years behind this, or "
        "what it shows could be chance."))]
    heading = Heading(tell("in a warmer climate"))
    return Page(page.title, (*page.blocks, heading, said, Text(tell(SAME)), *untold))


def _windows(
    now: Sequence[WindowRow], then: Sequence[tuple[Shifted[object], Sequence[WindowRow]]], words: Words
) -> Table:
    found = [days_by_growing(now), *(days_by_growing(rows) for _, rows in then)]
    first = {key: row for one in reversed(found) for key, (row, _) in one.items()}
    rows = tuple(
        (name_of(row, words), tell(WAY_WORDS[row.way]), words.cover(row.cover),
         *(one[key][1] if key in one else tell("none") for one in found))
        for key, row in first.items()
    )
    return Table(_columns([one for one, _ in then], tell("sow now"), words), rows)


def _columns(then: Sequence[Shifted[object]], now: str, words: Words) -> tuple[Column, ...]:
    shown = (
        tell("{by}, the trend {years} years on", by=words.warming(one.degrees), years=ON) if one.trend
        else words.warming(one.degrees) for one in then
    )
    return (Column(tell("crop"), wraps=True), Column(tell("how")), Column(tell("cover"), wraps=True),
            Column(now, wraps=True), *(Column(name, wraps=True) for name in shown))


def _days(answer: MonthAnswer) -> dict[tuple[str, str, str], MonthRow]:
    """Rows by name, way and simplest cover."""
    return {(row.name, row.way, row.covers[0]): row for row in answer.now}


def _of_month(row: MonthRow) -> str:
    return f"{row.from_day}-{row.to_day}"
