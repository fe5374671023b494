"""The month sheet: what may be sown now, to pin up by the door or to send far away."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import groupby

from evenpick.base.language import later, month_name, tell
from evenpick.report.by_rain import by_rain
from evenpick.report.cautions import take_care
from evenpick.report.days import month_day, span
from evenpick.report.month_in_short import in_short
from evenpick.report.outlook import NOTHING_AGAINST
from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.place import title_place, weather_lines
from evenpick.report.words import WAY_WORDS, Words
from evenpick.service.outlook_answer import LaterRow, MonthAnswer, MonthDay, MonthRow, PossibleRow

USE = ", "  # between a crop's name and a use of it that is not the ordinary one
Made = tuple[Column, Callable[[MonthRow], str]]
LATE, IN_ANOTHER = "too late", later("too late for this season")
"""a fate's words, and how they are told of a crop that is to be left until its next season"""


def month_page(answer: MonthAnswer, words: Words) -> Page:
    """What may be sown in the month, what to leave, what is too late, and why; by the names of the reader."""
    answer = replace(answer, now=tuple(sorted(answer.now, key=lambda row: words.name(row.name).casefold())))
    outside = {row.crop for row in answer.now if row.way != "raised" and "open" in row.covers}
    raised = [row for row in answer.now if row.way == "raised" and row.crop not in outside]
    in_place = [row for row in answer.now if row.way != "raised"]
    groups: tuple[tuple[str, list[MonthRow], list[Made], list[Made]], ...] = (
        (tell("in the open"), [row for row in in_place if "open" in row.covers], [_kind()], []),
        (tell("under cover only"), [row for row in in_place if "open" not in row.covers], [_kind()],
         [_cover(words)]),
        (tell("raise in warmth, plant out later"), raised, [], [_bench(words), _cover(words)]),
    )
    blocks: list[Block] = [*weather_lines(answer.site, answer.climate, words, notes=False)]
    blocks += [*by_rain(answer.watered), *in_short(answer, words)]
    blocks += [Text(_legend(answer))] if answer.now else [Text(_nothing(answer, words))]
    for heading, rows, before, behind in groups:
        if rows:
            main, uses = _main_and_other_uses(rows)
            blocks += [Heading(heading), _now_table(main, before, behind, words), *_other_uses(uses, words)]
    too = [row for row in answer.now if row.way == "raised" and row.crop in outside]
    blocks += [*([Heading(groups[-1][0])] if too and not raised else []), *_raised_too(too, words)]
    blocks += [*_possible(answer, words), *_later(answer, words), *_past(answer, words)]
    blocks += _cautions(answer, words)
    month = f"{month_name(answer.month)} {answer.year}"
    return Page(tell("What to sow in {month}: {site}", month=month,
                     site=title_place(answer.site, words)), tuple(blocks))


def _now_table(rows: list[MonthRow], before: list[Made], behind: list[Made], words: Words) -> Table:
    made: list[Made] = [
        (Column(tell("crop"), wraps=True), lambda row: words.name(row.name)),
        (Column(tell("days"), align="right"), _days),
        *before,
        (Column(tell("depth"), words.gap_unit, "right"), lambda row: words.depth(row.depth)),
        (Column(tell("apart"), words.gap_unit, "right"), lambda row: _apart(row, words)),
        *behind,
        (Column(tell("first picked")), lambda row: span(row.picked_from, row.picked_to)),
        (Column(tell("again"), tell("days"), "right"), lambda row: str(row.interval or tell("once"))),
    ]
    return Table(tuple(column for column, _ in made),
                 tuple(tuple(cell(row) for _, cell in made) for row in rows))


def _main_and_other_uses(rows: list[MonthRow]) -> tuple[list[MonthRow], list[MonthRow]]:
    """Rows of the table, and those of a second use (baby leaf) of a crop that is in it anyway."""
    crops = {row.crop for row in rows if USE not in row.name}
    return ([row for row in rows if USE not in row.name or row.crop not in crops],
            [row for row in rows if USE in row.name and row.crop in crops])


def _other_uses(rows: list[MonthRow], words: Words) -> Iterator[Text]:
    """One short paragraph a use: days of the month, then first picking."""
    for use, of_use in groupby(sorted(rows, key=_use), key=_use):
        said = (_briefly(row, row.name.partition(USE)[0], words) for row in of_use)
        yield Text(tell("As {use} also, days (first picked): {said}.", use=tell(use), said="; ".join(said)))


def _raised_too(rows: list[MonthRow], words: Words) -> Iterator[Text]:
    """Crops that may be sown in the open as well: a short paragraph for each warmth of the bench."""
    for bench, of_bench in groupby(sorted(rows, key=_warmth), key=_warmth):
        said = (_briefly(row, row.name, words) for row in of_bench)
        warm = f"{words.temperature(bench)} {words.temperature_unit}"
        yield Text(tell("Or raised at {warm} and more instead of in the open, days (first picked): "
                        "{said}.", warm=warm, said="; ".join(said)))


