"""Comparing varieties: the trial command and its parts."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from evenpick.cli.options import A_GARDEN, GARDEN, ON, SEED, WORDS, asked, on_day, seed_of, together
from evenpick.cli.options import words as garden_words
from evenpick.cli.speaking import Group, Speaking
from evenpick.cli.trial_asked import bed_of, file_name, length_of, one_line, share_of, variation_of

if TYPE_CHECKING:
    from evenpick.report.words import Words

SHEET = click.argument("sheet", metavar="SHEET", type=click.Path(path_type=Path, dir_okay=False))
GROUND = together(
    click.option(
        "--bed",
        "beds",
        multiple=True,
        metavar="NAME=LENGTH",
        help="A bed there is, such as 'north=12 m'; repeat for more.",
    ),
    click.option("--plot", default="2 m", show_default=True, metavar="LENGTH", help="Length of a plot."),
    click.option(
        "--guard",
        default="0.5 m",
        show_default=True,
        metavar="LENGTH",
        help="Not measured, at both ends of a bed.",
    ),
    click.option(
        "--variation",
        metavar="PERCENT",
        help="How much plots of one variety vary, of their mean: '12 %'.  [20 %]",
    ),
)
MEASURES = click.option(
    "--measure",
    "measures",
    multiple=True,
    metavar="COLUMN",
    help="A column such as weight_kg, days_to_picking, taste; repeat for more.",
)


@click.group(cls=Group, short_help="Which variety is better here: lay out, record, judge.")
def trial() -> None:
    """Which of these varieties is better here: a fair layout, its record sheet, and what it bears."""


@trial.command(cls=Speaking, short_help="How many blocks it takes to see a difference.")
@click.option("--varieties", type=click.IntRange(2, 26), required=True, help="How many are compared.")
@click.option(
    "--difference",
    default="20 %",
    show_default=True,
    metavar="PERCENT",
    help="Of the mean; smaller ones don't matter to you.",
)
@GROUND
@WORDS
def size(
    varieties: int,
    difference: str,
    beds: Sequence[str],
    plot: str,
    guard: str,
    variation: str | None,
    as_json: bool,
    **rest: Any,
) -> None:
    """How many blocks it takes to see a difference, and what fits into the beds."""
    from evenpick.report.as_json import as_text
    from evenpick.report.terminal import render
    from evenpick.report.trial import size_page
    from evenpick.report.trial_shapes import size_shape
    from evenpick.service.trials import size_up

    say = _words(rest)
    answer = size_up(
        varieties,
        share_of(difference, "--difference"),
        variation_of(variation),
        variation is not None,
        [bed_of(text) for text in beds],
        length_of(plot, "--plot"),
        length_of(guard, "--guard", 0.0),
    )
    click.echo(as_text(size_shape(answer)) if as_json else render(size_page(answer, say)).rstrip())


@trial.command(cls=Speaking, short_help="Lay a trial out along the beds and write its sheet.")
@click.argument("name", metavar="NAME")
@click.option("--variety", "varieties", multiple=True, required=True, metavar="NAME", help="Repeat for each.")
@click.option("--standard", metavar="NAME", help="The one that the others are held against.")
@click.option("--blocks", type=int, help="How often each is grown.  [as many as the beds hold]")
@GROUND
@MEASURES
@click.option("--to", "file", type=click.Path(path_type=Path, dir_okay=False), help="The sheet.  [NAME.csv]")
@SEED
@WORDS
def lay(
    name: str,
    varieties: Sequence[str],
    standard: str | None,
    blocks: int | None,
    beds: Sequence[str],
    plot: str,
    guard: str,
    variation: str | None,
    measures: Sequence[str],
    file: Path | None,
    seed: int | None,
    as_json: bool,
    **rest: Any,
) -> None:
    """Lay the trial NAME out: every variety once in each block, in an order by the dice."""
    from evenpick.report.as_json import as_text
    from evenpick.report.terminal import render
    from evenpick.report.trial import laid_page
    from evenpick.report.trial_shapes import laid_shape
    from evenpick.service.trials import lay_trial

    say = _words(rest)
    answer = lay_trial(
        one_line(name),
        varieties,
        blocks,
        [bed_of(text) for text in beds],
        length_of(plot, "--plot"),
        length_of(guard, "--guard", 0.0),
        standard,
        measures,
        seed_of(seed),
        variation_of(variation),
        file or Path(f"{file_name(name)}.csv"),
    )
    click.echo(as_text(laid_shape(answer)) if as_json else render(laid_page(answer, say)).rstrip())


@trial.command(cls=Speaking, short_help="The record sheet to take out; adds columns to it.")
@SHEET
@MEASURES
@WORDS
def sheet(sheet: Path, measures: Sequence[str], as_json: bool, **rest: Any) -> None:
    """The record sheet to take out. Columns named by --measure are added to the file."""
    from evenpick.report.as_json import as_text
    from evenpick.report.terminal import render
    from evenpick.report.trial import sheet_page
    from evenpick.report.trial_shapes import sheet_shape
    from evenpick.service.trials import add_measures

    say = _words(rest)
    answer = add_measures(sheet, measures)
    click.echo(as_text(sheet_shape(answer)) if as_json else render(sheet_page(answer, say)).rstrip())


@trial.command(cls=Speaking, short_help="What the record bears: which varieties can be told apart.")
@SHEET
@click.option("--standard", metavar="NAME", help="Hold the others against this one.  [the sheet's]")
@click.option(
    "--certainty",
    type=click.Choice(["90", "95", "99"]),
    default="95",
    show_default=True,
    help="In how many of 100 trials of equal varieties nothing at all is told apart.",
)
@click.option("--ratios", is_flag=True, help="Compare in percent, where larger figures stray farther.")
@WORDS
def judge(
    sheet: Path, standard: str | None, certainty: str, ratios: bool, as_json: bool, **rest: Any
) -> None:
    """What the record sheet bears, measure by measure; also where nothing can be told."""
    from evenpick.report.as_json import as_text
    from evenpick.report.terminal import render
    from evenpick.report.trial_shapes import verdict_shape
    from evenpick.report.trial_verdict import verdict_page
    from evenpick.service.trials import judge_trial

    say = _words(rest)
    answer = judge_trial(sheet, standard, int(certainty) / 100, ratios)
    click.echo(as_text(verdict_shape(answer, say)) if as_json else render(verdict_page(answer, say)).rstrip())


@trial.command(cls=Speaking, short_help="Take a sheet into the garden's book.")
@SHEET
@A_GARDEN
@ON
@WORDS
def keep(sheet: Path, garden: Path, on: str | None, as_json: bool, **rest: Any) -> None:
    """Take a sheet into the garden's book; again, and only what is new or changed is added."""
    from evenpick.report.as_json import as_text
    from evenpick.report.terminal import render
    from evenpick.report.trial import taken_page
    from evenpick.report.trial_shapes import taken_shape
    from evenpick.service.kept_trials import keep_trial

    garden_words(asked({**rest, "garden": garden}))  # a garden must be there
    answer = keep_trial(garden, sheet, on_day(on))
    click.echo(as_text(taken_shape(answer)) if as_json else render(taken_page(answer)).rstrip())


