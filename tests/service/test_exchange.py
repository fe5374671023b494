"""Gardens carried elsewhere and back; copies written apart and brought together. Invented diaries."""

from __future__ import annotations

import csv
import io
import json
import sys
import tempfile
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "garden"))

from invented_diary import ENTRIES, diaries

from evenpick.base.days import day_number
from evenpick.base.errors import BadBook, BadDiary, BadRequest
from evenpick.garden.diary import Corrected, Entry, Lost, Noted, Picked, Sowed, Undid, new_id
from evenpick.garden.diary_csv import COLUMNS, read_csv, table_schema, write_csv
from evenpick.garden.garden_json import Document, KeptPlan, read_document, write_document
from evenpick.garden.record import fold
from evenpick.service.book import record_of, write
from evenpick.service.exchange import document, export_garden, import_garden
from evenpick.service.settle import open_conflicts, settle
from evenpick.store.book import Book, book_path
from evenpick.store.kept import copies

TEXT = '[site]\nat = "51.5, -1.25"\n[[ground]]\nname = "bed"\ncover = "open"\narea = "20 m²"\n'
DAY = date(2027, 3, 1)
FEW = settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow])


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    """A garden with a set-up, a plan of sorts and a few entries."""
    path = tmp_path / "a" / "garden.toml"
    path.parent.mkdir()
    path.write_text(TEXT, encoding="utf-8")
    sowed = Sowed("early-carrot", "direct", "open", 1.2)
    (sown,) = write(path, [(DAY, sowed, 'in a "drill",\nby the hedge')], "Ann")
    write(path, [(DAY, Lost(sown.id, "eaten", 0.5, "slugs"), "=1+1"), (DAY, Picked("pea", kg=0.1), "")])
    Book(book_path(path)).keep_plan(KeptPlan("2027-01-01T00:00:00.000000+00:00", "d", '{"sowings":[1.5]}'))
    return path


def copy_of(garden: Path, name: str) -> Path:
    """The same garden, taken elsewhere."""
    path = garden.parents[1] / name / "garden.toml"
    path.parent.mkdir()
    for end in (".toml", ".book"):
        path.with_suffix(end).write_bytes(garden.with_suffix(end).read_bytes())
    return path


def test_exported_and_imported_again_is_the_same_byte_for_byte(garden: Path, tmp_path: Path) -> None:
    files = {path.name: path for path in export_garden(garden, tmp_path / "out")}
    assert set(files) == {"garden.json", "garden-diary.csv", "garden-diary.schema.json", "garden.toml"}
    new = tmp_path / "b" / "garden.toml"
    new.parent.mkdir()
    came = import_garden(new, files["garden.json"])
    assert (came.new, came.garden_written, came.conflicts) == (4, True, ())
    assert document(new).encode() == files["garden.json"].read_bytes() == document(garden).encode()
    assert new.read_bytes() == garden.read_bytes()
    assert record_of(new) == record_of(garden)
    assert import_garden(garden, files["garden-diary.csv"]).new == 0
    again = export_garden(garden, tmp_path / "out")
    garden.write_text(TEXT + "# more\n", encoding="utf-8")
    with pytest.raises(BadRequest, match="never written over"):
        export_garden(garden, tmp_path / "out")
    assert again


@given(st.lists(ENTRIES, max_size=8, unique_by=lambda entry: entry.id))
@FEW
def test_any_diary_comes_back_from_json_and_from_csv(entries: list[Entry]) -> None:
    whole = Document(TEXT, None, tuple(sorted(entries, key=lambda entry: entry.id)))
    assert read_document(write_document(whole), "x.json") == whole
    assert read_csv(write_csv(whole.diary), "x.csv") == whole.diary


