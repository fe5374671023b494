"""When each crop may be sown here."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.language import tell
from evenpick.crops.crop import FRESH
from evenpick.report.by_rain import by_rain
from evenpick.report.days import month_day
from evenpick.report.page import Column, Heading, Page, Table, Text
from evenpick.report.place import title_place, weather_lines
from evenpick.report.words import WAY_WORDS, Words, percent
from evenpick.service.outlook_answer import FirstPicking, WindowRow, WindowsAnswer


def _columns() -> tuple[Column, ...]:
    return (
        Column(tell("crop"), wraps=True), Column(tell("cover"), wraps=True), Column(tell("how")),
        Column(tell("sow")), Column(tell("success"), align="right"), Column(tell("if sown"), align="right"),
        Column(tell("picked"), tell("after days"), "right"),
    )


def _against_columns() -> tuple[Column, ...]:
    return (
        Column(tell("crop"), wraps=True), Column(tell("cover")), Column(tell("before"), wraps=True),
        Column(tell("after"), wraps=True),
    )


def windows_page(answer: WindowsAnswer, words: Words) -> Page:
    """Windows of all crops asked for, what closes them, and the crops that have none."""
    closed = tuple(row for row in answer.windows if row.closed_before or row.closed_after)
    blocks = [*weather_lines(answer.site, answer.climate, words), *by_rain(answer.watered)]
    opened = [Heading(tell("when to sow")), windows_table(answer.windows, words),
              Text(tell("Success: share of years with a crop worth picking. Picked: first picking after "
                        "so many days, 1 year in 10 sooner and 1 in 10 later. How: in place, raised and "
                        "planted out, or planted (sets, cloves, tubers, slips)."))]
    against = [Heading(tell("what speaks against sowing sooner or later")), _against(closed, words)]
    never = [Heading(tell("no window here")),
             Table((Column(tell("crop")), Column(tell("why"), wraps=True)),
                   tuple((words.name(name), tell(why)) for name, why in answer.never))]
    return Page(tell("When to sow: {site}", site=title_place(answer.site, words)),
                (*blocks, *(opened if answer.windows else ()), *(against if closed else ()),
                 *(never if answer.never else ())))


def warmer_page(answer: WindowsAnswer, degrees: float, then: WindowsAnswer, words: Words) -> Page:
    """The windows of today's climate with those of the same weather so much warmer beside them."""
    page = windows_page(answer, words)
    by = words.warming(degrees)
    columns = (Column(tell("crop"), wraps=True), Column(tell("cover")), Column(tell("how")),
               Column(tell("sow now"), wraps=True),
               Column(tell("sow at {by}", by=by), wraps=True))
    now, warm = _by_growing(answer.windows), _by_growing(then.windows)
    first = {key: (now.get(key) or warm[key])[0] for key in [*now, *warm]}
    rows = tuple(
        (name_of(row, words), words.cover(row.cover), tell(WAY_WORDS[row.way]), _all_days(now.get(key, [])),
         _all_days(warm.get(key, [])))
        for key, row in first.items()
    )
    beside = (Heading(tell("the same weather {by}", by=by)), Table(columns, rows))
    return Page(page.title, (*page.blocks, *beside))


def _by_growing(rows: Sequence[WindowRow]) -> dict[tuple[str, str, str, str], list[WindowRow]]:
    """Windows of one crop, cover, way and purpose together."""
    groups: dict[tuple[str, str, str, str], list[WindowRow]] = {}
    for row in rows:
        groups.setdefault((row.crop, row.cover, row.way, row.purpose), []).append(row)
    return groups


def days_by_growing(
    rows: Sequence[WindowRow],
) -> dict[tuple[str, str, str, str], tuple[WindowRow, str]]:
    """The first window of each crop, cover, way and purpose, and all its sow days in words."""
    return {key: (group[0], _all_days(group)) for key, group in _by_growing(rows).items()}


def _all_days(rows: list[WindowRow]) -> str:
    return "; ".join(days_told(row) for row in rows) or tell("none")


def windows_table(rows: tuple[WindowRow, ...], words: Words) -> Table:
    return Table(_columns(), tuple(
        (name_of(row, words), words.cover(row.cover), tell(WAY_WORDS[row.way]), days_told(row),
         percent(row.success),
         *_first(row))
        for row in rows
    ))


def _against(rows: tuple[WindowRow, ...], words: Words) -> Table:
    """Each reason once: ways and windows of one crop are often closed by the same."""
    return Table(_against_columns(), tuple(dict.fromkeys(
        (name_of(row, words), words.cover(row.cover), tell(row.closed_before),
         tell(row.closed_after)) for row in rows
    )))


def name_of(row: WindowRow, words: Words) -> str:
    name = words.name(row.name)
    return name if row.purpose == FRESH else f"{name}, {tell(row.use or row.purpose)}"


def days_told(row: WindowRow) -> str:
    return tell("all year") if row.all_year else f"{month_day(row.opens)} - {month_day(row.closes)}"


def middle_picking(row: WindowRow) -> FirstPicking | None:
    """The first picking of the middle one of the sow days told."""
    return row.first_picking[len(row.first_picking) // 2] if row.first_picking else None


def _first(row: WindowRow) -> tuple[str, str]:
    """The middle sow day, and the days from it to the first picking."""
    middle = middle_picking(row)
    if middle is None:
        return "", ""
    return month_day(middle.sow), f"{middle.days.low:.0f}-{middle.days.high:.0f}"
