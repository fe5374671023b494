"""The books of a cooperative's farms looked through together, and what all farms are told of their plan.
Invented farms; real weather of Dublin Airport."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest
from test_cooperative import COOPERATIVE, DAY, HILL, VALLEY, WISHES

from evenpick.base.errors import BadBook, BadRequest
from evenpick.cli.main import main
from evenpick.garden.diary import Sowed
from evenpick.report.book import check_page
from evenpick.report.book_json import check_shape
from evenpick.report.cooperative import cooperative_plan_page
from evenpick.report.cooperative_json import cooperative_plan_shape
from evenpick.report.terminal import render
from evenpick.report.words import Words
from evenpick.service.beaten import beaten
from evenpick.service.book import write
from evenpick.service.check import Checked, NotBegun, check
from evenpick.service.cooperative import plan_cooperative
from evenpick.service.exchange import export_garden, import_garden
from evenpick.service.pickings_answer import Measured
from evenpick.service.plan_answer import GroundUse
from evenpick.service.workbook import read_in, write_workbook
from evenpick.store.book import Book, book_path
from spoilt import spoil

BRITISH = Words("british", "metric", {}, {})


@pytest.fixture
def coop(tmp_path: Path) -> Path:
    (tmp_path / "valley").mkdir()
    valley = f'cooperative = "../coop.toml"\n{VALLEY}'
    (tmp_path / "valley" / "garden.toml").write_text(valley, encoding="utf-8")
    (tmp_path / "hill.toml").write_text(f'cooperative = "coop.toml"\n{HILL}', encoding="utf-8")
    (tmp_path / "coop.toml").write_text(COOPERATIVE + WISHES, encoding="utf-8")
    write(tmp_path / "hill.toml", [(date(2027, 3, 6), Sowed("radish", "direct", "open", 2.0), "")])
    return tmp_path / "coop.toml"


def test_the_farms_books_are_looked_through_with_the_cooperatives(
    coop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A damaged book of a farm was found by nobody who asked of the cooperative."""
    valley, hill = check(coop).farms
    assert (valley.name, valley.file, hill.file) == ("valley", "valley/garden.toml", "hill.toml")
    assert isinstance(valley.answer, NotBegun)
    assert isinstance(hill.answer, Checked)
    assert hill.answer.entries == 2  # the sowing, and the set-up
    assert hill.answer.kept is not None
    assert valley.whole
    assert hill.whole
    assert check(coop.parent / "hill.toml").farms == ()
    spoil(coop.parent / "hill.book", 2, 3)
    _, hill = check(coop).farms
    assert not hill.whole
    monkeypatch.chdir(coop.parent)
    page = " ".join(render(check_page(check(Path(coop.name)))).split())
    assert "The book is damaged." in page
    assert "evenpick check --garden hill.toml --rescue" in page
    assert check_shape(check(coop))["farms"][1]["whole"] is False


def test_one_farm_at_fault_hides_nothing_of_the_others(coop: Path) -> None:
    (coop.parent / "valley" / "garden.toml").write_text("[site\n", encoding="utf-8")
    Book(book_path(coop)).add((), {"seen": "x"})
    valley, hill = check(coop).farms
    assert valley.answer is None
    assert "garden.toml" in valley.problem
    assert hill.whole


def test_a_farms_file_that_is_not_there_hides_nothing_of_the_others(coop: Path) -> None:
    """Of all the books it told that one file was not there; the farm's own book may be whole."""
    Book(book_path(coop)).add((), {"seen": "x"})
    (coop.parent / "valley" / "garden.toml").unlink()
    valley, hill = check(coop).farms
    assert (valley.answer, valley.problem) == (None, "There is no garden file of that name.")
    assert hill.whole
    (coop.parent / "hill.toml").unlink()
    _, hill = check(coop).farms
    assert isinstance(hill.answer, Checked)
    assert hill.answer.entries == 2
    assert not hill.whole
    page = " ".join(render(check_page(check(coop))).split())
    assert "There is no garden file of that name. The book is whole" in page


