"""What goes where and when: the beds over the weeks, the table of places, what comes back too soon."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from functools import partial

from evenpick.base.days import first_monday
from evenpick.base.language import later, tell, tell_n
from evenpick.crops.families import said
from evenpick.report.bed_picture import on_lines
from evenpick.report.days import day, full_day
from evenpick.report.moved import moves
from evenpick.report.page import (
    BedBar,
    BedPicture,
    BedRow,
    Block,
    Column,
    Heading,
    Items,
    Page,
    Table,
    Text,
    listed,
)
from evenpick.report.pickings import INVENTED
from evenpick.report.place import title_place
from evenpick.report.words import Words
from evenpick.service.ground_answer import BedAnswer, BedSpan, GroundAnswer, NoRoom, TooSoon

WEEK = 7
KEY = later("A bar begins when a crop takes its ground (‹: before the picture) and ends when that is "
            "free again. The number is the sowing's in the plan; what stood before has none, nor has ground "
            "at rest. Blank: bare ground. Crops that follow each other on much the same stretch share a "
            "line; the table has the stretch of each.")
FOLLOWS = 56  # days bare after which a crop is not said to follow another
SLIGHT = 0.05  # m²: less without room is not worth a line
ALL = 0.99  # of a bed: more of it is all of it


def ground_page(answer: GroundAnswer, words: Words, on: date, weeks: int) -> Page:
    """The beds of an answer from the week of `on`, or the plan's first if that is later."""
    first = first_monday(on, answer.begins)
    end = first + timedelta(weeks=weeks)
    blocks: list[Block] = [Text(tell(INVENTED))] if answer.invented else []
    for ground in dict.fromkeys(bed.ground for bed in answer.beds):
        beds = [bed for bed in answer.beds if bed.ground == ground]
        cover = words.cover("tunnel" if beds[0].cover == "tunnel" else "open")
        heading = ground if ground.casefold() == cover else f"{ground}, {cover}"
        blocks += [Heading(heading), *_pictures(beds, words, first, weeks)]
    blocks += [Text(tell(KEY)), *_table(answer, words, first, end), *moves(answer.moved, words),
               *_no_room(answer.no_room, words), *_too_soon(answer.too_soon, words),
               *listed(tell("notes"), answer.notes)]
    return Page(tell("Ground from {first}: {site}", first=full_day(first),
                     site=title_place(answer.site, words)), tuple(blocks))


def within(answer: GroundAnswer, bed: str | None, on: date, weeks: int) -> GroundAnswer:
    """The same answer of one bed (None: all), with the spans that reach into those weeks."""
    first = first_monday(on, answer.begins)
    end = first + timedelta(weeks=weeks)
    beds = tuple(
        replace(each, spans=tuple(span for span in each.spans if span.starts < end and span.ends > first))
        for each in answer.beds if bed is None or each.name == bed
    )
    soon = tuple(each for each in answer.too_soon if bed is None or each.bed == bed)
    return replace(answer, beds=beds, too_soon=soon)


def _pictures(beds: Sequence[BedAnswer], words: Words, first: date, weeks: int) -> list[Block]:
    rows, bare = [], []
    for bed in beds:
        bars = [(span.from_m, span.to_m, _bar(span, words, first, weeks))
                for span in bed.spans if _seen(span, first, weeks)]
        if not bars:
            bare.append(bed.name)
            continue
        lines = tuple(on_lines(bars, partial(_stretch, bed=bed, words=words)))
        rows.append(BedRow(f"{bed.name}, {_size(bed, words)}", lines))
    at = tuple(first + timedelta(weeks=number) for number in range(weeks))
    blocks: list[Block] = [BedPicture(at, tuple(rows))] if rows else []
    return [*blocks, Text(tell("Bare all the while: {bare}.", bare=", ".join(bare)))] if bare else blocks


def _seen(span: BedSpan, first: date, weeks: int) -> bool:
    return span.starts < first + timedelta(weeks=weeks) and span.ends > first