def _warmth(row: MonthRow) -> float:
    return row.bench or 0.0


def _briefly(row: MonthRow, name: str, words: Words) -> str:
    return f"{words.name(name)} {_days(row)} ({span(row.picked_from, row.picked_to)})"


def _use(row: MonthRow) -> str:
    return row.name.partition(USE)[2]


def _legend(answer: MonthAnswer) -> str:
    return tell("Days: of {month}. Apart: in the row × between rows. First picked: 8 years in 10, "
                "sown mid-way. Again: days to the next sowing for an even picking.",
                month=month_name(answer.month))


def _days(row: MonthRow | PossibleRow) -> str:
    """'1-30'; '1-5, 25-30' where a break parts them."""
    runs = row.spans or (((row.from_day, row.to_day),) if isinstance(row, MonthRow) else ())
    return ", ".join(f"{first}-{last}" if last > first else f"{first}" for first, last in runs)


def _kind() -> Made:
    kinds = {"row": tell("drill"), "station": tell("stations"), "broadcast": tell("broadcast")}
    return Column(tell("how")), lambda row: tell("plant") if row.way == "planted" else kinds[row.layout]


def _apart(row: MonthRow, words: Words) -> str:
    if row.layout == "broadcast" and row.way == "direct":
        return ""
    return f"{words.gap(row.in_row)} × {words.gap(row.row)}"


def _cover(words: Words) -> Made:
    """The simplest cover that serves."""
    return Column(tell("cover"), wraps=True), lambda row: words.cover(row.covers[0])


def _bench(words: Words) -> Made:
    """How warm it must be kept at least."""
    return (Column(tell("bench"), f"{words.temperature_unit}+", "right"),
            lambda row: "" if row.bench is None else words.temperature(row.bench))


def _nothing(answer: MonthAnswer, words: Words) -> str:
    said = tell("Nothing can be sown here in {month} under any cover asked for.",
                month=month_name(answer.month))
    coming = sorted(((row.opens, row) for row in answer.later if row.opens is not None),
                    key=lambda pair: _months_on(answer, pair[0]))
    if not coming:
        return tell("{said} Nor does anything open in the four months after it.", said=said)
    opens, row = coming[0]
    return tell("{said} Next is {name}, from {opens}.", said=said, name=words.name(row.name),
                opens=month_day(opens))


def _months_on(answer: MonthAnswer, opens: MonthDay) -> tuple[int, int]:
    return (opens[0] - answer.month) % 12, opens[1]


def _later(answer: MonthAnswer, words: Words) -> list[Block]:
    """Crops to leave, those that open in one month for one reason on one line."""
    if not answer.later:
        return []

    def month_and_why(row: LaterRow) -> tuple[int, str]:
        return (99 if row.opens is None else _months_on(answer, row.opens)[0]), row.why

    rows = tuple(
        (tell("not yet") if ahead == 99 else month_name((answer.month + ahead - 1) % 12 + 1),
         _names(group, words, with_day=True), tell(IN_ANOTHER if why == LATE else why))
        for (ahead, why), group in groupby(sorted(answer.later, key=month_and_why), key=month_and_why)
    )
    columns = (Column(tell("month")), Column(tell("crops"), wraps=True),
               Column(tell("what speaks against now"), wraps=True))
    return [Heading(tell("leave until later")), Table(columns, rows)]


def _possible(answer: MonthAnswer, words: Words) -> list[Block]:
    """What may be sown all the same, and what speaks against it; as `why` says of those days."""
    if not answer.possible:
        return []
    columns = (Column(tell("crop"), wraps=True), Column(tell("days"), align="right"),
               Column(tell("how"), wraps=True), Column(tell("what speaks against it"), wraps=True),
               Column(tell("good time from")))
    rows = tuple(
        (words.name(row.name), _days(row), f"{tell(WAY_WORDS[row.way])}, {words.cover(row.cover)}",
         tell(row.why or NOTHING_AGAINST), "" if row.opens is None else month_day(row.opens))
        for row in answer.possible
    )
    return [Heading(tell("possible, but not in its good time")), Table(columns, rows)]


def _past(answer: MonthAnswer, words: Words) -> list[Block]:
    if not answer.past:
        return []
    by_why = groupby(sorted(answer.past, key=lambda row: row.why), key=lambda row: row.why)
    columns = (Column(tell("crops"), wraps=True), Column(tell("why"), wraps=True))
    return [Heading(tell("too late now")),
            Table(columns, tuple((_names(group, words), tell(why)) for why, group in by_why))]


def _names(rows: Iterable[LaterRow], words: Words, with_day: bool = False) -> str:
    return ", ".join(
        f"{words.name(row.name)} ({month_day(row.opens)})" if with_day and row.opens
        else words.name(row.name) for row in rows
    )


def _cautions(answer: MonthAnswer, words: Words) -> list[Block]:
    said = [(row.name.partition(USE)[0], caution) for row in answer.now for caution in row.cautions]
    return take_care(said, words)

