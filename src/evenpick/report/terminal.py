"""A page as plain text for a terminal or a printer: black and white, 80 columns wide."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from io import StringIO

from rich.cells import cell_len

from evenpick.report.bed_picture import draw_beds
from evenpick.report.page import BedPicture, Block, Column, Heading, Items, Page, Picture, Table, Text
from evenpick.report.picture import draw

WIDTH = 80
GAP = 2
NARROWEST = 9


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
    return textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)


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
    several = list(zip(cells, widths, columns, strict=True))
    if all(cell_len(cell) <= width and cell == cell.strip() for cell, width, _ in several):
        set_out = [_set(cell, width, column.align == "right") for cell, width, column in several]
        return [(" " * GAP).join(set_out)]
    from rich.console import Console  # slow to load, and most rows need no wrapping
    from rich.table import Table as Grid
    from rich.text import Text as Cell

    grid = Grid(box=None, show_header=False, padding=(0, GAP, 0, 0), pad_edge=False)
    for column, width in zip(columns, widths, strict=True):
        grid.add_column(justify=column.align, width=width, overflow="fold")
    grid.add_row(*(Cell(cell) for cell in cells))
    sink = StringIO()
    Console(file=sink, width=WIDTH + GAP, color_system=None, legacy_windows=False).print(grid)
    return sink.getvalue().splitlines()


def _set(cell: str, width: int, right: bool) -> str:
    """A cell that fits, with blanks to its column's width."""
    blanks = " " * (width - cell_len(cell))
    return blanks + cell if right else cell + blanks