def test_a_damaged_book_says_at_which_farm_it_is_mended(coop: Path) -> None:
    """It named a command that mends another garden's book, or none."""
    spoil(coop.parent / "hill.book", 2, 3)
    with pytest.raises(BadBook) as refused:
        Book(coop.parent / "hill.book").entries()
    assert f"evenpick check --garden {coop.parent / 'hill.toml'} --rescue" in str(refused.value)


def test_a_damaged_farm_is_an_exit_code(coop: Path) -> None:
    def left() -> object:
        with pytest.raises(SystemExit) as gone:
            main(["check", "--garden", str(coop)])
        return gone.value.code

    assert left() == 0
    spoil(coop.parent / "hill.book", 2, 3)
    assert left() == 2


def test_a_farms_diary_is_not_brought_into_the_cooperatives_book(coop: Path) -> None:
    """It was, with the farm's set-up, and the farm knew nothing of it."""
    with pytest.raises(BadRequest, match="keeps no diary"):
        import_garden(coop, coop.parent / "hill.book")
    assert not coop.with_suffix(".book").exists()


def test_a_joint_plan_that_the_rule_beats_says_so_for_all_farms(
    coop: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []

    def told(worth: float, plan: Measured, rule: Measured, ground: Sequence[GroundUse], shared: bool) -> str:
        asked.append((worth, len(ground), shared))
        return "The rule is better."

    monkeypatch.setattr("evenpick.service.cooperative.beaten", told)
    answer = plan_cooperative(coop, DAY, stop=lambda: True)
    assert asked == [(2.0, sum(len(farm.plan.ground) for farm in answer.farms), True)]
    page = render(cooperative_plan_page(answer, {farm.name: () for farm in answer.farms}, BRITISH))
    assert page.count("The rule is better.") == 1
    shape = cooperative_plan_shape(answer, BRITISH)
    assert shape["notes"][0] == "The rule is better."
    assert all("The rule is better." not in farm["notes"] for farm in shape["farms"])


def test_what_would_mend_it_stands_in_the_farms_files() -> None:
    ours, rule = Measured(0.27, 0.17, 30.0, 0.39), Measured(0.12, 0.42, 14.0, 0.21)
    free = [GroundUse("open", 36.0, (2.0, 6.2))]
    assert beaten(2.0, ours, rule, free, shared=True).endswith("It stands in each farm's own file.")
    assert "own file" not in beaten(2.0, ours, rule, free)


@pytest.mark.parametrize("form", ["book", "json", "csv", "xlsx"])
def test_the_diary_of_another_farm_is_not_taken_for_a_copy(coop: Path, tmp_path: Path, form: str) -> None:
    """hill.book brought in at the valley put both farms' sowings into one diary."""
    hill, valley = tmp_path / "hill.toml", tmp_path / "valley" / "garden.toml"
    write(valley, [(date(2027, 3, 6), Sowed("beetroot", "direct", "open", 2.0), "")])
    folder = tmp_path / "out"
    if form == "xlsx":
        copy = write_workbook(hill, tmp_path / "hill.xlsx")
    elif form == "book":
        copy = tmp_path / "copied.book"
        copy.write_bytes(book_path(hill).read_bytes())
    else:
        export_garden(hill, folder)
        copy = folder / ("hill.json" if form == "json" else "hill-diary.csv")
    bring = read_in if form == "xlsx" else import_garden
    before = Book(book_path(valley)).entries(), valley.read_bytes()
    with pytest.raises(BadRequest, match="hill, another farm of the cooperative") as told:
        bring(valley, copy)
    assert f"--garden {hill}" in str(told.value)
    assert (Book(book_path(valley)).entries(), valley.read_bytes()) == before
    bring(hill, copy)
