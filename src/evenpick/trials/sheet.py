"""The record sheet, one line a plot: read with faults located, and written (docs/formats/trial-csv.md)."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from evenpick.base.errors import BadTrial, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.garden.amounts import LENGTHS, WEIGHTS
from evenpick.trials.layout import Layout, Plot

Kind = Literal["weight", "length", "count", "days", "score", "came up"]
PLACE = ("plot", "block", "bed", "from_m", "to_m", "variety")
NEEDED = ("plot", "block", "variety")
WORDS = ("lost", "note")
_COLUMN = re.compile(r"[a-z][a-z0-9_]*")


@dataclass(frozen=True, slots=True)
class Measure:
    """A measured column: in the file's unit; `factor` brings it to kg or m (1 for what has no unit)."""

    column: str
    kind: Kind
    unit: str
    factor: float
    said: str
    """the column's name in words, without its unit"""


@dataclass(frozen=True, slots=True)
class Row:
    """A plot and what was recorded of it; None is not measured, never nought."""

    plot: Plot
    values: Mapping[str, float | None]
    """by column, in the file's own units"""
    lost: str
    """why nothing could be measured; empty where it stands"""
    note: str
    line: int


@dataclass(frozen=True, slots=True)
class Sheet:
    name: str
    standard: str | None
    seed: int
    rows: tuple[Row, ...]
    measures: tuple[Measure, ...]
    head: tuple[str, ...]
    """the comment lines as they stand"""

    @property
    def varieties(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(row.plot.variety for row in self.rows))


def measure_of(column: str) -> Measure:
    """What a column's name says of its kind and unit; BadTrial if it says neither."""
    name, _, last = column.rpartition("_")
    if _COLUMN.fullmatch(column):
        if last in WEIGHTS and name:
            return Measure(column, "weight", last, WEIGHTS[last], _words(name))
        if last in LENGTHS and name:
            return Measure(column, "length", last, LENGTHS[last], _words(name))
        if last == "count":
            return Measure(column, "count", "", 1.0, _words(name or "count"))
        if column.startswith("days_to_"):
            return Measure(column, "days", "days", 1.0, _words(column))
        if column == "taste" or column.startswith("taste_"):
            return Measure(column, "score", "", 1.0, _words(column))
        if column in ("came_up", "sown"):
            return Measure(column, "came up", "", 1.0, "came up")
    known = (*PLACE, *WORDS, "weight_kg", "count", "days_to_picking", "taste", "came_up", "sown")
    raise BadTrial(
        Problem(
            tell("'{column}' does not say what is measured and in which unit.", column=column[:40]),
            did_you_mean(column, known)
            or tell("Name it such as weight_kg, weight_lb, length_cm, heads_count, days_to_picking, "
                    "taste, taste_anna; came_up with sown; or note."),
        )
    )


def write_sheet(layout: Layout, columns: Sequence[str] = ()) -> str:
    """The sheet of a layout, nothing measured yet. BadTrial for columns that no sheet has."""
    told = [("trial", layout.name), ("seed", str(layout.seed)), ("guard_m", f"{layout.guard:g}")]
    if layout.standard is not None:
        told.append(("standard", layout.standard))
    head = tuple(f"# {key}: {value}" for key, value in told)
    return write_rows(head, [Row(plot, {}, "", "", 0) for plot in layout.plots], columns)


def with_columns(sheet: Sheet, columns: Sequence[str]) -> str:
    """The sheet with columns added to those it has; what is recorded stays."""
    had = [measure.column for measure in sheet.measures]
    return write_rows(sheet.head, sheet.rows, [*had, *(one for one in columns if one not in had)])


def write_rows(head: Sequence[str], rows: Sequence[Row], columns: Sequence[str]) -> str:
    """A sheet of these comment lines, plots and measured columns. BadTrial for columns that no sheet has."""
    for column in columns:
        measure_of(column)
    out = io.StringIO()
    out.writelines(f"{line}\n" for line in head)
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*PLACE, *columns, *WORDS])
    for row in rows:
        plot = row.plot
        place = (
            plot.number,
            plot.block,
            plot.bed or "",
            _number(plot.start),
            _number(plot.end),
            plot.variety,
        )
        writer.writerow(
            [*place, *(_number(row.values.get(column)) for column in columns), row.lost, row.note]
        )
    return out.getvalue()


def _number(value: float | None) -> str:
    return "" if value is None else f"{value:.10g}"


def _words(name: str) -> str:
    return name.replace("_", " ").strip()
