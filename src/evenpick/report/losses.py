"""What was lost, what that leaves bare, and what can still fill it."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.language import later, tell
from evenpick.report.days import day, span
from evenpick.report.page import Block, Column, Heading, Page, Table, Text
from evenpick.report.place import title_place
from evenpick.report.words import WAY_WORDS, Words, percent, sentence
from evenpick.service.loss_answer import AfterLoss, Filling, LossRow

ASK = later("What can still fill its weeks: evenpick losses LOSS.")


def _losses_columns() -> tuple[Column, ...]:
    return (
        Column(tell("loss")), Column(tell("what"), wraps=True), Column(tell("where"), wraps=True),
        Column(tell("sown")), Column(tell("lost"), align="right"), Column(tell("on")),
        Column(tell("to"), wraps=True),
    )


def _fillings_columns() -> tuple[Column, ...]:
    return (
        Column(tell("sow")), Column(tell("what"), wraps=True), Column(tell("how")), Column(tell("under")),
        Column(tell("area"), align="right"), Column(tell("succeeds"), align="right"),
        Column(tell("fills"), wraps=True), Column(tell("room"), wraps=True),
    )


def losses_page(rows: Sequence[LossRow], words: Words) -> Page:
    """Losses with their marks."""
    if not rows:
        none = tell("Nothing was lost in the last four months, as far as was written down.")
        return Page(tell("Losses"), (Text(none),))
    return Page(tell("Losses"), (losses_table(rows, words), Text(tell(ASK))))


def losses_table(rows: Sequence[LossRow], words: Words) -> Table:
    return Table(_losses_columns(), tuple(
        (row.tag, words.name(row.name), words.place(row.ground, row.cover),
         day(row.sown, row.day.year), percent(row.lost), day(row.day), row.by or tell(row.cause))
        for row in rows
    ))


def after_loss_page(answer: AfterLoss, words: Words) -> Page:
    """The weeks it leaves bare and what can fill them, or the honest no."""
    said = tell("{lost} of it, sown {sown}, was lost.", lost=percent(answer.lost),
                sown=day(answer.sown, answer.day.year))
    blocks: list[Block] = [Text(line) for line in (said, sentence(answer.words), answer.caution) if line]
    if answer.weeks:
        blocks += [Heading(tell("weeks it leaves bare")), weeks_table(answer, words)]
    fillings = ((tell("can still fill them"), answer.fillings),
                (tell("can stand in for it"), answer.instead),
                (tell("what else the ground can give"), answer.besides))
    for heading, several in fillings:
        if several:
            sowings = tuple(_filling(one, answer, words) for one in several)
            blocks += [Heading(heading), Table(_fillings_columns(), sowings)]
    blocks.append(Text(tell("Then: {command} takes the loss into the plan.", command=answer.command)))
    return Page(tell("After a loss: {name}, {site}", name=words.name(answer.name),
                     site=title_place(answer.site, words)), tuple(blocks))


def weeks_table(answer: AfterLoss, words: Words) -> Table:
    """The weeks left bare, with what is wanted and what is still to be had."""
    weights = words.weights(max(wanted, had) for _, wanted, had in answer.weeks)
    kg = (Column(name, weights.unit, "right") for name in (tell("wanted"), tell("to be had")))
    return Table((Column(tell("week of")), *kg), tuple(
        (day(week, answer.day.year), weights.figure(wanted), weights.figure(had))
        for week, wanted, had in answer.weeks
    ))


def _filling(one: Filling, answer: AfterLoss, words: Words) -> tuple[str, ...]:
    weeks = [week for week, _ in one.weeks]
    return (
        day(one.sow, answer.day.year), words.name(one.name), tell(WAY_WORDS[one.way]), words.cover(one.cover),
        words.area(one.area_m2), percent(one.success), span(min(weeks), max(weeks), answer.day.year),
        tell("there is") if one.room else tell("make room"),
    )
