"""Comparing varieties: how many plots it takes, the layout, its sheet, and what the sheet bears."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from evenpick.base.errors import BadTrial, Problem
from evenpick.base.language import tell
from evenpick.base.whole import write_whole
from evenpick.trials.judge import judge
from evenpick.trials.layout import Bed, Layout, blocks_that_fit, lay_out
from evenpick.trials.power import POWER, blocks_needed, least_seen, power_of_pair
from evenpick.trials.sheet import Sheet, with_columns, write_sheet
from evenpick.trials.sheet_reading import against, read_sheet
from evenpick.trials.verdict import Verdict

TOLD = (2, 3, 4, 5, 6, 8, 10, 12)
"""numbers of blocks that are always told"""


@dataclass(frozen=True, slots=True)
class BlocksRow:
    """What so many blocks see. Shares of the mean."""

    blocks: int
    plots: int
    metres: float
    """of bed, guards of one bed among them"""
    least_seen: float
    """difference of a pair that is told apart with the chance asked for"""
    chance: float
    """to see the difference asked about"""


@dataclass(frozen=True, slots=True)
class SizeAnswer:
    """Lengths in metres; differences and variation as shares of the mean."""

    varieties: int
    difference: float
    variation: float
    variation_given: bool
    power: float
    needed: int | None
    """fewest blocks that see the difference with `power`; None where 60 don't"""
    plot_length: float
    guard: float
    beds: tuple[tuple[Bed, int], ...]
    """with the whole blocks each holds"""
    rows: tuple[BlocksRow, ...]


@dataclass(frozen=True, slots=True)
class LaidAnswer:
    layout: Layout
    file: Path
    variation: float
    least_seen: float


def size_up(
    varieties: int,
    difference: float,
    variation: float,
    variation_given: bool,
    beds: Sequence[Bed],
    plot_length: float,
    guard: float,
) -> SizeAnswer:
    """What it takes to see a difference between two of the varieties (docs/design/trials.md, T7, T8)."""
    fits = tuple((bed, blocks_that_fit(varieties, bed, plot_length, guard)) for bed in beds)
    needed = blocks_needed(difference, variation, varieties)
    held = sum(count for _, count in fits)
    extra = [count for count in (needed, held) if count is not None and 2 <= count <= 60]
    rows = tuple(
        BlocksRow(
            blocks,
            blocks * varieties,
            blocks * varieties * plot_length + 2 * guard,
            least_seen(variation, varieties, blocks),
            power_of_pair(difference, variation, varieties, blocks),
        )
        for blocks in sorted({*TOLD, *extra})
    )
    return SizeAnswer(
        varieties, difference, variation, variation_given, POWER, needed, plot_length, guard, fits, rows
    )


def lay_trial(
    name: str,
    varieties: Sequence[str],
    blocks: int | None,
    beds: Sequence[Bed],
    plot_length: float,
    guard: float,
    standard: str | None,
    measures: Sequence[str],
    seed: int,
    variation: float,
    file: Path,
) -> LaidAnswer:
    """Lays the trial out and writes its sheet to `file`, which must not be there. BadTrial otherwise."""
    layout = lay_out(name, varieties, blocks, beds, plot_length, guard, seed, standard)
    text = write_sheet(layout, measures)
    write_new(file, text)
    return LaidAnswer(layout, file, variation, least_seen(variation, len(layout.varieties), layout.blocks))


def write_new(file: Path, text: str) -> None:
    """Writes a sheet to a file that is not there yet; BadTrial if it is, or can't be written."""
    try:
        with file.open("x", encoding="utf-8", newline="") as out:
            out.write(text)
    except FileExistsError as error:
        mend = tell("Name another with --to, or move it away: what is recorded is never written over.")
        raise BadTrial(Problem(tell("this file is there already."), mend, str(file))) from error
    except OSError as error:
        raise BadTrial(
            Problem(tell("it can't be written ({strerror}).",
                         strerror=error.strerror), tell("Name another with --to."), str(file))
        ) from error


def read_trial(file: Path) -> Sheet:
    """The record sheet of a file; BadTrial with the place of every fault."""
    try:
        return read_sheet(file.read_bytes().decode("utf-8"), file.name)
    except OSError as error:
        raise BadTrial(
            Problem(
                tell("it can't be read ({strerror}).", strerror=error.strerror),
                tell("Name the sheet that 'evenpick trial lay' wrote."),
                str(file),
            )
        ) from error
    except UnicodeDecodeError as error:
        raise BadTrial(Problem(tell("it is not UTF-8 text."), tell("Save it as CSV in UTF-8."),
                               str(file))) from error


def add_measures(file: Path, measures: Sequence[str]) -> Sheet:
    """The sheet with these columns, the file written anew if it lacked any; what it has stays."""
    sheet = read_trial(file)
    had = {measure.column for measure in sheet.measures}
    if had.issuperset(measures):
        return sheet
    text = with_columns(sheet, measures)
    try:
        write_whole(file, text.encode("utf-8"))
    except OSError as error:
        why = tell("it can't be written ({strerror}).", strerror=error.strerror)
        raise BadTrial(Problem(why, tell("Look at the folder's rights."), str(file))) from error
    return read_trial(file)


def judge_trial(file: Path, standard: str | None, certainty: float, ratios: bool) -> Verdict:
    """What the sheet bears, measure by measure. BadTrial if it can't be read or nothing is on it."""
    sheet = against(read_trial(file), standard)
    verdict = judge(sheet, certainty, ratios)
    if not verdict.judged:
        raise BadTrial(
            Problem(
                tell("nothing is recorded on the sheet yet."),
                tell("Fill in the measured columns; 'evenpick trial sheet' adds some."),
                file.name,
            )
        )
    return verdict