@given(st.lists(ENTRIES, max_size=4))
@FEW
def test_the_csv_is_as_its_schema_says(entries: list[Entry]) -> None:
    """Table Schema's own types and constraints, read by the words of its specification."""
    fields = table_schema("x.csv")["fields"]
    assert tuple(field["name"] for field in fields) == COLUMNS
    for row in csv.DictReader(io.StringIO(write_csv(entries), newline="")):
        for field in fields:
            cell, rules = row[field["name"]], field.get("constraints", {})
            assert cell or not rules.get("required")
            if cell:
                reads = {"number": float, "integer": int, "date": date.fromisoformat, "string": str,
                         "boolean": ("false", "true").index}
                reads[field["type"]](cell)
                assert cell in rules.get("enum", [cell])


@given(diaries(), st.randoms())
@settings(FEW, max_examples=5)
def test_copies_brought_together_in_any_order_agree(entries: list[Entry], dice: st.DataObject) -> None:
    """Three copies hold parts of one diary; whoever brings in whom first, all hold all of it once."""
    parts = [[entry for entry in entries if dice.random() < 0.6] for _ in range(3)]  # type: ignore[attr-defined]
    everything = {entry.id: entry for part in parts for entry in part}
    expected = fold(everything.values())
    for order in ((0, 1, 2), (1, 2, 0), (2, 1, 0)):
        with tempfile.TemporaryDirectory() as folder:
            books = [Path(folder) / str(number) / "garden.book" for number in range(3)]
            for path, part in zip(books, parts, strict=True):
                path.parent.mkdir()
                Book(path).add(part)
            for number in order:
                if parts[number]:
                    import_garden(books[order[0]], books[number])
            found = Book(books[order[0]]).entries()
            assert len(found) == len(everything)
            assert fold(found) == expected


def test_two_copies_written_apart_and_their_conflict_settled(garden: Path) -> None:
    other = copy_of(garden, "b")
    sown = next(iter(record_of(garden).sowings))
    write(garden, [(DAY, Corrected(sown, 20_000, Sowed("carrot", "direct", "open", 2.0)), "")], "Ann")
    write(other, [(DAY, Corrected(sown, 20_000, Sowed("carrot", "direct", "open", 3.0)), "")], "Ben")
    write(other, [(DAY, Picked("pea", kg=0.2), "")])
    came = import_garden(garden, book_path(other))
    assert (came.new, len(came.conflicts)) == (2, 1)
    assert copies(book_path(garden)) == (came.kept,)
    import_garden(other, book_path(garden))
    assert open_conflicts(garden) == open_conflicts(other)
    settle(garden, 1, "b")
    import_garden(other, book_path(garden))
    for each in (garden, other):
        assert open_conflicts(each) == ()
        assert record_of(each).sowings[sown].area == 2.0
    assert document(garden) == document(other)


def test_a_correction_of_what_was_undone_elsewhere_is_settled_either_way(garden: Path) -> None:
    other = copy_of(garden, "b")
    sown = next(iter(record_of(garden).sowings))
    write(garden, [(DAY, Undid(sown), "")])
    write(other, [(DAY, Corrected(sown, 20_000, Sowed("carrot", "direct", "open", 3.0)), "")])
    import_garden(garden, book_path(other))
    third = copy_of(garden, "c")
    settle(garden, 1, "a")
    assert (open_conflicts(garden), sown in record_of(garden).sowings) == ((), False)
    settle(third, 1, "b")
    assert open_conflicts(third) == ()
    assert record_of(third).sowings[sown].area == 3.0
    with pytest.raises(BadRequest, match="no conflict 1"):
        settle(third, 1, "b")


