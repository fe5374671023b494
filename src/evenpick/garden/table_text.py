"""Tables of text as spreadsheets write them: with commas, or with semicolons or tabs and decimal commas."""

from __future__ import annotations

import re
from datetime import date

from evenpick.base.errors import BadDiary, Problem
from evenpick.base.language import tell

COMMA = ","
_FIRST = re.compile(r"[^,;\t\r\n]*([,;\t])")
_DECIMAL = re.compile(r"(\s*-?\d+),(\d+\s*)")
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")
"""'14.07.2027', which is day first wherever it is written"""
_DAYS_COUNTED = re.compile(r"\d{5}(?:\.\d+)?")


def delimiter_of(text: str) -> str:
    """What stands between the cells: the first of comma, semicolon and tab in the first line that has any."""
    found = next(filter(None, map(_FIRST.match, text.lstrip("\ufeff").splitlines())), None)
    return COMMA if found is None else found[1]


def decimal(cell: str, delimiter: str) -> str:
    """A number with a point, where commas are no delimiters and so stand in decimals."""
    found = None if delimiter == COMMA else _DECIMAL.fullmatch(cell)
    return cell if found is None else f"{found[1]}.{found[2]}"


def day_text(cell: str) -> str:
    """A day as year-month-day where it was written day first with points; else as it stands."""
    found = _DOTTED.fullmatch(cell.strip())
    return cell if found is None else f"{found[3]}-{int(found[2]):02d}-{int(found[1]):02d}"


def read_day(cell: str) -> date:
    """The day of a cell; BadDiary with what to do about it."""
    try:
        return date.fromisoformat(day_text(cell.strip()))
    except ValueError as error:
        what = tell("'{cells}' is no date.", cells=cell)
        raise BadDiary(Problem(what, day_mend(cell), field="day")) from error


def day_mend(cell: str) -> str:
    """What to do about a cell that is no day."""
    if _DAYS_COUNTED.fullmatch(cell.strip()):
        return tell("A spreadsheet has turned it into a number of days. Format the column as year-month-day, "
                    "such as 2027-03-14, and save it again.")
    if "/" in cell:
        return tell("Day or month may stand first in it, and a spreadsheet may have changed others in "
                    "silence. Format the column as year-month-day, such as 2027-03-14, and look through it.")
    return tell("Write year-month-day, such as 2027-03-14.")
