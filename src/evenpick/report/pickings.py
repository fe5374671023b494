"""What will be picked, week by week, against what is wanted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import groupby
from typing import Protocol, TypeVar

from evenpick.base.days import first_monday
from evenpick.base.language import later, tell, tell_n
from evenpick.base.trade import several
from evenpick.report.days import full_day
from evenpick.report.page import Block, Column, Heading, Page, Picture, PictureRow, Table, Text, WeekCell
from evenpick.report.picture import totals
from evenpick.report.place import title_place
from evenpick.report.shares import SharesOf, no_shares, shares_told
from evenpick.report.words import Weights, Words, figure
from evenpick.service.outlook_answer import Band
from evenpick.service.picking_list import LEAST
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_command import noted

YEAR_WEEKS = 52
Span = tuple[date, date]
INVENTED = later("INVENTED GARDEN: made up to try the program on; only the weather is real.")
LEGEND = later("Low and high: 1 year in 10 gives less, 1 in 10 more. Bare: less than half "
               "of what is wanted is likely; short: less than nine tenths; spare: over a "
               "quarter more.")
NOTHING = WeekCell(0.0, 0.0)
NEXT_TO_NOTHING = 0.01
"""of what is wanted: of so little picked it is not told how much of it is spare"""
NOTHING_WANTED = later("Away: nobody is there to pick, and nothing is wanted.")
PICKED_BEFORE = later("Away: nobody is there to pick. What is likely here is picked before leaving.")
"""of a farm of a cooperative: who buys of the others wants on"""
HALF_A_PIECE, ROUNDED = 0.5, 10.0  # pieces: fewer are none, and so many are told to two figures
HALF, SHORT, OVER = 0.5, 0.9, 1.25  # of what is wanted: bare below, short below, spare above


def pickings_page(
    answer: PlanAnswer, words: Words, on: date, weeks: int, shares: SharesOf = no_shares
) -> Page:
    """The picture of the year and the tables of the weeks from the one of `on` (or the plan's first), with
    what a share comes to."""
    blocks: list[Block] = [*invented(answer), *less(answer)]
    blocks += [Heading(tell("the year")), picture(answer.pickings, words)]
    blocks += weeks_blocks(answer.pickings, first_monday(on, answer.begins), weeks, words,
                           lambda week: shares_told(shares(week), words), answer.away)
    blocks.append(Text(tell(LEGEND)))
    return Page(tell("Pickings: {site}", site=title_place(answer.site, words)), tuple(blocks))


def weeks_blocks(
    items: Sequence[ItemPickings], first: date, weeks: int, words: Words,
    beside: Callable[[date], Sequence[Block]] = lambda week: (), away: Sequence[Span] = (),
) -> Iterator[Block]:
    """So many weeks from that Monday, each with what stands `beside` it; those in which nothing sown now can
    be ripe yet, and nothing else is, are told together. `away` as of `week_blocks`."""
    ahead = [first + timedelta(weeks=at) for at in range(weeks)]
    for waited, run in groupby(ahead, lambda week: _waited_for(items, week)):
        if not waited:
            for week in run:
                yield from (*week_blocks(items, week, words, away), *beside(week))
            continue
        begins, *more = map(full_day, run)
        yield Heading(tell("weeks of {first} to {last}", first=begins, last=more[-1]) if more
                      else tell("week of {week}", week=begins))
        yield Text(tell("Too soon for what is wanted: {items}.", items=", ".join(waited)))


def _waited_for(items: Sequence[ItemPickings], week: date) -> tuple[str, ...]:
    """What is wanted in a week in which nothing sown now can be ripe yet; empty where something may be."""
    told = [(item.item, of.high, at < item.lead) for item in items for at, of in enumerate(item.weeks)
            if of.week == week and (of.wanted > 0 or of.high > 0)]
    return tuple(name for name, _, _ in told) if all(high <= 0 and soon for _, high, soon in told) else ()


def week_blocks(
    items: Sequence[ItemPickings], week: date, words: Words, away: Sequence[Span] = ()
) -> list[Block]:
    """One week: likely against wanted, item by item; of one that lies in a span `away`, first and last day,
    that nobody is there, beside what goes over meanwhile."""
    weights = words.weights(max(of.wanted, of.high) for item in items for of in item.weeks)
    rows = tuple(_week_rows(items, week, weights))
    heading = Heading(tell("week of {week}", week=full_day(week)))
    blocks: list[Block] = [Table(_columns(weights), rows)] if rows else []
    if nobody_there(away, week):
        wanted = any(of.wanted > 0 for item in items for of in item.weeks if of.week == week)
        return [heading, Text(tell(PICKED_BEFORE if wanted else NOTHING_WANTED)), *blocks]
    shared = ((item.item, of.of_all) for item in items for of in item.weeks if of.week == week)
    if parts := shared_told(shared, words):
        blocks.append(Text(parts))
    return [heading, *(blocks or [Text(tell("Nothing is wanted, nothing is ripe."))])]


def nobody_there(away: Sequence[Span], week: date) -> bool:
    """Whether the week from that Monday lies in one of the spans, first and last day."""
    return any(first <= week and week + timedelta(days=6) <= last for first, last in away)


def invented(answer: PlanAnswer) -> list[Block]:
    return [Text(tell(INVENTED))] if answer.invented else []


def less(answer: PlanAnswer) -> list[Block]:
    """What is told otherwise than the plan has it."""
    return [Text(note) for note in noted(answer)]


def picture(items: Sequence[ItemPickings], words: Words) -> Picture:
    """The first 52 weeks of every item."""
    weeks = tuple(sorted({week.week for item in items for week in item.weeks})[:YEAR_WEEKS])
    rows = tuple(_row(item, weeks) for item in items)
    tallest = max((wanted + spare for wanted, _, spare in totals(rows)), default=0.0)
    return Picture(weeks, rows, words.weight(tallest))


def shown_weeks(
    items: Sequence[ItemPickings], on: date, begins: date, weeks: int
) -> tuple[ItemPickings, ...]:
    """The same items with only the weeks that a pickings page of that day tells."""
    first = first_monday(on, begins)
    last = first + timedelta(weeks=weeks)
    return tuple(
        ItemPickings(item.item, item.piece, item.piece_kg,
                     tuple(week for week in item.weeks if first <= week.week < last),
                     max(0, item.lead - sum(week.week < first for week in item.weeks)))
        for item in items
    )


def _row(item: ItemPickings, weeks: Sequence[date]) -> PictureRow:
    cells = {week.week: WeekCell(week.wanted, week.likely, at >= item.lead)
             for at, week in enumerate(item.weeks)}
    held = [week for week in item.weeks[item.lead:] if week.week in weeks]
    wanted = sum(week.wanted for week in held)
    bare, spare = sum(week.bare for week in held), sum(week.spare for week in held)
    picked = wanted - bare + spare
    return PictureRow(item.item, tuple(cells.get(week, NOTHING) for week in weeks),
                      bare / wanted if wanted > 0 else None,
                      spare / picked if picked > NEXT_TO_NOTHING * wanted else None)


def _columns(weights: Weights) -> tuple[Column, ...]:
    figures = (Column(name, weights.unit, "right")
               for name in (tell("wanted"), tell("low"), tell("likely"), tell("high")))
    pieces, so = Column(tell("about"), align="right"), Column(tell("so"))
    return Column(tell("item"), wraps=True), *figures, pieces, so


def _week_rows(items: Sequence[ItemPickings], week: date, weights: Weights) -> Iterator[tuple[str, ...]]:
    for item in items:
        for at, of in enumerate(item.weeks):
            if of.week == week and (of.wanted > 0 or of.likely > 0):
                figures = (weights.figure(kg) for kg in (of.wanted, of.low, of.likely, of.high))
                pieces = about(of.likely, item.piece, of.piece_kg or item.piece_kg)
                yield item.item, *figures, pieces, _word(of, at < item.lead)


def about(kg: float, piece: str, piece_kg: float) -> str:
    """'6 heads'; empty as `counted`."""
    count = counted(kg, piece, piece_kg)
    return tell_n(f"{{n}} {piece}", f"{{n}} {several(piece)}", round(kg / piece_kg),
                  n=count) if count else ""


class Ripe(Protocol):
    """An item, and what there is to pick of it, kg."""

    @property
    def item(self) -> str: ...

    @property
    def have(self) -> Band: ...


Some = TypeVar("Some", bound=Ripe)


def to_fetch(items: Iterable[Some], words: Words) -> tuple[list[Some], str]:
    """Those of which something is likely, and what is said of the others, of which only a good year of ten
    gives any: they are no load to fetch, and worth a look in passing."""
    there: list[Some] = []
    seldom: list[Some] = []
    for one in items:
        (there if one.have.likely > LEAST else seldom).append(one)
    told = ", ".join(tell("{item} (up to {weight})", item=one.item, weight=words.weight(one.have.high))
                     for one in seldom)
    return there, tell("Only in a good year of ten: {items}.", items=told) if told else ""


def shared_told(parts: Iterable[tuple[str, float | None]], words: Words) -> str:
    """That what is told is one farm's part, with what all farms pick together (kg, None of what no other farm
    picks); empty where there is nothing of the kind."""
    told = ", ".join(f"{item} {words.weight(kg)}" for item, kg in parts if kg is not None)
    return tell("Several farms pick these together, and this is this farm's part; all their parts: {items}.",
                items=told) if told else ""


def counted(kg: float, piece: str, piece_kg: float) -> str:
    """How many pieces as at the table; empty where that is by weight, and for less than half of one."""
    number = 0.0 if piece == "kg" or piece_kg <= 0 else kg / piece_kg
    if number < HALF_A_PIECE:
        return ""
    return figure(number) if number >= ROUNDED else f"{number:.0f}"


def _word(week: WeekOfItem, too_soon: bool) -> str:
    if week.wanted <= 0:
        return tell("spare")
    share = week.likely / week.wanted
    if share < HALF:
        return tell("too soon") if too_soon else tell("bare")
    return tell("short") if share < SHORT else tell("even") if share <= OVER else tell("spare")