@pytest.mark.parametrize(
    ("name", "text", "where"),
    [
        ("x.csv", "id,day,kind,kg\n,2027-03-01,noted,\n,2027-02-30,picked,1\n", "x.csv, line 3, day"),
        ("x.csv", "day,kind,crop,kg\n2027-03-01,picked,pea,much\n", "x.csv, line 2, kg"),
        ("x.csv", 'day,kind,note\n2027-03-01,noted,"a\nb"\n2027-03-01,notd,c\n', "x.csv, line 4, kind"),
        ("x.csv", "day,kind,crop\n2027-03-01,sowed,pea\n", "x.csv, line 2, area"),
        ("x.csv", "day,kind,wieght\n", "x.csv, line 1: no column is called 'wieght'"),
        ("x.csv", "", "x.csv, line 1: the table is empty"),
        ("x.json", '{"document": "evenpick garden",\n"form": 2, "diary": [}', "line 2: this is no JSON"),
        ("x.json", '{"document": "evenpick garden", "form": 4}', "x.json, form"),
        ("x.json", "[]", "x.json: this is no garden's document"),
        ("x.json", "[" * 100_000, "nested without end"),
        ("x.json", '{"document": "evenpick garden", "form": 2, "diary": [\n{"id": "' + "1" * 32
         + '", "day": "2027-03-01", "kind": "picked", "crop": "pea", "kg": -1}]}',
         "x.json, line 2, entry 1 of the diary, kg"),
        ("x.txt", "", "can't be imported"),
        ("none.csv", None, "can't be opened"),
        ("none.book", None, "no such book"),
    ],
)
def test_what_cannot_be_imported_is_told_by_its_place_and_nothing_comes_in(
    garden: Path, tmp_path: Path, name: str, text: str | None, where: str
) -> None:
    source = tmp_path / name
    if text is not None:
        source.write_text(text, encoding="utf-8")
    before = document(garden)
    with pytest.raises((BadDiary, BadRequest, BadBook)) as told:
        import_garden(garden, source)
    assert where in str(told.value)
    assert document(garden) == before


@pytest.mark.parametrize("kind", ["sowed", "picked"])
def test_a_crop_that_nobody_knows_is_refused_with_its_line(garden: Path, tmp_path: Path, kind: str) -> None:
    """Taken in it would make every later answer fail, and name no way out."""
    table = tmp_path / "old.csv"
    row = "2026-07-01,sowed,peax,direct,open,2," if kind == "sowed" else "2026-07-01,picked,peax,,,,1"
    table.write_text(f"day,kind,crop,way,cover,area,kg\n{row}\n", encoding="utf-8")
    before = Book(book_path(garden)).entries()
    with pytest.raises(BadDiary) as caught:
        import_garden(garden, table)
    (problem,) = caught.value.problems
    assert (problem.line, problem.field) == (2, "crop")
    assert "peax" in problem.what
    assert Book(book_path(garden)).entries() == before


@pytest.mark.parametrize(("row", "field"), [
    ("2999-01-01,picked,pea,,,,1", "day"), ("0001-01-01,picked,pea,,,,1", "day"),
    ("2026-07-01,picked,pea,,,,1e9", "kg"), ("2026-07-01,weather,,,,,,3,1", "tmin"),
    ("2026-07-01,sowed,pea,direct,open,1e308,", "area"),
    ("2026-07-01,sowed,pea,direct,open,2000,", "area"),  # ten times the 20 m² there are, and more
])
def test_days_and_amounts_that_cannot_be_are_refused_with_their_line(
    garden: Path, tmp_path: Path, row: str, field: str
) -> None:
    garden.write_text(TEXT + '[[wish]]\nitem = "pea"\neach_week = "1 kg"\n', encoding="utf-8")
    table, brought = tmp_path / "old.csv", tmp_path / "old.json"
    heads = "day,kind,crop,way,cover,area,kg,tmin,tmax"
    table.write_text(f"{heads}\n{row}\n", encoding="utf-8")
    (entry,) = read_csv(table.read_text(encoding="utf-8"), "old.csv")
    brought.write_text(write_document(Document(None, None, (entry,))), encoding="utf-8")
    Book(tmp_path / "old.book").add([entry])
    before = Book(book_path(garden)).entries()
    for source in (table, brought, tmp_path / "old.book"):
        with pytest.raises(BadDiary) as caught:
            import_garden(garden, source)
        (problem,) = caught.value.problems
        assert (problem.field or "").endswith(field)
    assert Book(book_path(garden)).entries() == before


