"""What the plan would bring at the prices given: the year as a band, each month by itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evenpick.base.language import month_name, tell
from evenpick.report.money import about
from evenpick.report.page import Block, Column, Heading, Table, Text
from evenpick.service.shares_answer import Takings


def takings_told(takings: Sequence[Takings], money: str) -> list[Block]:
    """Nothing where nothing has a price."""
    if not takings:
        return []
    return [
        Heading(tell("what it would bring")),
        Text(tell("What is picked and wanted in the first 52 weeks, at the prices given; what goes over is "
                  "not counted, and costs are not taken off. Where food is sold, local rules for it come "
                  "first.")),
        _year(takings, money), *_unpriced(takings), _months(takings, money),
        Text(tell("Low and high: 1 year in 10 brings less, 1 in 10 more. Each month is told by itself, so "
                  "that they need not add up to the year; one that is not named is likely to bring "
                  "nothing.")),
    ]


def _name(one: Takings) -> str:
    return tell("all together") if one.outlet is None else one.outlet


def _year(takings: Sequence[Takings], money: str) -> Table:
    columns = (Column(tell("the year"), wraps=True),
               *(Column(name, align="right") for name in (tell("low"), tell("likely"), tell("high"))))
    return Table(columns, tuple(
        (_name(one), *(about(each, money) for each in (one.low, one.likely, one.high))) for one in takings
    ))


def _months(takings: Sequence[Takings], money: str) -> Table:
    columns = (Column(tell("month")), *(Column(_name(one), align="right") for one in takings))
    return Table(columns, tuple(
        (tell("{month} {year}", month=month_name(first.month), year=first.year),
         *(about(one.months[at][1], money) for one in takings))
        for at, (first, _) in enumerate(takings[0].months) if any(one.months[at][1] > 0 for one in takings)
    ))


def _unpriced(takings: Sequence[Takings]) -> Iterator[Text]:
    for one in takings:
        if one.outlet is not None and one.unpriced:
            yield Text(tell("{outlet}: without a price, and so without money here: {items}.",
                            outlet=one.outlet, items=", ".join(one.unpriced)))
