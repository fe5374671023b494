"""The garden as a spreadsheet, out and in (docs/formats/workbook.md). Invented garden."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenpick.base.errors import BadDiary, BadGarden, BadRequest
from evenpick.garden.diary import Picked, Sowed
from evenpick.garden.workbook import Rows
from evenpick.service.book import record_of, write
from evenpick.service.setups import garden_of
from evenpick.service.workbook import read_in, write_workbook
from evenpick.store.workbook import read_workbook, workbook

TEXT = """# my garden
[site]
at = "53.4, -6.2"    # by the wall
[[ground]]
name = "bed"
cover = "open"
area = "30 m2"
[[wish]]
item = "=1+1"
crops = ["leek", "chard"]
each_week = "2 kg"
[[wish]]
item = "peas"
crops = ["pea"]
each_week = "500 g"
from = "06-01"
until = "07-31"
[[seed]]
crop = "leek"
year = 2026
amount = "2 g"
"""


@pytest.fixture
def garden(garden: Path) -> Path:
    write(garden, [(date(2026, 7, 1), Sowed("pea", "direct", "open", 1.0), "8 o'clock, \"wet\"\nand cold"),
                 (date(2026, 7, 2), Picked("pea", kg=0.5), "=SUM(A1)")])
    return garden


def edited(garden: Path, tmp_path: Path, sheet: str, change: object) -> Path:
    """The garden's own workbook with one sheet changed."""
    path = tmp_path / "edited.xlsx"
    sheets: dict[str, Rows] = dict(read_workbook(write_workbook(garden, tmp_path / "whole.xlsx")))
    sheets[sheet] = change([list(row) for row in sheets[sheet]])  # type: ignore[operator]
    path.write_bytes(workbook(sheets))
    return path


def test_a_spreadsheet_begins_no_garden(garden: Path, tmp_path: Path) -> None:
    book = write_workbook(garden, tmp_path / "garden.xlsx")
    with pytest.raises(BadRequest, match="a spreadsheet has no place of its own"):
        read_in(tmp_path / "empty" / "garden.toml", book)


def test_out_and_in_again_changes_nothing(garden: Path, tmp_path: Path) -> None:
    before = record_of(garden).entries
    taken = read_in(garden, write_workbook(garden, tmp_path / "garden.xlsx"))
    assert (taken.garden_changed, taken.new, taken.read) == (False, 0, 2)
    assert garden.read_text(encoding="utf-8") == TEXT
    assert record_of(garden).entries == before


def test_a_changed_row_keeps_the_garden_file_as_it_is_too(garden: Path, tmp_path: Path) -> None:
    """The file was written before the row was refused."""
    sheets = read_workbook(write_workbook(garden, tmp_path / "garden.xlsx"))
    wishes, diary = sheets["wishes"], sheets["diary"]
    week, note = wishes[0].index("each_week"), diary[0].index("note")
    sheets["wishes"] = [wishes[0], *([*row[:week], "3 kg", *row[week + 1 :]] for row in wishes[1:])]
    sheets["diary"] = [diary[0], *([*row[:note], "changed", *row[note + 1 :]] for row in diary[1:])]
    path = tmp_path / "changed.xlsx"
    path.write_bytes(workbook(sheets))
    with pytest.raises(BadDiary, match="changed"):
        read_in(garden, path)
    assert garden.read_text(encoding="utf-8") == TEXT


def test_into_an_empty_book_the_diary_is_the_same(garden: Path, tmp_path: Path) -> None:
    path = write_workbook(garden, tmp_path / "garden.xlsx")
    other = tmp_path / "other" / "garden.toml"
    other.parent.mkdir()
    other.write_text(TEXT, encoding="utf-8")
    read_in(other, path)
    ours, theirs = ([e for e in record_of(one).entries if e.fact.kind != "set up"] for one in (garden, other))
    assert ours == theirs


def test_text_stays_text(garden: Path, tmp_path: Path) -> None:
    """Read by another library (calamine): what looks like a formula is a word."""
    sheets = read_workbook(write_workbook(garden, tmp_path / "garden.xlsx"))
    assert sheets["wishes"][1][0] == "=1+1"
    assert "=SUM(A1)" in [cell for row in sheets["diary"] for cell in row]


