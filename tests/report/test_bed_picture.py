"""The picture of beds over the weeks: what is drawn is what is there, in terminal and on paper."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import invented
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenpick.report.bed_picture import bar_text, draw_beds, on_lines, scale
from evenpick.report.ground import ground_page
from evenpick.report.page import BedBar, BedLine, BedPicture, BedRow, Table
from evenpick.report.paper import pdf, sheet

WEEKS = tuple(date(2027, 2, 1) + timedelta(weeks=at) for at in range(104))


@st.composite
def bars(draw: st.DrawFn, weeks: int) -> list[tuple[float, float, BedBar]]:
    made = []
    for number in range(draw(st.integers(0, 8))):
        first = draw(st.integers(0, weeks - 1))
        low = draw(st.integers(0, 8))
        bar = BedBar(first, draw(st.integers(first + 1, weeks)), number, "a crop of a long name", False)
        made.append((float(low), low + float(draw(st.integers(1, 4))), bar))
    return made


@given(st.data(), st.integers(1, 104))
def test_no_line_is_too_long_and_every_bar_is_drawn(data: st.DataObject, weeks: int) -> None:
    several = data.draw(bars(weeks))
    lines = tuple(on_lines(several, lambda low, high: f"{low:.1f}-{high:.1f} m"))
    assert sorted(bar.number or 0 for line in lines for bar in line.bars) == list(range(len(several)))
    drawn = draw_beds(BedPicture(WEEKS[:weeks], (BedRow("bed", lines),)))
    assert max(map(len, drawn)) <= 80
    if scale(weeks)[1] == 1:  # else two that follow each other may share a column
        assert sum(line.count("│") for line in drawn) == len(several)


@pytest.mark.parametrize(("width", "text"), [(1, "│"), (2, "│─"), (4, "│12─"), (9, "│12 Leek─")])
def test_a_number_is_whole_or_left_out(width: int, text: str) -> None:
    assert bar_text(BedBar(0, 1, 12, "Leek", False), width) == text


def test_weeks_stand_where_they_are() -> None:
    line = BedLine("0.0-1.0 m", (BedBar(2, 5, None, "Leek", False),))
    _, _, drawn = draw_beds(BedPicture(WEEKS[:64], (BedRow("bed", (line,)),)))
    assert drawn[15:] == "  │Le"


def test_a_bed_is_as_wide_as_was_told() -> None:
    """1.25 m read 1.2 m."""
    wide = replace(invented.GROUND, beds=(replace(invented.GROUND.beds[0], width_m=1.25),))
    (picture,) = (block for block in ground_page(wide, invented.BRITISH, date(2027, 2, 1), 52).blocks
                  if isinstance(block, BedPicture))
    assert picture.beds[0].name == "gate, 10 m × 1.25 m"


def test_the_beds_go_on_paper() -> None:
    page = ground_page(invented.GROUND, invented.BRITISH, date(2027, 2, 1), 52)
    assert pdf(sheet(page, "a4")).startswith(b"%PDF")


def test_where_things_go_is_told_along_the_beds() -> None:
    """'beds 10' came before 'beds 2'."""
    (bed, *_) = invented.GROUND.beds
    beds = tuple(replace(bed, name=f"beds {number}") for number in (1, 2, 10))
    page = ground_page(replace(invented.GROUND, beds=beds), invented.BRITISH, date(2027, 2, 1), 52)
    (table,) = (block for block in page.blocks if isinstance(block, Table)
                and "stretch" in {column.heading for column in block.columns})
    first = [row[4] for row in table.rows if row[0] == table.rows[0][0]]
    assert list(dict.fromkeys(first)) == ["beds 1", "beds 2", "beds 10"]
