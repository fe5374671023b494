"""Tables of the terminal: rows wrapped as Rich wraps them."""

from __future__ import annotations

from io import StringIO

from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from rich.table import Table as Grid
from rich.text import Text as Cell

from evenpick.report.page import Column, Page, Table
from evenpick.report.terminal import GAP, WIDTH, _folded, _row, render

WORDS = st.text(st.sampled_from("abc-–é 二豆\u0301"), max_size=30)


def by_rich(columns: list[Column], widths: list[int], cells: list[str]) -> list[str]:
    grid = Grid(box=None, show_header=False, padding=(0, GAP, 0, 0), pad_edge=False)
    for column, width in zip(columns, widths, strict=True):
        grid.add_column(justify=column.align, width=width, overflow="fold")
    grid.add_row(*(Cell(cell) for cell in cells))
    sink = StringIO()
    Console(file=sink, width=WIDTH + GAP, color_system=None, legacy_windows=False).print(grid)
    return [line.rstrip() for line in sink.getvalue().splitlines()]


@given(st.lists(st.tuples(WORDS, st.integers(2, 20), st.booleans()), min_size=1, max_size=3))
def test_rows_are_wrapped_as_rich_wraps_them(several: list[tuple[str, int, bool]]) -> None:
    columns = [Column("", align="right" if right else "left") for _, _, right in several]
    widths, cells = [width for _, width, _ in several], [cell for cell, _, _ in several]
    assert [line.rstrip() for line in _row(columns, widths, cells)] == by_rich(columns, widths, cells)


def test_a_word_that_no_line_holds_is_broken() -> None:
    assert _folded("a Brussels sprout", 5) == ["a", "Bruss", "els", "sprou", "t"]


def test_a_wide_table_keeps_to_the_page() -> None:
    table = Table((Column("Crop"), Column("Why")), (("Kale", "frost " * 30),))
    assert all(len(line) <= WIDTH for line in render(Page("Crops", (table,))).splitlines())
