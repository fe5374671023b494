"""`evenpick trial` from the layout to the verdict, as a grower would go."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from evenpick.cli.trial import trial

Run = Callable[..., tuple[int, str, str]]
DOCS = (Path(__file__).resolve().parents[2] / "docs" / "interface.md").read_text(encoding="utf-8")
LAY = ("trial", "lay", "Leeks 2027", "--variety", "Musselburgh", "--variety", "Oarsman", "--variety", "Bleu")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def leeks(run: Run, here: Path) -> Path:
    """An invented trial, laid and filled in: Oarsman gives two kilos more, the others are alike."""
    assert run(*LAY, "--blocks", "4", "--measure", "weight_kg")[0] == 0
    path = here / "leeks-2027.csv"
    gives = {"Oarsman": 5.0, "Musselburgh": 3.0, "Bleu": 3.1}
    wobble = iter([0.1, -0.2, 0.05, 0.2, -0.1, 0.0, -0.15, 0.1, 0.15, -0.05, 0.0, 0.1])
    lines = []
    for line in path.read_text(encoding="utf-8").splitlines():
        cells = line.split(",")
        if cells[0].isdigit():
            cells[6] = f"{gives[cells[5]] + int(cells[1]) / 2 + next(wobble):.2f}"
        lines.append(",".join(cells))
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


@pytest.mark.parametrize("part", trial.commands)
def test_every_option_is_told(part: str) -> None:
    assert f"`trial {part}" in DOCS
    for parameter in trial.commands[part].params:
        for option in parameter.opts:
            assert f"{option} " in DOCS or f"{option}`" in DOCS or option == parameter.name


def test_size(run: Run, here: Path) -> None:
    code, out, _ = run("trial", "size", "--varieties", "2", "--difference", "25 %", "--bed", "long=16 m")
    assert code == 0
    assert "It takes 13 blocks of 2 plots" in out
    assert "long (16 m) 3" in out
    imperial = run("trial", "size", "--varieties", "2", "--units", "imperial", "--plot", "6 ft")[1]
    assert "(6.0 ft each)" in imperial


def test_laid_plan_and_sheet(run: Run, here: Path) -> None:
    code, out, _ = run(*LAY, "--bed", "north=8 m", "--bed", "south=12 m", "--plot", "1.5 m", "--seed", "3")
    assert code == 0
    assert re.search(r"1 +0.5 m +\| [ABC] \| [ABC] \| [ABC] \| +1-3", out)
    assert "A is Musselburgh" in out
    again = run(*LAY, "--blocks", "3")
    assert again[0] == 2
    assert "there already" in again[2]


def test_a_sheet_gets_columns_and_keeps_what_it_has(run: Run, leeks: Path) -> None:
    before = json.loads(run("trial", "sheet", str(leeks), "--json")[1])
    after = json.loads(run("trial", "sheet", str(leeks), "--measure", "taste_anna", "--json")[1])
    assert [plot["values"]["weight_kg"] for plot in after["plots"]] == [
        plot["values"]["weight_kg"] for plot in before["plots"]
    ]
    assert all(plot["values"]["taste_anna"] is None for plot in after["plots"])
    assert not list(leeks.parent.glob("*.new"))
    kept = leeks.read_bytes()
    assert run("trial", "sheet", str(leeks), "--measure", "nonsense")[0] == 2
    assert leeks.read_bytes() == kept


def test_judged(run: Run, leeks: Path) -> None:
    code, out, _ = run("trial", "judge", str(leeks))
    assert code == 0
    assert "Oarsman gave the most." in out
    assert "Can't be told apart: Musselburgh and Bleu." in out
    assert " lb" in run("trial", "judge", str(leeks), "--units", "imperial")[1]
    assert (
        "Can't be told from Bleu: Musselburgh." in run("trial", "judge", str(leeks), "--standard", "bleu")[1]
    )
    assert re.search(r"by \d+ %: \d+ % to \d+ %", run("trial", "judge", str(leeks), "--ratios")[1])


def test_json_is_strict_and_told(run: Run, leeks: Path) -> None:
    written = set(re.findall(r"`([a-z_0-9]+)`", DOCS))
    for typed in (
        ("judge", str(leeks)),
        ("sheet", str(leeks)),
        ("size", "--varieties", "3", "--bed", "x=20 m"),
    ):
        shape = json.loads(run("trial", *typed, "--json")[1], parse_constant=lambda name: pytest.fail(name))
        assert set(keys(shape)) - {"weight_kg"} <= written
    shape = json.loads(run(*LAY, "--blocks", "2", "--to", "other.csv", "--json")[1])
    assert set(keys(shape)) <= written


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (("judge", "none.csv"), "can't be read"),
        (("lay", "x", "--variety", "A", "--variety", "B"), "neither the number of blocks nor a bed"),
        (("lay", "x", "--variety", "A", "--variety", "B", "--bed", "n=10"), "no unit of length"),
        (
            ("lay", "x", "--variety", "A", "--variety", "B", "--blocks", "3", "--guard", "-1 m"),
            "can't be meant",
        ),
        (("size", "--varieties", "3", "--difference", "20"), "not a percentage"),
        (("size", "--varieties", "3", "--variation", "0 %"), "too little"),
        (("lay", " ", "--variety", "A", "--variety", "B", "--blocks", "3"), "a name is empty"),
        (
            ("lay", "x", "--variety", "A", "--variety", "B", "--blocks", "3", "--measure", "kg"),
            "does not say what",
        ),
    ],
)
def test_what_is_wrong_is_told_in_a_line(run: Run, here: Path, typed: tuple[str, ...], said: str) -> None:
    code, out, err = run("trial", *typed)
    assert (code, out) == (2, "")
    assert said in err
    assert not list(here.glob("*.csv"))


def test_an_empty_sheet_is_told(run: Run, here: Path) -> None:
    assert run(*LAY, "--blocks", "2", "--measure", "weight_kg")[0] == 0
    assert "nothing is recorded" in run("trial", "judge", "leeks-2027.csv")[2]


@pytest.fixture
def book(leeks: Path) -> Path:
    """An invented garden beside the trial."""
    text = (
        '[site]\nat = "51.5, -1.25"\n[[ground]]\nname = "bed"\ncover = "open"\narea = "20 m²"\n'
        '[[wish]]\nitem = "leeks"\neach_week = "2 portions"\n'
    )
    (leeks.parent / "garden.toml").write_text(text, encoding="utf-8")
    return leeks.parent


def test_t26_a_sheet_goes_into_the_book_and_comes_out_the_same(run: Run, leeks: Path, book: Path) -> None:
    lost = leeks.read_text(encoding="utf-8").splitlines()
    cells = lost[-1].split(",")
    lost[-1] = ",".join([*cells[:6], "", "slugs, at night".replace(",", ";"), ""])
    leeks.write_text("\n".join(lost), encoding="utf-8")
    first = json.loads(run("trial", "keep", str(leeks), "--json")[1])
    assert (first["new"], first["corrected"], first["trial"]["recorded"]) == (12, 0, 12)
    again = json.loads(run("trial", "keep", str(leeks), "--json")[1])
    assert (again["new"], again["corrected"], again["trial"]["recorded"]) == (0, 0, 12)
    assert run("trial", "kept", "--out", "leeks 2027", "--to", "out.csv")[0] == 0
    assert run("trial", "judge", "out.csv")[1] == run("trial", "judge", str(leeks))[1]
    assert "Leeks 2027" in run("trial", "kept")[1]
    written = set(re.findall(r"`([a-z_0-9]+)`", DOCS))
    assert set(keys(again)) | set(keys(json.loads(run("trial", "kept", "--json")[1]))) <= written


def test_t26_a_changed_figure_is_a_correction_and_t27_a_blank_takes_nothing_out(
    run: Run, leeks: Path, book: Path
) -> None:
    assert run("trial", "keep", str(leeks))[0] == 0
    for figure in ("9.99", "8.88"):
        lines = leeks.read_text(encoding="utf-8").splitlines()
        lines[-1] = ",".join([*lines[-1].split(",")[:6], figure, "", ""])
        leeks.write_text("\n".join(lines), encoding="utf-8")
        taken = json.loads(run("trial", "keep", str(leeks), "--json")[1])
        assert (taken["new"], taken["corrected"]) == (0, 1)
    lines[-1] = ",".join([*lines[-1].split(",")[:6], "", "", ""])
    leeks.write_text("\n".join(lines), encoding="utf-8")
    assert json.loads(run("trial", "keep", str(leeks), "--json")[1])["corrected"] == 0
    assert run("trial", "kept", "--out", "Leeks 2027", "--to", "out.csv")[0] == 0
    assert Path("out.csv").read_text(encoding="utf-8").rstrip().endswith(",8.88,,")
    lines[-1] = ",".join([*lines[-1].split(",")[:6], "", "slugs", ""])
    leeks.write_text("\n".join(lines), encoding="utf-8")
    code, _, err = run("trial", "keep", str(leeks))
    assert code == 2
    assert "lost on one side" in err


def test_no_book_is_begun_where_there_is_no_garden(run: Run, leeks: Path) -> None:
    for typed in (("keep", str(leeks)), ("kept",)):
        assert run("trial", *typed)[0] == 2
    assert [path.name for path in leeks.parent.iterdir()] == [leeks.name]


def test_the_book_refuses_two_trials_of_one_name(run: Run, leeks: Path, book: Path) -> None:
    assert run("trial", "keep", str(leeks))[0] == 0
    assert run(*LAY, "--blocks", "5", "--to", "other.csv")[0] == 0
    assert "with other plots" in run("trial", "keep", "other.csv")[2]
    assert "no trial 'beans'" in run("trial", "kept", "--out", "beans")[2]


def keys(shape: Any) -> Iterator[str]:
    if isinstance(shape, dict):
        for key, value in shape.items():
            yield key
            yield from keys(value)
    elif isinstance(shape, list):
        for value in shape:
            yield from keys(value)
