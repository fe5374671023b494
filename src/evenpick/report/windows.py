"""When each crop may be sown here."""

from __future__ import annotations

from evenpick.report.page import Column, Heading, Page, Table, Text
from evenpick.report.place import title_place, weather_lines
from evenpick.report.words import WAY_WORDS, Words, month_day, percent
from evenpick.service.answers import WindowRow, WindowsAnswer

COLUMNS = (
    Column("crop", wraps=True), Column("cover", wraps=True), Column("how"), Column("sow"),
    Column("success", align="right"), Column("if sown", align="right"),
    Column("picked", "after days", "right"),
)
AGAINST = (
    Column("crop", wraps=True), Column("cover"), Column("before", wraps=True),
    Column("after", wraps=True),
)


def windows_page(answer: WindowsAnswer, words: Words) -> Page:
    """Windows of all crops asked for, what closes them, and the crops that have none."""
    closed = tuple(row for row in answer.windows if row.closed_before or row.closed_after)
    blocks = [*weather_lines(answer.site, answer.climate, words)]
    opened = [Heading("when to sow"), windows_table(answer.windows, words),
              Text("Success: share of years with a crop worth picking. Picked: first picking after so many "
                   "days, 1 year in 10 sooner and 1 in 10 later. How: in place, raised and planted out, or "
                   "planted (sets, cloves, tubers).")]
    against = [Heading("what speaks against sowing sooner or later"), _against(closed, words)]
    never = [Heading("no window here"),
             Table((Column("crop"), Column("why", wraps=True)),
                   tuple((words.name(name), why) for name, why in answer.never))]
    return Page(f"When to sow: {title_place(answer.site, words)}",
                (*blocks, *(opened if answer.windows else ()), *(against if closed else ()),
                 *(never if answer.never else ())))


def warmer_page(answer: WindowsAnswer, degrees: float, then: WindowsAnswer, words: Words) -> Page:
    """The windows of today's climate with those of the same weather so much warmer beside them."""
    page = windows_page(answer, words)
    by = words.warming(degrees)
    columns = (Column("crop", wraps=True), Column("cover"), Column("how"), Column("sow now", wraps=True),
               Column(f"sow at {by}", wraps=True))
    now, warm = _by_growing(answer.windows), _by_growing(then.windows)
    first = {key: (now.get(key) or warm[key])[0] for key in [*now, *warm]}
    rows = tuple(
        (_name(row, words), words.cover(row.cover), WAY_WORDS[row.way], _all_days(now.get(key, [])),
         _all_days(warm.get(key, [])))
        for key, row in first.items()
    )
    beside = (Heading(f"the same weather {by}"), Table(columns, rows))
    return Page(page.title, (*page.blocks, *beside))


def _by_growing(rows: tuple[WindowRow, ...]) -> dict[tuple[str, str, str, str], list[WindowRow]]:
    """Windows of one crop, cover, way and purpose together."""
    groups: dict[tuple[str, str, str, str], list[WindowRow]] = {}
    for row in rows:
        groups.setdefault((row.crop, row.cover, row.way, row.purpose), []).append(row)
    return groups


def _all_days(rows: list[WindowRow]) -> str:
    return "; ".join(_days(row) for row in rows) or "none"


def windows_table(rows: tuple[WindowRow, ...], words: Words) -> Table:
    return Table(COLUMNS, tuple(
        (_name(row, words), words.cover(row.cover), WAY_WORDS[row.way], _days(row), percent(row.success),
         *_first(row))
        for row in rows
    ))


def _against(rows: tuple[WindowRow, ...], words: Words) -> Table:
    """Each reason once: ways and windows of one crop are often closed by the same."""
    return Table(AGAINST, tuple(dict.fromkeys(
        (_name(row, words), words.cover(row.cover), row.closed_before, row.closed_after) for row in rows
    )))


def _name(row: WindowRow, words: Words) -> str:
    name = words.name(row.name)
    return name if row.purpose == "fresh" else f"{name}, {row.purpose}"


def _days(row: WindowRow) -> str:
    return "all year" if row.all_year else f"{month_day(row.opens)} - {month_day(row.closes)}"


def _first(row: WindowRow) -> tuple[str, str]:
    """The middle one of the sow days told, and the days from it to the first picking."""
    if not row.first_picking:
        return "", ""
    middle = row.first_picking[len(row.first_picking) // 2]
    return month_day(middle.sow), f"{middle.days.low:.0f}-{middle.days.high:.0f}"
