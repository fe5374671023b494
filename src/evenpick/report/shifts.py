"""Today's answer with that of a warmer climate beside it, a column each."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.language import later, tell
from evenpick.report.days import after, span
from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.windows import days_by_growing, name_of
from evenpick.report.words import WAY_WORDS, Words, percent
from evenpick.service.outlook_answer import (
    Band,
    MonthAnswer,
    MonthRow,
    OutlookAnswer,
    WindowRow,
    WindowsAnswer,
)
from evenpick.service.shifts import ON, Shifted
from evenpick.service.why_answer import WhyAnswer

SAME = later("Rain and light are as they were; a shift knows nothing of winters that warm more than summers "
             "or of longer heat waves.")


STAGES = (
    (later("up"), "emergence"), (later("planted out"), "planting_out"),
    (later("first picking"), "first_picking"), (later("last picking"), "last_picking"),
)


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


def outlook_beside(
    page: Page, now: OutlookAnswer, then: Sequence[Shifted[OutlookAnswer]], trend: bool, words: Words
) -> Page:
    """The outlook page, then the days of each stage and what becomes of the sowing at each warmth."""
    every = [now, *(one.answer for one in then)]
    stages = [
        (tell(name), *(_stage(band, now) for band in bands))
        for name, bands in ((name, [getattr(one, field) for one in every]) for name, field in STAGES)
        if any(bands)
    ]
    fates = [
        (tell(name), *(percent(share) for share in shares))
        for name, shares in ((name, [dict(one.fates)[name] for one in every]) for name, _ in now.fates)
        if any(shares)
    ]
    columns = (Column(tell("what"), wraps=True), *_degrees(then, tell("now"), words))
    return _with(page, Table(columns, (*stages, *fates)), trend, words)


def _stage(band: Band | None, now: OutlookAnswer) -> str:
    """The days that hold eight years in ten."""
    if band is None:
        return tell("in few years")
    return span(after(now.sow, band.low), after(now.sow, band.high), now.sow.year)


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
    return (Column(tell("crop"), wraps=True), Column(tell("how")), Column(tell("cover"), wraps=True),
            *_degrees(then, now, words))


def _degrees(then: Sequence[Shifted[object]], now: str, words: Words) -> tuple[Column, ...]:
    """Today's column, and one for each warmth."""
    shown = (
        tell("{by}, the trend {years} years on", by=words.warming(one.degrees), years=ON) if one.trend
        else words.warming(one.degrees) for one in then
    )
    return Column(now, wraps=True), *(Column(name, wraps=True) for name in shown)


def _days(answer: MonthAnswer) -> dict[tuple[str, str, str], MonthRow]:
    """Rows by name, way and simplest cover."""
    return {(row.name, row.way, row.covers[0]): row for row in answer.now}


def _of_month(row: MonthRow) -> str:
    return f"{row.from_day}-{row.to_day}"
