"""The verdict on a trial: what may be said, the figures it rests on, and what speaks against them."""

from __future__ import annotations

from evenpick.base.language import later, tell
from evenpick.report.page import Block, Column, Heading, Items, Page, Table, Text
from evenpick.report.trial_words import cautions, scale_of, signed_percent, verdict_lines
from evenpick.report.words import Words, percent
from evenpick.trials.verdict import Judged, Standing, Verdict

ONE_YEAR = later("It tells of this ground in this year. Grow the trial again before you rely on it.")


def verdict_page(verdict: Verdict, words: Words) -> Page:
    """What may be said, measure by measure, then the figures, then what speaks against them."""
    against = tell(", held against {standard}", standard=verdict.standard) if verdict.standard else ""
    blocks: list[Block] = [
        Text(
            tell("{varieties} varieties in {blocks} blocks{against}. Told apart is what chance alone "
                 "would do in at most {certainty:.0f} of 100 such trials of equal varieties, by each "
                 "measure.", varieties=len(verdict.varieties), blocks=verdict.blocks, against=against,
                 certainty=(1 - verdict.certainty) * 100)
        ),
    ]
    for one in verdict.judged:
        blocks += [Heading(tell(one.measure)), Items(tuple(verdict_lines(one, verdict, words)))]
        if one.method != "none":
            blocks += [_standings(one, words), *_differences(one, words)]
        blocks += [Text(tell("CAUTION: {line}", line=line)) for line in cautions(one, words)]
    blocks += [Heading(tell("bear in mind")), Items((*_lost(verdict), tell(ONE_YEAR)))]
    return Page(tell("Verdict: {trial}", trial=verdict.trial), tuple(blocks))


def _standings(one: Judged, words: Words) -> Table:
    if one.kind == "came up":
        heads: list[tuple[str, str]] = [(tell("came up"), ""), (tell("likely"), tell("19 in 20"))]
        cells: list[tuple[str, ...]] = [(percent(row.figure), _range(row)) for row in one.standings]
    elif one.kind == "score":
        heads = [(tell("middle"), tell("score")), (tell("mean"), tell("rank"))]
        cells = [(f"{row.figure:.1f}", f"{row.mean_rank or 0:.1f}") for row in one.standings]
    else:
        scale = scale_of(one, words)
        heads, cells = [(tell("mean"), scale.unit)], [(scale.bare(row.figure),) for row in one.standings]
    middle = (Column(name, unit, "right") for name, unit in heads)
    grouped = any(row.group for row in one.standings)
    alike = (Column(tell("alike")),) if grouped else ()
    return Table(
        (Column(tell("variety"), wraps=True), Column(tell("plots"), align="right"), *middle, *alike),
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

    unit = "%" if one.ratios else tell("in 100") if one.kind == "came up" else scale.unit
    columns = (
        Column(tell("pair"), wraps=True),
        Column(tell("differs by"), unit, "right"),
        Column(tell("range"), "", "right"),
        Column(tell("told apart")),
    )
    return [
        Table(
            columns,
            tuple(
                (
                    tell("{first} less {second}", first=pair.first, second=pair.second)
                    if not one.ratios
                    else tell("{first} over {second}", first=pair.first, second=pair.second),
                    said(pair.estimate),
                    tell("{low} to {high}", low=said(pair.low), high=said(pair.high)),
                    tell("yes") if pair.told else tell("no"),
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
            tell("Lost plots: {plots}. They are left out, not counted as nought. If it was the variety's "
                 "own doing, hold that against it.", plots=plots)
        )
    if verdict.uneven_plots:
        lines.append(
            tell("The plots are not of one length, and figures are a plot's: weights and counts of "
                 "longer plots are larger for that alone.")
        )
    return lines