def test_a_changed_wish_comes_in_and_the_rest_stays(garden: Path, tmp_path: Path) -> None:
    def change(rows: list[list[object]]) -> list[list[object]]:
        rows[2][rows[0].index("each_week")] = "1.5 kg"
        return [*rows, ["beetroot", None, None, "300 g"]]

    assert read_in(garden, edited(garden, tmp_path, "wishes", change)).garden_changed
    wishes = garden_of(garden).wishes
    kg = {wish.item: wish.kg_per_week for wish in wishes}
    assert kg == {"=1+1": 2.0, "peas": 1.5, "beetroot": 0.3}
    assert wishes[0].crops == ("leek", "chard")
    assert "# by the wall" in garden.read_text(encoding="utf-8")
    assert record_of(garden).setup is not None


def test_a_wish_that_is_not_understood_is_not_told_for_its_price_too(tmp_path: Path) -> None:
    """A workbook with an unknown crop also told of a line of the garden file that was in order."""
    path = tmp_path / "garden.toml"
    text = TEXT.replace("[[wish]]", '[[outlet]]\nname = "boxes"\nkind = "boxes"\nworth = 12\n[[wish]]', 1)
    for amount in ('each_week = "2 kg"', 'each_week = "500 g"'):
        text = text.replace(amount, f'{amount}\nprice = "3 per kg"')
    path.write_text(text, encoding="utf-8")

    def change(rows: list[list[object]]) -> list[list[object]]:
        return [*rows, ["taro", None, None, "300 g"]]

    with pytest.raises(BadGarden) as failure:
        read_in(path, edited(path, tmp_path, "wishes", change))
    (problem,) = failure.value.problems
    assert str(problem.file).endswith("edited.xlsx, wishes")
    assert (problem.line, problem.field) == (4, "item")


@pytest.mark.parametrize(
    ("sheet", "row", "column", "value", "told"),
    [("wishes", 2, "each_week", "much", "edited.xlsx, wishes, line 3, each_week"),
     ("wishes", 1, "crops", "leek; leak", "edited.xlsx, wishes, line 2, crops"),
     ("ground", 1, "cover", "roof", "edited.xlsx, ground, line 2, cover"),
     ("seed", 1, "year", 2200.0, "edited.xlsx, seed, line 2, year")],
)
def test_a_fault_is_told_with_sheet_row_and_column(
    garden: Path, tmp_path: Path, sheet: str, row: int, column: str, value: object, told: str
) -> None:
    def change(rows: list[list[object]]) -> list[list[object]]:
        rows[row][rows[0].index(column)] = value
        return rows

    with pytest.raises(BadGarden) as found:
        read_in(garden, edited(garden, tmp_path, sheet, change))
    assert told in str(found.value)
    assert garden.read_text(encoding="utf-8") == TEXT


def test_a_bad_diary_row_is_told_and_nothing_comes_in(garden: Path, tmp_path: Path) -> None:
    before = record_of(garden).entries

    def change(rows: list[list[object]]) -> list[list[object]]:
        new = ["" for _ in rows[0]]
        new[rows[0].index("day")], new[rows[0].index("kind")] = "2026-13-01", "picked"
        return [*rows, new]

    with pytest.raises(BadDiary, match=r"edited\.xlsx, diary, line 4, day"):
        read_in(garden, edited(garden, tmp_path, "diary", change))
    assert record_of(garden).entries == before


def test_strange_sheets_columns_and_files_are_refused(garden: Path, tmp_path: Path) -> None:
    path = tmp_path / "strange.xlsx"
    path.write_bytes(workbook({"wish": [["item"]]}))
    with pytest.raises(BadGarden, match="Did you mean 'wishes'"):
        read_in(garden, path)
    path.write_bytes(workbook({"wishes": [["thing"], ["peas"]]}))
    with pytest.raises(BadGarden, match="no column 'thing'"):
        read_in(garden, path)
    path.write_bytes(b"not a spreadsheet")
    with pytest.raises(BadGarden, match="no spreadsheet"):
        read_in(garden, path)
    with pytest.raises(BadRequest, match="never written over"):
        write_workbook(garden, path)