def test_what_was_undone_in_another_copy_keeps_nothing_out(garden: Path, tmp_path: Path) -> None:
    slip = Entry(new_id(), day_number(date(1066, 1, 1)), Noted())
    Book(tmp_path / "old.book").add([slip, Entry(new_id(), 20_000, Undid(slip.id))])
    assert import_garden(garden, tmp_path / "old.book").new == 2


def test_a_document_with_a_crop_that_nobody_knows_is_refused(garden: Path, tmp_path: Path) -> None:
    brought = tmp_path / "other.json"
    entry = Entry(new_id(), 20_000, Sowed("peax", "direct", "open", 2.0), "", "")
    brought.write_text(write_document(Document(None, None, (entry,))), encoding="utf-8")
    with pytest.raises(BadDiary, match="peax"):
        import_garden(garden, brought)


def test_one_id_with_two_texts_is_refused_whole(garden: Path, tmp_path: Path) -> None:
    other = Book(tmp_path / "other.book")
    first = record_of(garden).entries[0]
    other.add([Entry(new_id(), 20_000, Noted()), Entry(first.id, 20_000, Noted(), "otherwise")])
    before = document(garden)
    with pytest.raises(BadBook, match="other words"):
        import_garden(garden, other.path)
    assert document(garden) == before


def test_a_table_without_ids_comes_in_once_though_brought_twice(garden: Path, tmp_path: Path) -> None:
    """Two like rows are two pickings."""
    source = tmp_path / "old.csv"
    source.write_text("\ufeffday,kind,crop,kg\n2026-07-01,picked,pea,0.5\n2026-07-01,picked,pea,0.5\n\n",
                      encoding="utf-8")
    assert (import_garden(garden, source).new, import_garden(garden, source).new) == (2, 0)


def resaved(table: Path, digits: int, **changed: str) -> Path:
    """The table as a spreadsheet saves it: numbers as shown, decimals after a comma, TRUE for true."""
    rows = list(csv.DictReader(io.StringIO(table.read_text(encoding="utf-8"), newline="")))

    def shown(name: str, cell: str) -> str:
        if name in ("area", "kg", "share"):
            return f"{float(cell):.{digits}g}".replace(".", ",") if cell else ""
        return cell.upper() if cell in ("true", "false") else cell

    said = io.StringIO()
    writer = csv.DictWriter(said, list(rows[0]), delimiter=";")
    writer.writeheader()
    for row in rows:
        new = changed if row["kind"] == "picked" else {}
        writer.writerow({name: shown(name, cell) for name, cell in row.items()} | new)
    path = table.with_name("resaved.csv")
    path.write_text(said.getvalue(), encoding="utf-8")
    return path


def test_a_spreadsheet_that_shortens_numbers_brings_the_same_book(garden: Path, tmp_path: Path) -> None:
    """The whole table was refused: 0.48768000000000006 m² came back as 0.48768, which were other words."""
    feet = Sowed("early-carrot", "direct", "open", 8 * 0.3048 * 0.2)
    write(garden, [(DAY, feet, ""), (DAY, Picked("pea", kg=1 / 3), "")])
    table = next(path for path in export_garden(garden, tmp_path / "out") if path.suffix == ".csv")
    before = document(garden)
    came = import_garden(garden, resaved(table, 6))
    assert (came.read, came.new) == (6, 0)
    assert document(garden) == before


def test_what_was_changed_in_a_spreadsheet_is_told(garden: Path, tmp_path: Path) -> None:
    table = next(path for path in export_garden(garden, tmp_path / "out") if path.suffix == ".csv")
    before = document(garden)
    with pytest.raises(BadDiary, match=r"kg: 2027-03-01, picked: the diary has 0\.1, and this 0\.2") as told:
        import_garden(garden, resaved(table, 6, kg="0,2"))
    assert "evenpick log --correct" in str(told.value)
    assert document(garden) == before


def test_a_document_says_its_parts(garden: Path) -> None:
    shape = json.loads(document(garden))
    assert list(shape) == ["document", "form", "garden", "plan", "diary"]
    assert shape["plan"]["plan"] == {"sowings": [1.5]}
