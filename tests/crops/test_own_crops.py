"""A grower's own crops file: inherited, laid over, refused with the line of each fault."""

from __future__ import annotations

import re
from math import isnan
from pathlib import Path

import pytest

from evenpick.base.errors import BadRequest, Problem
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.packaged import packaged_files

GOOD = """
[winter-density]
like = "cos lettuce"
name = "Winter Density"

[winter-density.spacing]
in_row = { value = 0.2, source = "own record" }

[[winter-density.anchors]]
lat = 54.0
lon = -1.5
place = "the walled garden"
month = 5
day = 3
days = 66
cover = "open"
way = "direct"
source = "own record"
"""


def write(folder: Path, text: str) -> Path:
    path = folder / "crops.toml"
    path.write_text(text, encoding="utf-8")
    return path


def faults(folder: Path, text: str) -> list[Problem]:
    with pytest.raises(BadRequest) as failure:
        load_catalogue(write(folder, text))
    return list(failure.value.problems)


def test_like_another(tmp_path: Path) -> None:
    own = load_catalogue(write(tmp_path, GOOD))
    crop, parent = own.crop("Winter density"), own.crop("cos-lettuce")
    assert crop.spacing.in_row == 0.2
    assert crop.spacing.row == parent.spacing.row
    assert crop.sources["spacing.in_row"] == "own record"
    assert crop.anchors[0].days == 66.0
    assert len(crop.anchors) == 1
    assert crop.aliases == ()
    assert own.crop("romaine") == parent
    assert own.crops[:-1] == load_catalogue().crops


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    assert load_catalogue(write(tmp_path, "\ufeff" + GOOD)).crop("Winter density").spacing.in_row == 0.2


def test_an_own_anchor_waits_to_be_solved(tmp_path: Path) -> None:
    own = load_catalogue(write(tmp_path, GOOD))
    assert own.unsolved == {"winter-density"}
    solved = own.with_thermal_times({"winter-density": 480.0})
    assert solved.crop("winter-density").thermal_time == 480.0
    assert not solved.unsolved


def test_the_packaged_catalogue_is_untouched(tmp_path: Path) -> None:
    before = load_catalogue()
    load_catalogue(write(tmp_path, GOOD))
    assert load_catalogue() is before


@pytest.mark.parametrize(
    ("old", "new", "field", "line", "said"),
    [
        ("value = 0.2,", "value = 20.0,", "winter-density.spacing.in_row.value", 7, "above what can be (2)"),
        (', source = "own record" }', " }", "winter-density.spacing.in_row.source", 7, "missing"),
        ('{ value = 0.2, source = "own record" }', "0.2", "winter-density.spacing.in_row", 7, "no source"),
        ("in_row", "inrow", "winter-density.spacing.inrow", 7, "not a word"),
        ('"own record" }', '"harington1954" }', "winter-density.spacing.in_row.source", 7, "harrington1954"),
        ("days = 66", "days = 6", "winter-density.anchors.0.days", 15, "below what can be (10)"),
        ("days = 66\n", "", "winter-density.anchors.0.days", 9, "missing"),
        ('way = "direct"', 'way = "planted"', "winter-density.anchors.0.way", 17, "not a way of this crop"),
        ('cover = "open"', 'cover = "shed"', "winter-density.anchors.0.cover", 16, "'shed'"),
        ('like = "cos lettuce"', 'like = "cosy lettuce"', "winter-density.like", 3, "cos lettuce"),
        ('name = "Winter Density"\n', "", "winter-density.name", 2, "missing"),
        ("winter-density", "radish", "radish", 2, "already"),
    ],
)  # fmt: skip
def test_each_fault_with_its_line(
    tmp_path: Path, old: str, new: str, field: str, line: int, said: str
) -> None:
    problems = faults(tmp_path, GOOD.replace(old, new))
    hit = [problem for problem in problems if problem.field == field]
    assert hit, [str(problem) for problem in problems]
    assert (hit[0].file, hit[0].line) == ("crops.toml", line)
    assert said in str(hit[0])


def test_several_faults_travel_together(tmp_path: Path) -> None:
    text = GOOD.replace("value = 0.2,", "value = 20.0,").replace("days = 66", "days = 6")
    assert len(faults(tmp_path, text)) == 2


def test_contradictions(tmp_path: Path) -> None:
    text = GOOD + '\n[winter-density.development]\nbase = { value = 15.9, source = "own record" }\n'
    text += 'optimum = { value = 15.0, source = "own record" }\n'
    assert "rising order" in str(faults(tmp_path, text)[0])
    text = GOOD + '\n[winter-density.harvest]\nprofile = "cut"\n'
    assert {problem.field for problem in faults(tmp_path, text)} == {
        "winter-density.harvest.cuts", "winter-density.harvest.regrowth",
    }  # fmt: skip


def test_a_crop_like_no_other(tmp_path: Path) -> None:
    text = (
        dict(packaged_files())["poaceae.toml"]
        .replace("sweetcorn", "flint-corn")
        .replace("Sweetcorn", "Flint")
    )
    own = load_catalogue(write(tmp_path, text))
    assert own.unsolved == {"flint-corn"}
    assert isnan(own.crop("flint corn").thermal_time)
    assert own.crop("flint corn").family == "Poaceae"


def test_the_example_of_the_docs(tmp_path: Path) -> None:
    page = Path(__file__).resolve().parents[2] / "docs" / "formats" / "crops-toml.md"
    example = re.findall(r"```toml\n(.*?)```", page.read_text(encoding="utf-8"), re.DOTALL)[-1]
    assert load_catalogue(write(tmp_path, example)).crop("winter density").anchors[0].days == 66.0


JUNK = (
    "5",
    '"x"',
    "[]",
    "{}",
    "true",
    "nan",
    "inf",
    "-1",
    "1979-05-27",
    "[{ value = 1.0 }]",
    '{ value = nan, source = "memory" }',
)


@pytest.mark.parametrize("junk", JUNK)
@pytest.mark.parametrize("line", [line for line in GOOD.splitlines() if " = " in line])
def test_junk_is_refused_never_crashes(tmp_path: Path, line: str, junk: str) -> None:
    key = line.split(" = ")[0]
    text = GOOD.replace(line, f"{key} = {junk}")
    allowed = {("day", "5"), ("month", "5"), ("lat", "5"), ("lat", "-1"), ("lon", "5"), ("lon", "-1"),
               ("name", '"x"'), ("place", '"x"')}  # fmt: skip
    if (key, junk) in allowed:
        assert load_catalogue(write(tmp_path, text)).unsolved
    else:
        assert all(problem.line for problem in faults(tmp_path, text))


def test_no_such_day_and_a_stray_word(tmp_path: Path) -> None:
    text = GOOD.replace("month = 5", "month = 2").replace("day = 3", "day = 30")
    assert "no such day" in str(faults(tmp_path, text)[0])
    assert faults(tmp_path, "famly = 'Poaceae'\n" + GOOD)[0].line == 1


def test_not_toml_and_not_there(tmp_path: Path) -> None:
    assert "not TOML" in str(faults(tmp_path, "[a\n")[0])
    with pytest.raises(BadRequest, match="can't be read"):
        load_catalogue(tmp_path / "none.toml")
