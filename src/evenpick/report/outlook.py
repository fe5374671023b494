"""One crop sown on one day: what comes of it, and why."""

from __future__ import annotations

from collections.abc import Iterable

from evenpick.report.cautions import of_crops
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place, weather_lines
from evenpick.report.sowings import sowings_by_year
from evenpick.report.windows import windows_table
from evenpick.report.words import WAY_WORDS, Words, after, day, month_day, percent, span
from evenpick.service.answers import Band, OutlookAnswer, WhyAnswer

STAGES = (Column("stage"), Column("days after sowing", align="right"), Column("likely", align="right"),
          Column("date", align="right"))
SHARES = (Column("what becomes of it"), Column("years", align="right"))
WORTH = 0.7  # score from which a day is worth sowing (growth H4)


def outlook_page(answer: OutlookAnswer, words: Words) -> Page:
    """Days to each stage and the share of years by what becomes of the sowing."""
    return Page(_title("Outlook", answer, words),
                (*weather_lines(answer.site, answer.climate, words), *_outcome(answer, words),
                 *of_crops([(answer.crop, answer.name)], words)))


def why_page(answer: WhyAnswer, words: Words) -> Page:
    """The outlook, what opens and closes the window, and where every number comes from."""
    outlook = answer.outlook
    blocks: list[Block] = [
        *weather_lines(outlook.site, outlook.climate, words), Text(_verdict(answer)),
        *_outcome(outlook, words),
    ]
    if answer.hazards:
        blocks += [Heading("what struck, and how often"), *_struck(answer)]
    if answer.windows:
        blocks += [Heading("its windows here"), windows_table(answer.windows, words)]
        blocks += [Items(tuple(_closing(answer)))]
    if answer.plan:
        blocks += sowings_by_year(answer.plan, words, "in your plan: sowings of")
    blocks += [
        Heading("what it is reckoned from"),
        Table((Column("value", wraps=True), Column("figure", wraps=True), Column("source", wraps=True)),
              answer.values),
        Heading("sources"),
        Items(tuple(f"{key}: {reads}" for key, reads in answer.sources)),
    ]
    return Page(_title("Why", outlook, words), (*blocks, *of_crops([(outlook.crop, outlook.name)], words)))


def _title(kind: str, answer: OutlookAnswer, words: Words) -> str:
    how = f"{WAY_WORDS[answer.way]}, {words.cover(answer.cover)}, {answer.purpose}"
    what = f"{words.name(answer.name)} sown {day(answer.sow)} {answer.sow.year}"
    return f"{kind}: {what} ({how}), {title_place(answer.site, words)}"


def _outcome(answer: OutlookAnswer, words: Words) -> list[Block]:
    bands = (("up", answer.emergence), ("planted out", answer.planting_out),
             ("first picking", answer.first_picking), ("last picking", answer.last_picking))
    rows = tuple(_stage(name, band, answer) for name, band in bands if band is not None)
    untold = [name for name, band in bands if band is None and name in ("up", "first picking")]
    missing = [Text(f"In most years it never gets to: {', '.join(untold)}.")] if untold else []
    return [
        Heading("when"), *([Table(STAGES, rows)] if rows else ()), *missing,
        Heading(f"out of {answer.members} weather years"),
        _shares(answer.fates),
        Text("Bands hold 8 years in 10; 1 in 10 is earlier and 1 in 10 later."),
    ]


def _stage(name: str, band: Band, answer: OutlookAnswer) -> tuple[str, ...]:
    first, last = after(answer.sow, band.low), after(answer.sow, band.high)
    return (name, f"{band.low:.0f}-{band.high:.0f}", f"{band.likely:.0f}", span(first, last, answer.sow.year))


def _shares(shares: Iterable[tuple[str, float]]) -> Table:
    """What ever happens; the JSON has the rest too."""
    return Table(SHARES, tuple((name, percent(share)) for name, share in shares if share > 0))


def _verdict(answer: WhyAnswer) -> str:
    worth = "worth sowing" if answer.score >= WORTH else "not recommended"
    against = f" What speaks most against it: {answer.against}." if answer.against else ""
    moved = ("" if answer.leverage is None else
             f" Each day of waiting moves the first picking by {answer.leverage:.1f} of a day.")
    return (f"Score of this day: {answer.score:.2f} (the best day has 1, worth sowing is 0.7): {worth}."
            f"{against}{moved}")


def _struck(answer: WhyAnswer) -> list[Block]:
    struck = any(share > 0 for _, share in answer.hazards)
    return [_shares(answer.hazards)] if struck else [Text("Nothing, in any of the years.")]


def _closing(answer: WhyAnswer) -> Iterable[str]:
    for row in answer.windows:
        edges = (("before", row.opens, row.closed_before), ("after", row.closes, row.closed_after))
        yield from (f"{when} {month_day(edge)}: {reason}" for when, edge, reason in edges if reason)
