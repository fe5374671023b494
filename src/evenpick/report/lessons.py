"""What the diary taught, one line a lesson."""

from __future__ import annotations

from collections.abc import Iterator

from evenpick.base.language import later, month_name, tell, tell_n
from evenpick.report.days import day, full_day
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place
from evenpick.report.words import Words, capital, figure, percent
from evenpick.service.lessons import (
    LessonsAnswer,
    LossLesson,
    TimingLesson,
    UsedRecord,
    YieldLesson,
)
from evenpick.service.want_lessons import WantLesson

WORTH_PARTING = 1.0
"""m of row: less is not sown in goes (our choice)"""
ADVICE = {
    "not up": later("test the seed before it is sown again, and sow when the ground is warmer"),
    "dried": later("water the open drill before sowing, and keep it moist until it is up"),
    "eaten": later("net or guard the next one from its first day, and sow a little more than is wanted"),
    "diseased": later("keep its family off that ground for some years"),
    "frosted": later("sow later, or have a cover ready"),
    "scorched": later("shade it, or sow for a cooler month"),
    "bolted": later("sow later in spring or a kind slow to bolt, and thin sooner"),
    "not picked": later("sow less at once, and oftener"),
    "other": "",
}
NOTHING = (
    later("The diary teaches nothing yet. Sowings with a first picking teach timing; sowings cleared "
          "with every picking weighed teach yield; losses teach where to look.")
)
LEAVE_OUT = later("Leave one out: evenpick lessons --leave-out SOWING. Begin anew: --reset CROP, or "
                  "--reset all.")


def record_columns() -> tuple[Column, ...]:
    return (
        Column(tell("sowing")), Column(tell("what"), wraps=True), Column(tell("where")), Column(tell("sown")),
        Column(tell("first picked")), Column(tell("time against the book"), align="right"),
        Column("kg/m²", align="right"), Column(tell("believed")),
    )


def lessons_page(answer: LessonsAnswer, words: Words, records: bool = False) -> Page:
    """One line a lesson; with `records` the sowings that taught it."""
    blocks = lesson_blocks(answer, words)
    if records and answer.records:
        rows = tuple(used_row(one, words) for one in answer.records)
        blocks += [Heading(tell("sowings that teach")), Table(record_columns(), rows), Text(tell(LEAVE_OUT))]
    return Page(tell("What the diary taught: {site}", site=title_place(answer.site, words)), tuple(blocks))


def lesson_blocks(answer: LessonsAnswer, words: Words) -> list[Block]:
    """One line a lesson, or the words for none."""
    blocks: list[Block] = []
    for heading, lines in (
        (tell("timing"), [_timing(one, words) for one in answer.timing]),
        (tell("yield"), [_yield(one, words) for one in answer.yields]),
        (tell("picked against wanted"), [_want(one, words) for one in answer.wants]),
        (tell("losses"), [_loss(one, words) for one in answer.losses]),
        (tell("not known"), list(_unknown(answer, words))),
    ):
        if lines:
            blocks += [Heading(heading), Items(tuple(map(capital, lines)))]
    if not blocks:
        blocks.append(Text(tell(NOTHING)))
    elif answer.timing or answer.yields:
        blocks.append(Text(tell("Timing and yield are in the next plan already.")))
    return blocks


def used_row(one: UsedRecord, words: Words) -> tuple[str, ...]:
    name = f"{words.name(one.name)}, {one.variety}" if one.variety else words.name(one.name)
    return (
        one.tag, name, words.cover(one.cover), full_day(one.sown), day(one.first_picked, one.sown.year),
        "" if one.time is None else f"{one.time:.2f}", "" if one.kg_per_m2 is None else figure(one.kg_per_m2),
        tell("hardly") if one.weight < 0.3 else tell("less") if one.weight < 0.7 else tell("yes"),
    )


