"""What was lost, what that leaves bare, and what can still fill it."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.place import title_place
from evenpick.report.words import WAY_WORDS, Words, day, percent, sentence, span
from evenpick.service.answers import AfterLoss, Filling
from evenpick.service.losses import LossRow

LOSSES = (
    Column("loss"), Column("what", wraps=True), Column("where", wraps=True), Column("sown"),
    Column("lost", align="right"), Column("on"), Column("to", wraps=True),
)
FILLINGS = (
    Column("sow"), Column("what", wraps=True), Column("how"), Column("under"), Column("area", align="right"),
    Column("succeeds", align="right"), Column("fills", wraps=True), Column("room", wraps=True),
)


def losses_page(rows: Sequence[LossRow], words: Words) -> Page:
    """Losses with their marks."""
    if not rows:
        none = "Nothing was lost in the last four months, as far as was written down."
        return Page("Losses", (Text(none),))
    table = Table(LOSSES, tuple(
        (row.tag, words.name(row.name), row.ground or "", day(row.sown, row.day.year), percent(row.lost),
         day(row.day), row.by or row.cause) for row in rows
    ))
    ask = Text("What can still fill its weeks: evenpick losses LOSS.")
    return Page("Losses", (table, ask))


def after_loss_page(answer: AfterLoss, words: Words) -> Page:
    """The weeks it leaves bare and what can fill them, or the honest no."""
    said = f"{percent(answer.lost)} of it, sown {day(answer.sown, answer.day.year)}, was lost."
    blocks: list[Block] = [Text(said), Text(sentence(answer.words))]
    if answer.weeks:
        kg = (Column(name, words.weight_unit, "right") for name in ("wanted", "to be had"))
        columns = (Column("week of"), *kg)
        rows = tuple((day(week, answer.day.year), words.weight_figure(wanted), words.weight_figure(had))
                     for week, wanted, had in answer.weeks)
        blocks += [Heading("weeks it leaves bare"), Table(columns, rows)]
    fillings = (("can still fill them", answer.fillings), ("quick to add instead", answer.instead))
    for heading, several in fillings:
        if several:
            sowings = tuple(_filling(one, answer, words) for one in several)
            blocks += [Heading(heading), Table(FILLINGS, sowings)]
    blocks.append(Text("Then: evenpick plan --mend takes the loss into the plan."))
    return Page(f"After a loss: {words.name(answer.name)}, {title_place(answer.site, words)}", tuple(blocks))


def _filling(one: Filling, answer: AfterLoss, words: Words) -> tuple[str, ...]:
    weeks = [week for week, _ in one.weeks]
    return (
        day(one.sow, answer.day.year), words.name(one.name), WAY_WORDS[one.way], words.cover(one.cover),
        words.area(one.area_m2), percent(one.success), span(min(weeks), max(weeks), answer.day.year),
        "there is" if one.room else "make room",
    )