@trial.command(cls=Speaking, short_help="The trials in the garden's book; write one out.")
@A_GARDEN
@click.option("--out", "name", metavar="NAME", help="Write this trial's sheet, to the file of --to.")
@click.option("--to", "file", type=click.Path(path_type=Path, dir_okay=False), help="The sheet.  [NAME.csv]")
@WORDS
def kept(garden: Path, name: str | None, file: Path | None, as_json: bool, **rest: Any) -> None:
    """The trials in the garden's book; with --out one of them becomes a sheet again."""
    from evenpick.report.as_json import as_text
    from evenpick.report.terminal import render
    from evenpick.report.trial import kept_page
    from evenpick.report.trial_shapes import kept_shape
    from evenpick.service.kept_trials import kept_trials, write_out

    garden_words(asked({**rest, "garden": garden}))  # a garden must be there
    answer = (
        kept_trials(garden)
        if name is None
        else (write_out(garden, name, file or Path(f"{file_name(name)}.csv")),)
    )
    click.echo(as_text(kept_shape(answer)) if as_json else render(kept_page(answer)).rstrip())


def _words(options: dict[str, Any]) -> Words:
    """Those asked for, else of the garden in this folder, else British and metric."""
    from evenpick.crops.catalogue import load_catalogue
    from evenpick.report.words import words_for

    given = asked(options)
    if any(Path(GARDEN).with_suffix(ending).exists() for ending in (".toml", ".book")):
        return garden_words(given)
    english: Any = given.english or "british"
    units: Any = given.units or "metric"
    return words_for(english, units, load_catalogue())
