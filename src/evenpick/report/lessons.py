"""What the diary taught, one line a lesson."""

from __future__ import annotations

from collections.abc import Iterator

from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.place import title_place
from evenpick.report.words import MONTH_NAMES, Words, day, figure, percent
from evenpick.service.lessons import (
    LessonsAnswer,
    LossLesson,
    TimingLesson,
    UsedRecord,
    WantLesson,
    YieldLesson,
)

ADVICE = {
    "not up": "test the seed before it is sown again, and sow when the ground is warmer",
    "dried": "water the open drill before sowing, and keep it moist until it is up",
    "eaten": "net or guard the next one from its first day, and sow a little more than is wanted",
    "diseased": "keep its family off that ground for some years",
    "frosted": "sow later, or have a cover ready",
    "scorched": "shade it, or sow for a cooler month",
    "bolted": "sow later in spring or a kind slow to bolt, and thin sooner",
    "not picked": "sow less at once, and oftener",
    "other": "",
}
NOTHING = (
    "The diary teaches nothing yet. Sowings with a first picking teach timing; sowings cleared with every "
    "picking weighed teach yield; losses teach where to look."
)
LEAVE_OUT = "Leave one out: evenpick lessons --leave-out SOWING. Begin anew: --reset CROP, or --reset all."
COLUMNS = (
    Column("sowing"), Column("what", wraps=True), Column("where"), Column("sown"), Column("first picked"),
    Column("time against the book", align="right"), Column("kg/m²", align="right"), Column("believed"),
)


def lessons_page(answer: LessonsAnswer, words: Words, records: bool = False) -> Page:
    """One line a lesson; with `records` the sowings that taught it."""
    blocks: list[Block] = []
    for heading, lines in (
        ("timing", [_timing(one, words) for one in answer.timing]),
        ("yield", [_yield(one, words) for one in answer.yields]),
        ("picked against wanted", [_want(one, words) for one in answer.wants]),
        ("losses", [_loss(one, words) for one in answer.losses]),
        ("not known", list(_unknown(answer, words))),
    ):
        if lines:
            blocks += [Heading(heading), Items(tuple(lines))]
    if not blocks:
        blocks.append(Text(NOTHING))
    elif answer.timing or answer.yields:
        blocks.append(Text("Timing and yield are in the next plan already."))
    if records and answer.records:
        rows = tuple(_used(one, words) for one in answer.records)
        blocks += [Heading("sowings that teach"), Table(COLUMNS, rows), Text(LEAVE_OUT)]
    return Page(f"What the diary taught: {title_place(answer.site, words)}", tuple(blocks))


def _used(one: UsedRecord, words: Words) -> tuple[str, ...]:
    name = f"{words.name(one.name)}, {one.variety}" if one.variety else words.name(one.name)
    return (
        one.tag, name, one.cover, f"{day(one.sown)} {one.sown.year}", day(one.first_picked, one.sown.year),
        "" if one.time is None else f"{one.time:.2f}", "" if one.kg_per_m2 is None else figure(one.kg_per_m2),
        "hardly" if one.weight < 0.3 else "less" if one.weight < 0.7 else "yes",
    )


def _timing(one: TimingLesson, words: Words) -> str:
    way = "later" if one.days_later > 0 else "earlier"
    doubt = f"; {one.doubted} of them fit the others so badly that they hardly count" if one.doubted else ""
    return (f"Your {words.name(one.name).lower()}: {abs(one.days_later):.0f} days {way} than the book, "
            f"{_records(one.records)}{doubt}.")


def _yield(one: YieldLesson, words: Words) -> str:
    mine, book = words.weight(one.kg_per_m2 * 10), words.weight(one.book * 10)
    return (f"Your {words.name(one.name).lower()}: about {mine} from {words.area(10)} where the book has "
            f"{book}, {_records(one.records)} weighed to the end.")


def _records(count: int) -> str:
    return "1 record" if count == 1 else f"{count} records"


def _want(one: WantLesson, words: Words) -> str:
    month = f"{MONTH_NAMES[one.month.month - 1]} {one.month.year}"
    ratio = one.picked / one.wanted
    said = (f"{one.item}: {figure(ratio)} times what was wanted in {month} "
            f"({words.weight(one.picked)} of {words.weight(one.wanted)})")
    if one.would_do is None:
        return f"{said}."
    had = words.row(one.row_m) if one.row_m is not None else words.area(one.sown_m2)
    size = (one.row_m if one.row_m is not None else one.sown_m2) * one.would_do
    enough = words.row(size) if one.row_m is not None else words.area(size)
    if ratio > 1:
        sown = "at once" if one.sowings == 1 else f"in {one.sowings} sowings"
        return f"{said}; {had} were sown {sown}, {enough} would have done: sow that, in two or three goes."
    return f"{said}; {had} were sown, {enough} were needed, or fewer losses."


def _loss(one: LossLesson, words: Words) -> str:
    who = one.by or one.cause
    advice = ADVICE[one.cause]
    said = (f"{words.name(one.name)}: {percent(one.share)} {_how(one.cause, who)}, "
            f"in {one.hit} of {_sowings(one.sowings)}")
    return f"{said}; {advice}." if advice else f"{said}."


def _how(cause: str, who: str) -> str:
    if cause in ("eaten", "diseased", "other"):
        return f"lost to {who}" if who not in ("eaten", "diseased") else who
    return {"not up": "did not come up", "not picked": "not picked in time"}.get(cause, cause)


def _sowings(count: int) -> str:
    return "1 sowing" if count == 1 else f"{count} sowings"


def _unknown(answer: LessonsAnswer, words: Words) -> Iterator[str]:
    for name, count in answer.unweighed:
        many = "1 picking was" if count == 1 else f"{count} pickings were"
        yield f"{words.name(name)}: {many} not weighed, so nothing is learned of its yield from them."
    if answer.left_out:
        yield f"{_sowings(answer.left_out)} left out on your word."
