"""A page as plain text for a terminal or a printer: black and white, 80 columns wide."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest

from rich.cells import cell_len, chop_cells

from evenpick.base.typed import as_typed
from evenpick.report.bed_picture import draw_beds
from evenpick.report.page import BedPicture, Block, Column, Heading, Items, Page, Picture, Table, Text
from evenpick.report.picture import draw

WIDTH = 80
GAP = 2
NARROWEST = 9
WORD = re.compile(r"\s*\S+\s*")


def render(page: Page) -> str:
    """The whole page, ending in a line feed; no line is wider than 80 columns or ends in blanks."""
    lines = [*_wrapped(page.title), "=" * min(WIDTH, cell_len(page.title))]
    for block in page.blocks:
        lines += _lines(block)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _lines(block: Block) -> Iterable[str]:
    match block:
        case Heading(text):
            return ["", text.upper()]
        case Text(text):
            return _wrapped(text)
        case Items(entries):
            return [line for entry in entries for line in _wrapped(entry, "- ", "  ")]
        case Table():
            return _table(block)
        case Picture():
            return draw(block)
        case BedPicture():
            return draw_beds(block)


def _wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(as_typed(text), WIDTH, initial_indent=first, subsequent_indent=rest,
                         break_on_hyphens=False)


def _table(table: Table) -> Iterator[str]:
    columns = [table.columns[at] for at in table.beside]
    heads = [[column.heading for column in columns], [column.unit for column in columns]]
    heads = [head for head in heads if any(head)]
    rows = [[row[at] for at in table.beside] for row in table.rows]
    widths = _widths(columns, [*heads, *rows])
    for head in heads:
        yield from _row(columns, widths, head)
    for row, cells in zip(table.rows, rows, strict=True):
        yield from _row(columns, widths, cells)
        for at in table.below:
            yield from _wrapped(row[at], "  ", "  ")


def _widths(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> list[int]:
    """Natural widths, the widest of those that wrap narrowed until the row fits."""
    widths = [max(cell_len(row[at]) for row in rows) for at in range(len(columns))]
    wrapping = [at for at, column in enumerate(columns) if column.wraps] or list(range(len(columns)))
    while sum(widths) + GAP * (len(widths) - 1) > WIDTH:
        widest = max(wrapping, key=lambda at: widths[at])
        if widths[widest] <= NARROWEST:
            wrapping = list(range(len(columns)))
            widest = max(wrapping, key=lambda at: widths[at])
        widths[widest] -= 1
    return widths


def _row(columns: Sequence[Column], widths: Sequence[int], cells: Sequence[str]) -> list[str]:
    """The row's lines; a cell too wide for its column is wrapped."""
    wrapped = [_folded(cell, width) for cell, width in zip(cells, widths, strict=True)]
    return [
        (" " * GAP).join(
            _set(line, width, column.align == "right")
            for line, width, column in zip(lines, widths, columns, strict=True)
        )
        for lines in zip_longest(*wrapped, fillvalue="")
    ]


def _folded(cell: str, width: int) -> list[str]:
    """A cell in lines that fit, broken between words, and within those that no line could hold. As Rich's own
    tables break it; they take longer to load than a plan to be told."""
    lines = [""]
    for word in WORD.findall(cell):
        if cell_len(lines[-1]) + cell_len(word.rstrip()) <= width:
            lines[-1] += word
        else:
            pieces = chop_cells(word, width) if cell_len(word.rstrip()) > width else [word]
            lines = [*lines, *pieces] if lines[-1] else pieces
    return [line.rstrip() for line in lines]


def _set(cell: str, width: int, right: bool) -> str:
    """A cell that fits, with blanks to its column's width."""
    blanks = " " * (width - cell_len(cell))
    return blanks + cell if right else cell + blanks
