"""The picture of the year says what its numbers say."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenpick.report.chart import NARROW, WIDE, Room, year_spec
from evenpick.report.page import Picture, PictureRow, WeekCell
from evenpick.report.picture import FULL, LINE, SPARE, draw, mark, totals

KG = st.floats(0, 50)
CELLS = st.builds(WeekCell, KG, KG, st.booleans())


def picture(*rows: tuple[WeekCell, ...]) -> Picture:
    weeks = tuple(date(2027, 2, 1) + timedelta(weeks=at) for at in range(len(rows[0])))
    named = (PictureRow(f"item {at}", row, None, None) for at, row in enumerate(rows))
    return Picture(weeks, tuple(named), "9 kg")


@pytest.mark.parametrize(
    ("cell", "shown"),
    [
        (WeekCell(0, 0), " "), (WeekCell(2, 0), "_"), (WeekCell(2, 1), "▄"), (WeekCell(2, 2), FULL),
        (WeekCell(2, 2.4), FULL), (WeekCell(2, 2.6), SPARE), (WeekCell(0, 1), SPARE),
        (WeekCell(2, 0, False), "."), (WeekCell(0, 0.01), " "),
    ],
)
def test_one_week_of_one_item(cell: WeekCell, shown: str) -> None:
    assert mark(cell, 2.0) == shown


def test_spare_of_one_item_does_not_fill_another() -> None:
    lettuce, beans = WeekCell(1, 0), WeekCell(1, 3)
    assert totals(picture((lettuce,), (beans,)).rows) == [(2, 1, 2)]


@settings(max_examples=40)
@given(st.lists(st.lists(CELLS, min_size=52, max_size=52), min_size=1, max_size=4))
def test_every_line_fits_and_the_total_tells_bare_from_spare(cells: list[list[WeekCell]]) -> None:
    of = picture(*(tuple(row) for row in cells))
    lines = draw(of)
    assert max(map(len, lines)) <= 80
    sums = totals(of.rows)
    top = max(wanted + spare for wanted, _, spare in sums)
    if top <= 0:
        return
    for at, (wanted, there, spare) in enumerate(sums):
        column = "".join(line[17 + at : 18 + at] for line in lines[:8])
        assert column.count(FULL) == round(8 * there / top) or (LINE in column)
        assert (LINE in column) == (round(8 * wanted / top) > round(8 * there / top))
        assert abs(column.count(SPARE) - 8 * spare / top) <= 1.0


@pytest.mark.parametrize(("room", "begins", "names"), [
    (WIDE, date(2027, 4, 26), ["", "May", "Jun"]), (WIDE, date(2027, 4, 19), ["Apr", "May", "Jun"]),
    (NARROW, date(2027, 4, 26), ["", "M", "J"]), (NARROW, date(2027, 4, 19), ["A", "M", "J"]),
])
def test_the_names_of_months_never_lie_on_each_other(room: Room, begins: date, names: list[str]) -> None:
    """A year from the last week of April began with 'AprMay', one over the other."""
    weeks = tuple(begins + timedelta(weeks=at) for at in range(52))
    layers = year_spec(Picture(weeks, (), "1 kg"), room)["layer"]
    texts = layers[-1]["data"]["values"]
    assert [each["t"] for each in texts][:3] == names
    told = [each for each in texts if each["t"]]
    assert all(after["x"] - before["x"] >= 7 * len(before["t"]) for before, after in pairwise(told))
