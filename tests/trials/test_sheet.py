"""The record sheet: there and back, and what is wrong told by line and field (docs/formats/trial-csv.md)."""

from __future__ import annotations

import json
import re
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evenpick.base.errors import BadTrial
from evenpick.trials.judge import judge
from evenpick.trials.layout import lay_out
from evenpick.trials.sheet import PLACE, WORDS, measure_of, with_columns, write_sheet
from evenpick.trials.sheet_reading import read_sheet

DOCS = (Path(__file__).resolve().parents[2] / "docs" / "formats" / "trial-csv.md").read_text(encoding="utf-8")
HEAD = "plot,block,variety,weight_kg,came_up,sown,taste,lost"


def read(*lines: str, head: str = HEAD) -> list[str]:
    """What is said of a sheet of these lines."""
    with pytest.raises(BadTrial) as caught:
        read_sheet("\n".join([head, *lines]), "t.csv")
    return [str(problem) for problem in caught.value.problems]


def test_a_layout_goes_out_and_comes_back() -> None:
    layout = lay_out("Leeks, late", ["A, long", 'B "short"', "C"], 3, (), 1.5, 0.5, 9, "C")
    sheet = read_sheet(write_sheet(layout, ["weight_kg", "taste_anna"]), "leeks.csv")
    assert (sheet.name, sheet.standard, sheet.seed) == ("Leeks, late", "C", 9)
    assert tuple(row.plot for row in sheet.rows) == layout.plots
    assert all(value is None for row in sheet.rows for value in row.values.values())


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(
            st.none() | st.floats(0, 1e5).map(lambda v: float(f"{v:.6g}")),
            st.none() | st.integers(1, 5),
            st.sampled_from(["", "slugs", 'a "word", a comma']),
        ),
        min_size=6,
        max_size=6,
    )
)
def test_columns_added_leave_what_is_recorded(cells: list[tuple[float | None, int | None, str]]) -> None:
    layout = lay_out("t", ["A", "B"], 3, (), 1.0, 0.0, 1)
    lines = write_sheet(layout, ["weight_lb", "taste"]).splitlines()
    at = lines.index(next(line for line in lines if line.startswith("plot,"))) + 1
    for i, (weight, taste, why) in enumerate(cells):
        filled = ["" if weight is None or why else f"{weight!r}", "" if taste is None or why else str(taste)]
        quoted = '"' + why.replace('"', '""') + '"'
        lines[at + i] = ",".join([*lines[at + i].split(",")[:6], *filled, quoted, quoted])
    before = read_sheet("\n".join(lines), "t.csv")
    after = read_sheet(with_columns(before, ["count", "taste"]), "t.csv")
    for one, two in zip(before.rows, after.rows, strict=True):
        assert (one.plot, one.lost, one.note) == (two.plot, two.lost, two.note)
        assert {**one.values, "count": None} == two.values


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("x,1,A,,,,,", "line 2, plot: 'x' is not a whole number"),
        ("1,,A,,,,,", "line 2, block: the cell is empty"),
        ("1,1,,,,,,", "line 2, variety: the cell is empty"),
        ('1,1,A,"1,2",,,,', "line 2, weight_kg: '1,2' is not a number"),
        ("1,1,A,-1,,,,", "line 2, weight_kg: -1 is out of bounds"),
        ("1,1,A,nan,,,,", "line 2, weight_kg: nan is out"),
        ("1,1,A,,5,,,", "line 2, sown: so many came up, but not of how many"),
        ("1,1,A,,7,5,,", "line 2, came_up: 7 of 5"),
        ("1,1,A,,1.5,5,,", "line 2, came_up: 1.5 is not a whole"),
        ("1,1,A,,0,0,,", "line 2, came_up: 0 of 0"),
        ("1,1,A,,,,6,", "line 2, taste: 6 is out of bounds"),
        ("1,1,A,2,,,,slugs", "line 2, lost: the plot is lost and yet"),
        ("1,1,A,2,3", "line 2: 5 cells stand under 8 columns"),
    ],
)
def test_faults_are_told_where_they_stand(line: str, said: str) -> None:
    assert any(said in told for told in read(line)), read(line)


@pytest.mark.parametrize(
    ("head", "said"),
    [
        ("plot,variety,weight_kg", "no column block"),
        ("plot;block;variety", "not separated by commas"),
        ("plot,block,variety,wieght_kg,weight", "'weight' does not say"),
        ("plot,block,variety,came_up", "stand together"),
        ("plot,block,variety,count,count", "stands twice"),
        ("plot,block,variety,", "does not say what is measured"),
    ],
)
def test_faults_of_the_header(head: str, said: str) -> None:
    assert any(said in told for told in read("1,1,A", head=head))


def test_faults_over_the_lines() -> None:
    told = read("1,1,A,,,,,", "1,1,a,,,,,", head=f"# standard: Z\n{HEAD}")
    assert any("line 4, plot: plot 1 stands on another line" in one for one in told)
    assert any("differ in capitals alone" in one for one in told)
    assert any("standard 'Z' is in no plot" in one for one in told)
    assert read('1,1,"A', head=HEAD)[0].startswith("t.csv")
    assert len(read(*["x,1,A,,,,,"] * 50)) == 21
    with pytest.raises(BadTrial, match="empty"):
        read_sheet("", "t.csv")


CELLS = st.text(alphabet="0123456789.,-+eE\"'#;\t naAbB\n\r\x00\ufeff²", max_size=8)


@settings(max_examples=150)
@given(
    st.lists(st.lists(CELLS, min_size=1, max_size=9).map(",".join), max_size=6),
    st.sampled_from(["", HEAD, "\ufeff" + HEAD]),
)
def test_any_text_is_read_or_refused(lines: list[str], head: str) -> None:
    text = "\r\n".join([head, *lines])
    with suppress(BadTrial):
        sheet = read_sheet(text, "t.csv")
        assert judge(sheet).varieties == sheet.varieties


def test_the_table_schema_of_the_docs_names_the_fixed_columns() -> None:
    block = re.search(r"```json\n(.*?)```", DOCS, re.DOTALL)
    assert block
    fields = {field["name"]: field for field in json.loads(block[1])["fields"]}
    assert {*PLACE, *WORDS} <= set(fields)
    for name in set(fields) - {*PLACE, *WORDS}:
        assert measure_of(name).column == name


def test_the_example_of_the_docs_is_read() -> None:
    block = re.search(r"```csv\n(.*?)```", DOCS, re.DOTALL)
    assert block
    sheet = read_sheet(block[1], "leeks.csv")
    assert len(sheet.rows) == 6
    assert [row.lost for row in sheet.rows].count("slugs") == 1
