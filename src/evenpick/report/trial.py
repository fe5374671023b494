"""Comparing varieties: pages of what it takes, the layout, the sheet for the field, and the verdict."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.garden.amounts import FOOT
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.words import Words, day, percent
from evenpick.service.kept_trials import KeptTrial, TakenIn
from evenpick.service.trials import LaidAnswer, SizeAnswer
from evenpick.trials.layout import Bed, Layout, Plot
from evenpick.trials.sheet import Sheet

GUARD = "////"


def size_page(answer: SizeAnswer, words: Words) -> Page:
    """How many blocks it takes, what each number of them sees, and what the beds hold."""
    asked = f"a difference of {percent(answer.difference)} between two of {answer.varieties} varieties"
    if answer.needed is None:
        says = f"Not even 60 blocks see {asked} {_odds(answer.power)}. Look for a larger one."
    else:
        says = (
            f"It takes {answer.needed} blocks of {answer.varieties} plots to see {asked} "
            f"{_odds(answer.power)}."
        )
    source = (
        "as you gave it"
        if answer.variation_given
        else ("our choice: in published trials 5 to 30 %; judge one trial and use its own next time")
    )
    blocks: list[Block] = [
        Text(says),
        *(Text(line) for line in _beds(answer, words)),
        Table(
            (
                Column("blocks", align="right"),
                Column("plots", align="right"),
                Column("bed", align="right"),
                Column("sees", "four in five", "right"),
                Column(f"sees {percent(answer.difference)}", "in", "right"),
            ),
            tuple(
                (
                    str(row.blocks),
                    str(row.plots),
                    _metres(row.metres, words),
                    percent(row.least_seen),
                    f"{row.chance * 100:.0f} of 100",
                )
                for row in answer.rows
            ),
        ),
        Text(
            f"A block is one plot of each variety ({_metres(answer.plot_length, words)} each); bed is "
            f"the length "
            f"for all of them with a guard of {_metres(answer.guard, words)} at both ends. Sees: the "
            f"true difference "
            f"of a pair, share of the mean, that the trial tells apart. Plots vary by "
            f"{percent(answer.variation)} "
            f"of their mean ({source})."
        ),
    ]
    return Page("How large a trial", tuple(blocks))


def _odds(power: float) -> str:
    return f"{power * 100:.0f} times in a hundred"


def _beds(answer: SizeAnswer, words: Words) -> list[str]:
    if not answer.beds:
        return []
    held = sum(count for _, count in answer.beds)
    each = ", ".join(f"{bed.name} ({_metres(bed.length, words)}) {count}" for bed, count in answer.beds)
    row = next((row for row in answer.rows if row.blocks == held), None)
    sees = f"; they see {percent(row.least_seen)} and more" if row else "; that is too few for a trial"
    return [f"Whole blocks that fit: {each}{sees}."]


def laid_page(answer: LaidAnswer, words: Words) -> Page:
    """The plan of the plots along the beds, and how to grow and record them."""
    layout = answer.layout
    kind = "pairs of strips" if len(layout.varieties) == 2 else "blocks"
    against = f" Held against {layout.standard}." if layout.standard else ""
    return Page(
        f"Trial: {layout.name}",
        (
            Text(
                f"{len(layout.varieties)} varieties in {layout.blocks} {kind}, every variety once in "
                f"each, in an order "
                f"by the dice (seed {layout.seed}).{against}"
            ),
            Heading("the plots along the beds"),
            *_drawing(layout, words),
            *_key(layout),
            Heading("so that it is fair"),
            Items(
                (
                    "Sow all varieties on one day, at one spacing, from seed of like age. If you can't "
                    "do all in one go, "
                    "do whole blocks.",
                    "Tend and pick block by block, all plots of a block on the same day.",
                    f"Guards ({GUARD}) are sown too, with any of the varieties, and not measured: the "
                    f"end of a bed has more "
                    "light and air.",
                    "What fails is written under 'lost' with its reason. An empty cell means not "
                    "measured, never nought.",
                )
            ),
            Text(_sees(answer)),
            Text(f"The sheet is in {answer.file}."),
        ),
    )


def _sees(answer: LaidAnswer) -> str:
    given = f"if plots vary by {percent(answer.variation)} of their mean"
    if answer.least_seen >= 1:
        return f"CAUTION: a trial so small mostly misses even one variety that gives twice another, {given}."
    return f"Such a trial sees a true difference of {percent(answer.least_seen)} four times in five, {given}."


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
            Column("block"),
            Column("from", align="right"),
            Column("plots, as they lie"),
            Column("numbers", align="right"),
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
    return [Items(tuple(f"{mark} is {name}" for name, mark in _marks(layout).items()))]


def _metres(metres: float, words: Words) -> str:
    return f"{metres / FOOT:.1f} ft" if words.imperial else f"{metres:.4g} m"


def sheet_page(sheet: Sheet, words: Words) -> Page:
    """The sheet to take out: a line a plot, blank where nothing is recorded."""
    measures = [measure.column for measure in sheet.measures]
    columns = (
        Column("plot", align="right"),
        Column("block"),
        Column("bed"),
        Column("from", "ft" if words.imperial else "m", "right"),
        Column("variety", wraps=True),
        *(Column(*_two_lines(name), "right") for name in measures),
        Column("lost"),
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
        f"Sheet: {sheet.name}",
        (
            Table(columns, rows),
            Text(
                "Not measured: leave it blank, never nought. Lost: say why (slugs, trodden on), and "
                "measure nothing. "
                "Taste is scored from 1 to 5, tasted without knowing which is which."
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
        return Page("Trials in the book", (Text("None yet. Take a sheet in with: evenpick trial keep"),))
    columns = (
        Column("trial", wraps=True),
        Column("taken in"),
        Column("plots", align="right"),
        Column("recorded", align="right"),
    )
    rows = tuple(
        (one.name, f"{day(one.laid)} {one.laid.year}", str(one.plots), str(one.recorded)) for one in trials
    )
    return Page("Trials in the book", (Table(columns, rows),))


def taken_page(answer: TakenIn) -> Page:
    """What a sheet brought into the book."""
    says = f"{answer.new} new, {answer.corrected} corrected. The book has {answer.trial.recorded} in all."
    return Page(
        f"In the book: {answer.trial.name}",
        (Text(says), Text("An empty cell takes nothing out of the book; undo in the diary what was wrong.")),
    )
