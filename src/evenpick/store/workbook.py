"""A spreadsheet file (XLSX) as rows, out and in; what is text stays text."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from io import BytesIO
from pathlib import Path

from evenpick.base.errors import BadGarden, Problem
from evenpick.base.language import tell
from evenpick.garden.workbook import Cell, Rows

LONGEST = 32_767
"""characters that a cell can hold"""
WIDE = 18
MADE = date(2000, 1, 1)
"""written as the day of making, so that the same garden gives the same file"""


def workbook(sheets: Mapping[str, Rows]) -> bytes:
    """Sheets by name, the first row of each held in view. BadGarden where a cell can't hold its words."""
    import xlsxwriter

    out = BytesIO()
    with xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False,
                                   "strings_to_numbers": False}) as book:
        book.set_properties({"title": "evenpick", "created": MADE})
        bold = book.add_format({"bold": True})
        for name, rows in sheets.items():
            sheet = book.add_worksheet(name)
            sheet.freeze_panes(1, 0)
            sheet.set_column(0, max((len(row) for row in rows), default=1) - 1, WIDE)
            for at, row in enumerate(rows):
                for column, cell in enumerate(row):
                    _write(sheet, at, column, cell, bold if at == 0 else None)
    return out.getvalue()


def _write(sheet: object, at: int, column: int, cell: Cell, bold: object) -> None:
    if cell is None or cell == "":
        return
    if isinstance(cell, str):
        if len(cell) > LONGEST:
            what = tell("row {at} of '{name}' holds more words than a cell can.", at=at + 1,
                        name=sheet.name)  # type: ignore[attr-defined]
            raise BadGarden(Problem(what, tell("Use evenpick export FOLDER: its files have no such limit.")))
        sheet.write_string(at, column, cell, bold)  # type: ignore[attr-defined]
    else:
        sheet.write_number(at, column, cell, bold)  # type: ignore[attr-defined]


def read_workbook(path: Path) -> dict[str, Rows]:
    """Every sheet's rows; dates become year-month-day. BadGarden where the file is no spreadsheet."""
    import python_calamine

    try:
        book = python_calamine.CalamineWorkbook.from_object(str(path))
        return {name: [[_read(cell) for cell in row] for row in book.get_sheet_by_name(name).to_python(
            skip_empty_area=False)] for name in book.sheet_names}
    except (python_calamine.CalamineError, OSError) as error:
        raise BadGarden(Problem(tell("this is no spreadsheet that can be read ({error}).", error=error),
                                tell("Save it as .xlsx."), str(path))) from error


def _read(cell: object) -> Cell:
    if isinstance(cell, bool):
        return "true" if cell else "false"
    if isinstance(cell, str | int | float):
        return cell
    return cell.isoformat()[:10] if isinstance(cell, date) else str(cell)
