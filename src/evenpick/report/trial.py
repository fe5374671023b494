"""Comparing varieties: pages of what it takes, the layout, the sheet for the field, and the verdict."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from evenpick.garden.amounts import FOOT
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.trial_words import cautions, scale_of, signed_percent, verdict_lines
from evenpick.report.words import Words, percent
from evenpick.service.trials import LaidAnswer, SizeAnswer
from evenpick.trials.judge import Judged, Standing, Verdict
from evenpick.trials.layout import Bed, Layout, Plot
from evenpick.trials.sheet import Sheet

GUARD = "////"
LEFT = ("beds", "rows", "plot_length", "guard")
ONE_YEAR = "It tells of this ground in this year. Grow the trial again before you rely on it."


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
        else (
            "our choice: in published vegetable trials 5 to 22 %; judge one trial and use its own next time"
        )
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
            Text(
                f"Such a trial sees a true difference of {percent(answer.least_seen)} four times in "
                f"five, if plots vary "
                f"by {percent(answer.variation)} of their mean."
            ),
            Text(f"The sheet is in {answer.file}."),
        ),
    )


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
        Column("from", align="right"),
        Column("variety", wraps=True),
        *(Column(name, align="right") for name in measures),
        Column("lost"),
    )
    rows = tuple(
        (
            str(row.plot.number),
            row.plot.block,
            row.plot.bed or "",
            "" if row.plot.start is None else _metres(row.plot.start, words),
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


def _cell(value: float | None) -> str:
    return "" if value is None else f"{value:g}"


def verdict_page(verdict: Verdict, words: Words) -> Page:
    """What may be said, measure by measure, then the figures, then what speaks against them."""
    against = f", held against {verdict.standard}" if verdict.standard else ""
    blocks: list[Block] = [
        Text(
            f"{len(verdict.varieties)} varieties in {verdict.blocks} blocks{against}. Told apart is "
            f"what chance "
            f"alone would do in at most {(1 - verdict.certainty) * 100:.0f} of 100 such trials of equal "
            f"varieties, "
            "by each measure."
        ),
    ]
    for one in verdict.judged:
        blocks += [Heading(one.measure), Items(tuple(verdict_lines(one, verdict, words)))]
        if one.method != "none":
            blocks += [_standings(one, words), *_differences(one, words)]
        blocks += [Text(f"CAUTION: {line}") for line in cautions(one, words)]
    blocks += [Heading("bear in mind"), Items((*_lost(verdict), ONE_YEAR))]
    return Page(f"Verdict: {verdict.trial}", tuple(blocks))


def _standings(one: Judged, words: Words) -> Table:
    if one.kind == "came up":
        heads: list[tuple[str, str]] = [("came up", ""), ("likely", "19 in 20")]
        cells: list[tuple[str, ...]] = [(percent(row.figure), _range(row)) for row in one.standings]
    elif one.kind == "score":
        heads = [("middle", "score"), ("mean", "rank")]
        cells = [(f"{row.figure:.1f}", f"{row.mean_rank or 0:.1f}") for row in one.standings]
    else:
        scale = scale_of(one, words)
        heads, cells = [("mean", scale.unit)], [(scale.bare(row.figure),) for row in one.standings]
    middle = (Column(name, unit, "right") for name, unit in heads)
    grouped = any(row.group for row in one.standings)
    alike = (Column("alike"),) if grouped else ()
    return Table(
        (Column("variety", wraps=True), Column("plots", align="right"), *middle, *alike),
        tuple(
            (row.variety, str(row.plots), *figures, *((row.group,) if grouped else ()))
            for row, figures in zip(one.standings, cells, strict=True)
        ),
    )


def _range(row: Standing) -> str:
    return f"{percent(row.low or 0.0)} - {percent(row.high or 0.0)}"


def _differences(one: Judged, words: Words) -> list[Block]:
    """Every pair with its range; nothing for ranks, which have none."""
    if one.method == "ranks":
        return []
    scale = scale_of(one, words)

    def said(value: float | None) -> str:
        if value is None:
            return ""
        if one.ratios:
            return signed_percent(value)
        return (
            f"{value * 100:+.0f}" if one.kind == "came up" else f"{value * scale.factor:+,.{scale.places}f}"
        )

    unit = "%" if one.ratios else "in 100" if one.kind == "came up" else scale.unit
    columns = (
        Column("pair", wraps=True),
        Column("differs by", unit, "right"),
        Column("range", "", "right"),
        Column("told apart"),
    )
    return [
        Table(
            columns,
            tuple(
                (
                    f"{pair.first} less {pair.second}"
                    if not one.ratios
                    else f"{pair.first} over {pair.second}",
                    said(pair.estimate),
                    f"{said(pair.low)} to {said(pair.high)}",
                    "yes" if pair.told else "no",
                )
                for pair in one.differences
            ),
        )
    ]


def _lost(verdict: Verdict) -> list[str]:
    lines = []
    if verdict.lost:
        plots = ", ".join(f"{number} ({variety}: {why})" for number, variety, why in verdict.lost)
        lines.append(
            f"Lost plots: {plots}. They are left out, not counted as nought. If it was the variety's own "
            "doing, hold that against it."
        )
    if verdict.uneven_plots:
        lines.append(
            "The plots are not of one length, and figures are a plot's: weights and counts of longer plots "
            "are larger for that alone."
        )
    return lines


def size_shape(answer: SizeAnswer) -> dict[str, Any]:
    return {
        **{key: value for key, value in asdict(answer).items() if key not in LEFT},
        "beds": [{"name": bed.name, "length_m": bed.length, "blocks": blocks} for bed, blocks in answer.beds],
        "plot_length_m": answer.plot_length,
        "guard_m": answer.guard,
        "rows": [asdict(row) for row in answer.rows],
    }


def laid_shape(answer: LaidAnswer) -> dict[str, Any]:
    layout = answer.layout
    return {
        "trial": layout.name,
        "varieties": layout.varieties,
        "standard": layout.standard,
        "seed": layout.seed,
        "blocks": layout.blocks,
        "plot_length_m": layout.plot_length,
        "guard_m": layout.guard,
        "variation": answer.variation,
        "least_seen": answer.least_seen,
        "file": str(answer.file),
        "plots": [_plot(plot) for plot in layout.plots],
    }


def _plot(plot: Plot) -> dict[str, Any]:
    return {
        "plot": plot.number,
        "block": plot.block,
        "bed": plot.bed,
        "from_m": plot.start,
        "to_m": plot.end,
        "variety": plot.variety,
    }


def sheet_shape(sheet: Sheet) -> dict[str, Any]:
    return {
        "trial": sheet.name,
        "standard": sheet.standard,
        "seed": sheet.seed,
        "measures": [{"column": one.column, "kind": one.kind, "unit": one.unit} for one in sheet.measures],
        "plots": [
            {**_plot(row.plot), "values": dict(row.values), "lost": row.lost, "note": row.note}
            for row in sheet.rows
        ],
    }


def verdict_shape(verdict: Verdict, words: Words) -> dict[str, Any]:
    return {
        "trial": verdict.trial,
        "standard": verdict.standard,
        "certainty": verdict.certainty,
        "varieties": verdict.varieties,
        "blocks": verdict.blocks,
        "uneven_plots": verdict.uneven_plots,
        "lost": [{"plot": number, "variety": variety, "why": why} for number, variety, why in verdict.lost],
        "measures": [
            {**asdict(one), "said": verdict_lines(one, verdict, words), "cautions": cautions(one, words)}
            for one in verdict.judged
        ],
    }
