"""Comparing varieties: pages of what it takes, the layout, the sheet for the field, and the verdict."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.language import tell
from evenpick.garden.amounts import FOOT
from evenpick.report.days import full_day
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.words import Words, percent
from evenpick.service.kept_trials import KeptTrial, TakenIn
from evenpick.service.trials import LaidAnswer, SizeAnswer
from evenpick.trials.layout import Bed, Layout, Plot
from evenpick.trials.sheet import Sheet

GUARD = "////"


def size_page(answer: SizeAnswer, words: Words) -> Page:
    """How many blocks it takes, what each number of them sees, and what the beds hold."""
    asked = tell("a difference of {difference} between two of {varieties} varieties",
                 difference=percent(answer.difference), varieties=answer.varieties)
    if answer.needed is None:
        says = tell("Not even 60 blocks see {asked} {power}. Look for a larger one.", asked=asked,
                    power=_odds(answer.power))
    else:
        says = (
            tell("It takes {needed} blocks of {varieties} plots to see {asked} {power}.",
                 needed=answer.needed, varieties=answer.varieties, asked=asked, power=_odds(answer.power))
        )
    source = (
        tell("as you gave it")
        if answer.variation_given
        else (tell("our choice: in published trials 5 to 30 %; judge one trial and use its own next time"))
    )
    blocks: list[Block] = [
        Text(says),
        *(Text(line) for line in _beds(answer, words)),
        Table(
            (
                Column(tell("blocks"), align="right"),
                Column(tell("plots"), align="right"),
                Column(tell("bed"), align="right"),
                Column(tell("sees"), tell("four in five"), "right"),
                Column(tell("sees {difference}", difference=percent(answer.difference)), tell("in"), "right"),
            ),
            tuple(
                (
                    str(row.blocks),
                    str(row.plots),
                    _metres(row.metres, words),
                    percent(row.least_seen),
                    tell("{chance:.0f} of 100", chance=row.chance * 100),
                )
                for row in answer.rows
            ),
        ),
        Text(
            tell("A block is one plot of each variety ({plot_length} each); bed is the length for all of "
                 "them with a guard of {guard} at both ends. Sees: the true difference of a pair, share "
                 "of the mean, that the trial tells apart. Plots vary by {variation} of their mean "
                 "({source}).", plot_length=_metres(answer.plot_length, words),
                 guard=_metres(answer.guard, words), variation=percent(answer.variation), source=source)
        ),
    ]
    return Page(tell("How large a trial"), tuple(blocks))


def _odds(power: float) -> str:
    return tell("{power:.0f} times in a hundred", power=power * 100)


def _beds(answer: SizeAnswer, words: Words) -> list[str]:
    if not answer.beds:
        return []
    held = sum(count for _, count in answer.beds)
    each = ", ".join(f"{bed.name} ({_metres(bed.length, words)}) {count}" for bed, count in answer.beds)
    row = next((row for row in answer.rows if row.blocks == held), None)
    sees = tell("; they see {least_seen} and more",
                least_seen=percent(row.least_seen)) if row else tell("; that is too few for a trial")
    return [tell("Whole blocks that fit: {each}{sees}.", each=each, sees=sees)]


def laid_page(answer: LaidAnswer, words: Words) -> Page:
    """The plan of the plots along the beds, and how to grow and record them."""
    layout = answer.layout
    kind = tell("pairs of strips") if len(layout.varieties) == 2 else tell("blocks")
    against = tell(" Held against {standard}.", standard=layout.standard) if layout.standard else ""
    return Page(
        tell("Trial: {name}", name=layout.name),
        (
            Text(
                tell("{varieties} varieties in {blocks} {kind}, every variety once in each, in an order "
                     "by the dice (seed {seed}).{against}", varieties=len(layout.varieties),
                     blocks=layout.blocks, kind=kind, seed=layout.seed, against=against)
            ),
            Heading(tell("the plots along the beds")),
            *_drawing(layout, words),
            *_key(layout),
            Heading(tell("so that it is fair")),
            Items(
                (
                    tell("Sow all varieties on one day, at one spacing, from seed of like age. If you "
                         "can't do all in one go, do whole blocks."),
                    tell("Tend and pick block by block, all plots of a block on the same day."),
                    tell("Guards ({GUARD}) are sown too, with any of the varieties, and not measured: "
                         "the end of a bed has more light and air.", GUARD=GUARD),
                    tell("What fails is written under 'lost' with its reason. An empty cell means not "
                         "measured, never nought."),
                )
            ),
            Text(_sees(answer)),
            Text(tell("The sheet is in {file}.", file=answer.file)),
        ),
    )


def _sees(answer: LaidAnswer) -> str:
    given = tell("if plots vary by {variation} of their mean", variation=percent(answer.variation))
    if answer.least_seen >= 1:
        return tell("CAUTION: a trial so small mostly misses even one variety that gives twice another, "
                    "{given}.", given=given)
    return tell("Such a trial sees a true difference of {least_seen} four times in five, {given}.",
                least_seen=percent(answer.least_seen), given=given)


def _drawing(layout: Layout, words: Words) -> list[Block]:
    """Each bed as a table: a line for a block, its plots from left to right as they lie along the bed."""
    marks = _marks(layout)
    used = [bed for bed in layout.beds if any(plot.bed == bed.name for plot in layout.plots)]
    return [
        block
        for bed in used
        for block in (Text(f"{bed.name}, {_metres(bed.length, words)}:"), _bed(layout, bed, marks, words))
    ]


def _bed(layout: Layout, bed: Bed, marks: dict[str, str], words: Words) -> Table:
    plots = [plot for plot in layout.plots if plot.bed == bed.name]
    names = list(dict.fromkeys(plot.block for plot in plots))
    rows = [_block_row(name, [plot for plot in plots if plot.block == name], marks, words) for name in names]
    if layout.guard > 0:
        last = plots[-1].end or 0.0
        rows = [("", _metres(0, words), GUARD, ""), *rows, ("", _metres(last, words), GUARD, "")]
    return Table(
        (
            Column(tell("block")),
            Column(tell("from"), align="right"),
            Column(tell("plots, as they lie")),
            Column(tell("numbers"), align="right"),
        ),
        tuple(rows),
    )


def _block_row(
    name: str, plots: list[Plot], marks: dict[str, str], words: Words
) -> tuple[str, str, str, str]:
    drawn = "".join(f"| {marks[plot.variety]} " for plot in plots) + "|"
    return name, _metres(plots[0].start or 0.0, words), drawn, f"{plots[0].number}-{plots[-1].number}"


def _marks(layout: Layout) -> dict[str, str]:
    return {name: chr(ord("A") + at) for at, name in enumerate(layout.varieties)}


def _key(layout: Layout) -> list[Block]:
    return [Items(tuple(tell("{mark} is {name}", mark=mark,
                             name=name) for name, mark in _marks(layout).items()))]


def _metres(metres: float, words: Words) -> str:
    return f"{metres / FOOT:.1f} ft" if words.imperial else f"{metres:.4g} m"


def sheet_page(sheet: Sheet, words: Words) -> Page:
    """The sheet to take out: a line a plot, blank where nothing is recorded."""
    measures = [measure.column for measure in sheet.measures]
    columns = (
        Column(tell("plot"), align="right"),
        Column(tell("block")),
        Column(tell("bed")),
        Column(tell("from"), "ft" if words.imperial else "m", "right"),
        Column(tell("variety"), wraps=True),
        *(Column(*_two_lines(name), "right") for name in measures),
        Column(tell("lost")),
    )
    rows = tuple(
        (
            str(row.plot.number),
            row.plot.block,
            row.plot.bed or "",
            "" if row.plot.start is None else _metres(row.plot.start, words).split()[0],
            row.plot.variety,
            *(
                "____" if row.values[name] is None and not row.lost else _cell(row.values[name])
                for name in measures
            ),
            row.lost or "____",
        )
        for row in sheet.rows
    )
    return Page(
        tell("Sheet: {name}", name=sheet.name),
        (
            Table(columns, rows),
            Text(
                tell("Not measured: leave it blank, never nought. Lost: say why (slugs, trodden on), and "
                     "measure nothing. Taste is scored from 1 to 5, tasted without knowing which is "
                     "which.")
            ),
        ),
    )


def _two_lines(column: str) -> tuple[str, str]:
    first, _, last = column.rpartition("_")
    return (first.replace("_", " "), last) if first else (last, "")


def _cell(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def kept_page(trials: Sequence[KeptTrial]) -> Page:
    """The trials in the garden's book."""
    if not trials:
        return Page(tell("Trials in the book"),
                    (Text(tell("None yet. Take a sheet in with: evenpick trial keep")),))
    columns = (
        Column(tell("trial"), wraps=True),
        Column(tell("taken in")),
        Column(tell("plots"), align="right"),
        Column(tell("recorded"), align="right"),
    )
    rows = tuple(
        (one.name, full_day(one.laid), str(one.plots), str(one.recorded)) for one in trials
    )
    return Page(tell("Trials in the book"), (Table(columns, rows),))


def taken_page(answer: TakenIn) -> Page:
    """What a sheet brought into the book."""
    says = tell("{new} new, {corrected} corrected. The book has {recorded} in all.", new=answer.new,
                corrected=answer.corrected, recorded=answer.trial.recorded)
    return Page(
        tell("In the book: {name}", name=answer.trial.name),
        (Text(says), Text(tell("An empty cell takes nothing out of the book; undo in the diary what was "
                               "wrong."))),
    )
