"""Tables as spreadsheets write them: other delimiters, decimals after a comma, days changed in silence."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenpick.base.errors import BadDiary
from evenpick.garden.diary import Picked
from evenpick.garden.diary_csv import read_csv, write_csv
from evenpick.garden.table_text import delimiter_of, read_day
from evenpick.service.log_file import read_lines

HEADS = ("day", "kind", "crop", "kg", "note")
CELLS = ("2026-07-13", "picked", "pea", "0,5", "1,5 m left")


@pytest.mark.parametrize("apart", [";", "\t"])
def test_commas_stand_in_decimals_where_they_part_no_cells(apart: str) -> None:
    """So a spreadsheet writes it in Germany or Spain; it had no column 'day;kind;crop'."""
    (entry,) = read_csv(f"\ufeff{apart.join(HEADS)}\r\n{apart.join(CELLS)}\r\n", "peas.csv")
    assert entry.fact == Picked("pea", kg=0.5)
    assert entry.note == "1,5 m left"


def test_headings_go_by_large_letters_and_date_too() -> None:
    (entry,) = read_csv("Date,Kind,Crop,KG\n13.07.2026,picked,pea,0.5\n", "peas.csv")
    assert entry.fact == Picked("pea", kg=0.5)
    assert entry.day == read_csv("day,kind,crop,kg\n2026-07-13,picked,pea,0.5\n", "peas.csv")[0].day


def test_what_was_written_is_read_with_commas() -> None:
    entries = read_csv("day,kind,crop,kg,note\n2026-07-13,picked,pea,0.5,\"a; b\"\n", "peas.csv")
    assert delimiter_of(write_csv(entries)) == ","
    assert read_csv(write_csv(entries), "peas.csv") == entries


def test_a_comma_in_a_number_of_a_table_with_commas_is_refused() -> None:
    with pytest.raises(BadDiary):
        read_csv('day,kind,crop,kg\n2026-07-13,picked,pea,"0,5"\n', "peas.csv")


@pytest.mark.parametrize(("cell", "mend"), [
    ("46217", "number of days"), ("07/12/2026", "changed others in silence"), ("soon", "year-month-day"),
])
def test_a_day_that_a_spreadsheet_changed_says_what_to_do(cell: str, mend: str) -> None:
    with pytest.raises(BadDiary, match="is no date") as raised:
        read_csv(f"day,kind,crop\n{cell},picked,pea\n", "peas.csv")
    (problem,) = raised.value.problems
    assert mend in problem.mend
    assert (problem.line, problem.field) == (2, "day")


def test_a_day_with_points_is_day_first() -> None:
    assert read_day(" 3.7.2026 ") == date(2026, 7, 3)
    with pytest.raises(BadDiary):
        read_day("31.06.2026")


def test_lines_may_be_parted_by_semicolons(tmp_path: Path) -> None:
    garden, file = tmp_path / "garden.toml", tmp_path / "lines.csv"
    garden.write_text('[site]\nat = "51.5, -1.25"\n[[ground]]\nname = "bed"\ncover = "open"\narea = "9 m²"\n'
                      '[[wish]]\nitem = "peas"\ncrops = ["pea"]\neach_week = "1 kg"\n', encoding="utf-8")
    file.write_text("date;line\r\n13.07.2026;rain 3 mm\r\n2026-07-14;note: one, two\r\n",
                    encoding="utf-8-sig")
    made = read_lines(garden, file, date(2026, 8, 1)).entries
    assert [each.note for each in made] == ["rain 3 mm", "note: one, two"]