def _bar(span: BedSpan, words: Words, first: date, weeks: int) -> BedBar:
    start = (span.starts - first).days // WEEK
    end = max(start + 1, (span.ends - first).days // WEEK)
    return BedBar(max(0, start), max(1, min(weeks, end)), span.number, words.name(span.name), start < 0)


def _size(bed: BedAnswer, words: Words) -> str:
    if bed.length_m is None or bed.width_m is None:
        return words.area(bed.area_m2)
    unit = words.length_unit
    return f"{words.along(bed.length_m, True):.3g} {unit} × {words.along(bed.width_m, True):.3g} {unit}"


def _table(answer: GroundAnswer, words: Words, first: date, end: date) -> list[Block]:
    """One row a stretch, by the day it is taken."""
    columns = (Column(tell("from")), Column(tell("until")), Column(tell("no."), align="right"),
               Column(tell("what"), wraps=True),
               Column(tell("bed")), Column(tell("stretch"), align="right"),
               Column(tell("rows"), align="right"),
               Column(tell("after"), wraps=True))
    spans = sorted(
        ((span, bed) for bed in answer.beds for span in bed.spans if span.starts < end and span.ends > first),
        key=lambda each: (each[0].starts, each[0].number or 0),  # and along the beds, in the garden's order
    )
    if not spans:
        return [Text(tell("Nothing stands or is planned here in these weeks."))]
    year = first.year
    rows = tuple(
        (day(span.starts, year), day(span.ends, year), "" if span.number is None else str(span.number),
         words.name(span.name), bed.name, _stretch(span.from_m, span.to_m, bed, words),
         _rows(span), _after(span, words))
        for span, bed in spans
    )
    return [Heading(tell("what goes where")), Table(columns, rows)]


def _rows(span: BedSpan) -> str:
    if span.across is not None:
        return tell_n("{n} across", "{n} across", span.across)
    return "" if span.rows is None else str(span.rows)


def _stretch(low: float, high: float, bed: BedAnswer, words: Words) -> str:
    """From and to along a bed; of one whose shape was not told, such as a pot, how much of it, for
    there is no end to measure from."""
    if bed.width_m is None:
        whole = high - low >= ALL * bed.area_m2
        return tell("all of it") if whole else words.area(high - low)
    return f"{words.along(low, True):.1f}-{words.along(high, True):.1f} {words.length_unit}"


def _after(span: BedSpan, words: Words) -> str:
    close = span.bare_days is not None and span.bare_days <= FOLLOWS
    return words.name(span.follows) if close else ""


def _named(number: int | None, name: str, words: Words) -> str:
    return words.name(name) if number is None else tell("{name} (no. {number})", name=words.name(name),
                                                        number=number)


def _no_room(several: Sequence[NoRoom], words: Words) -> list[Block]:
    return listed(tell("no room"), [
        tell("{number}, {area_m2} from {starts}: {why}. To mend it: {mend}.",
             number=_named(each.number, each.name, words), area_m2=words.area(each.area_m2),
             starts=full_day(each.starts), why=each.why, mend=each.mend)
        for each in several if each.area_m2 >= SLIGHT
    ])


def _too_soon(several: Sequence[TooSoon], words: Words) -> list[Block]:
    """Breaches of rotation, a sentence each."""
    if not several:
        return []
    said_once = tuple(dict.fromkeys(_breach(each, words) for each in several))
    return [Heading(tell("back too soon")), Items(said_once),
            Text(tell("No other room was found for them. Fewer sowings of that family, or more beds, "
                      "mend it."))]


def _breach(each: TooSoon, words: Words) -> str:
    grew = tell("{after} grew there in {last}", after=words.name(each.after),
                last=each.last) if each.after else (
        tell("{family} grew there in {last}", family=tell(said(each.family)), last=each.last))
    what = tell("{number} in {bed} from {starts}", number=_named(each.number, each.name, words),
                bed=each.bed, starts=full_day(each.starts))
    if each.straight_from is not None:
        until = full_day(each.straight_from)
        return tell("{what}: straight after {after}, there until {until}; a crop of another family should "
                    "come between.", what=what, after=words.name(each.after), until=until)
    return (tell("{what}: {grew}; {family} should stay away until {last}.", what=what, grew=grew,
                 family=tell(said(each.family)), last=each.last + each.years))