def _timing(one: TimingLesson, words: Words) -> str:
    doubt = tell_n("; {n} of them fits the others so badly that it hardly counts",
                   "; {n} of them fit the others so badly that they hardly count",
                   one.doubted) if one.doubted else ""
    said = {"name": words.name(one.name).lower(), "records": _records(one.records), "doubt": doubt}
    days = round(abs(one.days_later))
    if one.days_later > 0:
        return tell_n("Your {name}: {n} day later than the book, {records}{doubt}.",
                      "Your {name}: {n} days later than the book, {records}{doubt}.", days, **said)
    return tell_n("Your {name}: {n} day earlier than the book, {records}{doubt}.",
                  "Your {name}: {n} days earlier than the book, {records}{doubt}.", days, **said)


def _yield(one: YieldLesson, words: Words) -> str:
    mine, book = words.weight(one.kg_per_m2 * 10), words.weight(one.book * 10)
    return tell("Your {name}: about {mine} from {area} where the book has {book}, {records} weighed to "
                "the end.", name=words.name(one.name).lower(), mine=mine, area=words.area(10), book=book,
                records=_records(one.records))


def _records(count: int) -> str:
    return tell_n("{n} record", "{n} records", count)


def _want(one: WantLesson, words: Words) -> str:
    month = f"{month_name(one.month.month)} {one.month.year}"
    ratio = one.picked / one.wanted
    said = tell("{item}: {ratio} times what was wanted in {month} ({picked} of {wanted})", item=one.item,
                ratio=figure(ratio), month=month, picked=words.weight(one.picked),
                wanted=words.weight(one.wanted))
    if one.would_do is None:
        return f"{said}."
    had = words.row(one.row_m) if one.row_m is not None else words.area(one.sown_m2)
    size = (one.row_m if one.row_m is not None else one.sown_m2) * one.would_do
    enough = words.row(size) if one.row_m is not None else words.area(size)
    if ratio > 1:
        if one.row_m is not None and size < WORTH_PARTING:
            return tell("{said}; {had} were sown, {enough} would have done.", said=said, had=had,
                        enough=enough)
        sown = tell("at once") if one.sowings == 1 else tell("in {sowings} sowings", sowings=one.sowings)
        return tell("{said}; {had} were sown {sown}, {enough} would have done: sow that, in two or three "
                    "goes.", said=said, had=had, sown=sown, enough=enough)
    return tell("{said}; {had} were sown, {enough} were needed, or fewer losses.", said=said, had=had,
                enough=enough)


def _loss(one: LossLesson, words: Words) -> str:
    who = one.by or one.cause
    advice = tell(ADVICE[one.cause])
    said = tell("{name}: {share} {cause}, in {hit} of {sowings}", name=words.name(one.name),
                share=percent(one.share), cause=_how(one.cause, who), hit=one.hit,
                sowings=_sowings(one.sowings))
    return f"{said}; {advice}." if advice else f"{said}."


def _how(cause: str, who: str) -> str:
    if cause in ("eaten", "diseased", "other"):
        return tell("lost to {who}", who=who) if who not in ("eaten", "diseased") else tell(who)
    return {"not up": tell("did not come up"), "not picked": tell("not picked in time")}.get(cause,
                                                                                             tell(cause))


def _sowings(count: int) -> str:
    return tell_n("{n} sowing", "{n} sowings", count)


def _unknown(answer: LessonsAnswer, words: Words) -> Iterator[str]:
    for name, count in answer.unweighed:
        yield tell_n("{name}: {n} picking was not weighed, so nothing is learned of its yield from them.",
                     "{name}: {n} pickings were not weighed, so nothing is learned of its yield from them.",
                     count, name=words.name(name))
    for item, month in answer.unfinished:
        yield tell("{item}: something that stood in {month} {year} is not cleared, or a picking names no "
                   "sowing, so that little was written down is no lesson.", item=item,
                   month=month_name(month.month), year=month.year)
    if answer.left_out:
        yield tell("{left_out} left out on your word.", left_out=_sowings(answer.left_out))
