"""What a page holds, told once: terminal, paper and screen draw the same description.

Everything here is in the reader's words and units already; nothing is left to reckon but widths.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal, TypeAlias


@dataclass(frozen=True, slots=True)
class Column:
    heading: str
    unit: str = ""
    align: Literal["left", "right"] = "left"
    wraps: bool = False
    """may be narrowed, its text going on to further lines"""
    below: bool = False
    """stands on a line of its own under the row where there is no room beside it"""


@dataclass(frozen=True, slots=True)
class Table:
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]

    def __post_init__(self) -> None:
        if any(len(row) != len(self.columns) for row in self.rows):
            raise ValueError(f"a row does not have the {len(self.columns)} cells of its table")

    @property
    def beside(self) -> tuple[int, ...]:
        """Places of the columns that stand side by side."""
        return tuple(at for at, column in enumerate(self.columns) if not column.below)

    @property
    def below(self) -> tuple[int, ...]:
        """Places of those that stand under the row."""
        return tuple(at for at, column in enumerate(self.columns) if column.below)


@dataclass(frozen=True, slots=True)
class Heading:
    text: str


@dataclass(frozen=True, slots=True)
class Text:
    text: str


@dataclass(frozen=True, slots=True)
class Items:
    """A list, each entry with a mark before it."""

    entries: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WeekCell:
    """One item in one week, kg."""

    wanted: float
    likely: float
    held: bool = True
    """False in the weeks in which nothing sown from now can be ripe"""


@dataclass(frozen=True, slots=True)
class PictureRow:
    label: str
    cells: tuple[WeekCell, ...]
    bare: float | None
    """share of the wanted that is likely to be missing; None where nothing is wanted"""
    spare: float | None
    """share of the pickings that is likely to go over; None where nothing is picked"""


@dataclass(frozen=True, slots=True)
class Picture:
    """The picture of the year: every row has one cell for each of the weeks (their Mondays)."""

    weeks: tuple[date, ...]
    rows: tuple[PictureRow, ...]
    tallest: str
    """the most of any week, wanted and spare together, in the reader's units"""


@dataclass(frozen=True, slots=True)
class BedBar:
    """A crop on a stretch of a bed, from week `first` up to, not including, week `end` of its picture."""

    first: int
    end: int
    number: int | None
    name: str
    earlier: bool
    """it stood there before the picture begins"""


@dataclass(frozen=True, slots=True)
class BedLine:
    """A stretch of a bed; its bars follow each other."""

    label: str
    bars: tuple[BedBar, ...]


@dataclass(frozen=True, slots=True)
class BedRow:
    name: str
    lines: tuple[BedLine, ...]


@dataclass(frozen=True, slots=True)
class BedPicture:
    """Beds over the weeks (their Mondays)."""

    weeks: tuple[date, ...]
    beds: tuple[BedRow, ...]


Block: TypeAlias = Heading | Text | Items | Table | Picture | BedPicture


def listed(heading: str, entries: Sequence[str]) -> list[Block]:
    """A heading with its list; nothing where that is empty."""
    return [Heading(heading), Items(tuple(entries))] if entries else []


@dataclass(frozen=True, slots=True)
class Page:
    title: str
    blocks: tuple[Block, ...]
