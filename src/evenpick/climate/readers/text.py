"""A weather file as lines of text, and the faults found while it is read."""

from __future__ import annotations

import gzip
import re
import zlib
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.errors import BadWeatherFile, Problem
from evenpick.base.language import later, tell, tell_n

SHOWN = 20
AGAIN = later("Fetch the file again, unaltered.")
LARGEST = 200_000_000  # bytes; sixty years of one station are under 30 million in any form
FIRST_YEAR, LAST_YEAR = 1700, 2100
NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?", re.ASCII)


class Faults:
    """Problems of one file, gathered so that the grower can mend them all at once."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.count = 0

    def add(self, what: str, mend: str, line: int | None = None, field: str | None = None) -> None:
        """Counts a problem, and keeps it if it is one of the first twenty."""
        self.count += 1
        if self.count <= SHOWN:
            self.problems.append(Problem(what, mend, self.file, line, field))

    def stop(self, what: str, mend: str, line: int | None = None, field: str | None = None) -> BadWeatherFile:
        """The error to raise when reading can't go on: those found so far, then this problem."""
        return BadWeatherFile((*self._told(), Problem(what, mend, self.file, line, field)))

    def raise_any(self) -> None:
        """Raises BadWeatherFile if a problem was found: the first twenty, and how many more."""
        if self.count:
            raise BadWeatherFile(self._told())

    def _told(self) -> tuple[Problem, ...]:
        more = self.count - len(self.problems)
        if not more:
            return tuple(self.problems)
        what = tell_n("there is {n} more problem.", "there are {n} more problems.", more)
        return (*self.problems, Problem(what, tell("Mend those above, then read it again."), self.file))


def read_lines(path: Path) -> list[str]:
    """Lines of a text file (plain or gzip; UTF-8, else Latin-1) without their ends.

    Raises BadWeatherFile if it can't be opened, is too large to be one station's, or is not text.
    """
    faults = Faults(path.name)
    try:
        raw = _unpacked(path)
    except (OSError, EOFError, zlib.error, ValueError) as error:
        what = tell("the file can't be read ({error}).", error=_reason(error))
        raise faults.stop(what, tell("Check the path and the file.")) from error
    if len(raw) > LARGEST:
        what = tell("the file is larger than {largest} million bytes.", largest=LARGEST // 1000000)
        raise faults.stop(what, tell("Give the record of one station."))
    if b"\0" in raw:
        raise faults.stop(
            tell("this is not a plain text file."),
            tell("Save a spreadsheet as CSV (UTF-8), unpack a zip archive first, then give the text file "
                 "in it."),
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = raw.decode("latin-1")
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _unpacked(path: Path) -> bytes:
    with path.open("rb") as stream:
        raw = stream.read(LARGEST + 1)
    if not raw.startswith(b"\x1f\x8b"):
        return raw
    with gzip.open(path, "rb") as stream:
        return stream.read(LARGEST + 1)


def _reason(error: Exception) -> str:
    return error.strerror.lower() if isinstance(error, OSError) and error.strerror else str(error)


def number(text: str) -> float | None:
    """A number written with a decimal point, or None; 'nan', 'inf' and '1_000' are no numbers."""
    return float(text) if NUMBER.fullmatch(text) else None


def compact_day(text: str) -> int | None:
    """Day number of YYYYMMDD, or None."""
    if not re.fullmatch(r"\d{8}", text, re.ASCII):
        return None
    return calendar_day(int(text[:4]), int(text[4:6]), int(text[6:]))


def iso_day(text: str) -> int | None:
    """Day number of YYYY-MM-DD, or None."""
    if not re.fullmatch(r"\d{4}-\d\d-\d\d", text, re.ASCII):
        return None
    return calendar_day(int(text[:4]), int(text[5:7]), int(text[8:]))


def calendar_day(year: int, month: int, day: int) -> int | None:
    """Day number, or None if the calendar has no such day between 1700 and 2100."""
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return None
    try:
        return day_number(date(year, month, day))
    except ValueError:
        return None
