"""The garden file's tables as rows for a spreadsheet, and back (docs/formats/workbook.md).

A row is one [[wish]], [[ground]], [[anyway]] or [[seed]]; a cell is what the garden file says there, word for
word, the parts of a list with semicolons between them.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeAlias

from evenpick.base.errors import BadGarden, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.garden.lines import parse_toml
from evenpick.garden.reading import GROUND
from evenpick.garden.season import ANYWAY
from evenpick.garden.wishes import SEED, WISH

Cell: TypeAlias = str | int | float | None
Rows: TypeAlias = Sequence[Sequence[Cell]]
TABLES: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "wishes": ("wish", WISH), "ground": ("ground", GROUND), "anyway": ("anyway", ANYWAY),
    "seed": ("seed", SEED),
}
"""sheet: the heading it stands for in the garden file, and its columns"""
DIARY = "diary"
"""the sheet that holds the diary, in the columns of docs/formats/diary-csv.md"""
LISTS = ("crops", "beds", "grew", "serves")
NUMBERS = ("matters", "year")
SEPARATOR = "; "


def rows_of(text: str) -> dict[str, list[list[Cell]]]:
    """By sheet: a row of column names, then one row a table of the garden file. BadGarden as `parse_toml`."""
    values, _ = parse_toml(text, "the garden file")
    return {
        sheet: [list(columns),
                *([_cell(table.get(name)) for name in columns] for table in values.get(heading, ()))]
        for sheet, (heading, columns) in TABLES.items()
    }


def _cell(value: object) -> Cell:
    if isinstance(value, list):
        return SEPARATOR.join(str(part) for part in value)
    return value if isinstance(value, str | int | float) or value is None else str(value)


def with_rows(text: str, sheets: Mapping[str, Rows], file: str) -> str:
    """The garden file with the tables of some sheets in place of its own; all else stays, notes too.

    BadGarden where a column is not known, with its sheet and cell.
    """
    import tomlkit

    document = tomlkit.parse(text)
    for sheet, rows in sheets.items():
        heading, columns = TABLES[sheet]
        tables = tomlkit.aot()
        for row in _filled(rows, columns, sheet, file):
            table = tomlkit.table()
            for name, value in row.items():
                table.add(name, value)
            tables.append(table)
        if tables:
            document[heading] = tables
        else:
            document.pop(heading, None)
    return tomlkit.dumps(document)


def _filled(rows: Rows, columns: Sequence[str], sheet: str, file: str) -> list[dict[str, Any]]:
    heads = [str(head).strip() if head is not None else "" for head in (rows[0] if rows else ())]
    unknown = [head for head in heads if head and head not in columns]
    if unknown:
        raise BadGarden(
            Problem(tell("the sheet has no column '{head}'.", head=head),
                    did_you_mean(head, columns) or tell("Columns: {columns}.", columns=", ".join(columns)),
                    f"{file}, {sheet}", 1, head)
            for head in unknown
        )
    pairs = (zip(heads, row, strict=False) for row in rows[1:])
    found = ({head: _value(head, cell) for head, cell in row if head and _said(cell)} for row in pairs)
    return [row for row in found if row]


def _said(cell: Cell) -> bool:
    return cell is not None and str(cell).strip() != ""


def _value(name: str, cell: Cell) -> Any:
    if name in LISTS:
        return [part.strip() for part in str(cell).split(SEPARATOR.strip()) if part.strip()]
    if isinstance(cell, float) and cell.is_integer():
        cell = int(cell)
    if name in NUMBERS and not isinstance(cell, str):
        return cell
    return str(cell).strip()


def located(text: str, sheets: Mapping[str, Rows], file: str) -> Callable[[Problem], Problem]:
    """Turns a problem's line in the garden file made by `with_rows` into sheet and row of the workbook."""
    _, lines = parse_toml(text, file)
    tables = (path for path in lines.at if len(path) == 2 and isinstance(path[1], int))
    starts = sorted((lines.at[path], path) for path in tables)
    names = {heading: sheet for sheet, (heading, _) in TABLES.items()}
    numbers = {sheet: [at for at, row in enumerate(rows[1:], 2) if any(map(_said, row))]
               for sheet, rows in sheets.items()}

    def place(problem: Problem) -> Problem:
        at = bisect_right([line for line, _ in starts], problem.line or 0) - 1
        if at < 0:
            return problem
        heading, number = starts[at][1]
        sheet = names.get(str(heading), "")
        if sheet not in sheets or not isinstance(number, int) or number >= len(numbers[sheet]):
            return problem
        field = (problem.field or "").rpartition(", ")[2]
        return Problem(problem.what, problem.mend, f"{file}, {sheet}", numbers[sheet][number], field or None)

    return place
