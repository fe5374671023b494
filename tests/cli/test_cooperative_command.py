"""plan, today, pickings and ground asked of a cooperative. Invented farms and plans."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import invented
import pytest
from invented_farms import answer_of, written

from evenpick.climate.origin import ANOTHERS
from evenpick.report.cooperative import cooperative_plan_page
from evenpick.report.cooperative_json import cooperative_plan_shape
from evenpick.report.sheets import week_page
from evenpick.report.terminal import render
from evenpick.report.words import Words
from evenpick.service import cooperative as service
from evenpick.service.cooperative import save_cooperative
from evenpick.service.kept_together import kept_cooperative
from evenpick.service.today import today
from spoilt import PAGE, spoil

BRITISH = Words("british", "metric", {}, {})
Run = Callable[..., tuple[int, str, str]]
@pytest.fixture
def coop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return written(tmp_path)


ON = str(invented.PLAN.begins)
SOWN = str(min(sowing.sow for sowing in invented.PLAN.sowings))


@pytest.mark.parametrize("command", ["today", "pickings", "ground"])
def test_without_a_plan_each_says_how_to_make_one(coop: Path, run: Run, command: str) -> None:
    code, _, said = run(command, "--garden", "coop.toml", "--on", ON)
    assert code == 2
    assert "evenpick plan --garden coop.toml" in said


@pytest.mark.parametrize("command", ["today", "pickings", "ground"])
def test_each_answers_for_all_farms(coop: Path, run: Run, command: str) -> None:
    save_cooperative(coop, answer_of(coop))
    code, page, _ = run(command, "--garden", "coop.toml", "--on", ON)
    assert code == 0
    assert "Two Rivers" in page
    if command != "pickings":
        assert "Its file: valley.toml" in page
        assert "Its file: hill.toml" in page
    code, text, _ = run(command, "--garden", "coop.toml", "--on", ON, "--json")
    shape: dict[str, Any] = json.loads(text)
    assert shape["cooperative"] == "Two Rivers"
    assert [farm["name"] for farm in shape["farms"]] == ["valley", "hill"]


@pytest.mark.parametrize("command", ["today", "ground", "pickings"])
def test_a_damaged_book_hides_nothing_of_the_other_farms(coop: Path, run: Run, command: str) -> None:
    """today, ground and pickings of all farms failed whole on one farm's book."""
    save_cooperative(coop, answer_of(coop))
    spoil(coop.parent / "hill.book", 2, 3)
    code, page, _ = run(command, "--garden", "coop.toml", "--on", ON)
    said = " ".join(page.split())
    assert code == (0 if command == "pickings" else 2)
    assert "evenpick check --garden hill.toml --rescue" in said
    if command == "pickings":
        assert "What it lost or did not sow is not known, and all that it planned is told." in said
        assert "THE YEAR" in page
    else:
        valley, hill = page.split("\nHILL\n")
        assert len(valley) > 500 > len(hill)


@pytest.mark.parametrize(("typed", "names"), [
    (("print", "week"), ["week-valley.pdf", "week-hill.pdf"]),
    (("print", "year"), ["year-valley.pdf", "year-hill.pdf"]),
    (("print", "labels"), ["labels-valley.pdf", "labels-hill.pdf"]),
    (("calendar",), ["valley.ics", "hill.ics"]),
], ids=["week", "year", "labels", "calendar"])
def test_each_farm_has_a_sheet_and_a_calendar_of_its_own(
    coop: Path, run: Run, typed: tuple[str, ...], names: list[str]
) -> None:
    """It said that this is the file of a cooperative."""
    save_cooperative(coop, answer_of(coop))
    code, page, _ = run(*typed, "--garden", "coop.toml", "--on", ON)
    assert code == 0
    written = [coop.parent / f"evenpick-{name}" for name in names]
    assert [line.split(" is written")[0] for line in page.splitlines()] == [file.name for file in written]
    assert all(file.read_bytes()[:4] in (b"%PDF", b"BEGI") for file in written)
    book = coop.parent / "hill.book"
    spoil(book, *range(2, book.stat().st_size // PAGE + 1))  # labels look at few of its pages
    for file in written:
        file.unlink()
    code, page, said = run(*typed, "--garden", "coop.toml", "--on", ON)
    assert code == 2
    assert [file.is_file() for file in written] == [True, False]
    assert said.startswith("hill: ")
    assert "evenpick check --garden hill.toml --rescue" in said


def test_a_farms_sheet_is_written_over_no_file_of_another_kind(coop: Path, run: Run) -> None:
    save_cooperative(coop, answer_of(coop))
    (coop.parent / "evenpick-year-hill.pdf").write_text("mine", encoding="utf-8")
    code, page, said = run("print", "year", "--garden", "coop.toml", "--on", ON)
    assert (code, page) == (2, "")
    assert "a file of another kind is there" in said
    assert not (coop.parent / "evenpick-year-valley.pdf").exists()


def test_a_plan_that_cannot_be_kept_is_shown_before_it_is_told(
    coop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*asked: Any) -> Path:
        raise PermissionError(13, "Permission denied", "coop.book")

    monkeypatch.setattr(service, "plan_cooperative", lambda *asked: answer_of(coop))
    monkeypatch.setattr(service, "save_cooperative", refuse)
    code, page, said = run("plan", "--garden", "coop.toml", "--on", ON)
    assert code == 2
    assert "VALLEY: THIS WEEK" in page
    assert said.splitlines()[-1].startswith("evenpick: coop.book: this file or folder can't be")


def test_how_to_answer_names_the_farms_file(coop: Path, run: Run) -> None:
    save_cooperative(coop, answer_of(coop))
    days = {sowing.sow for sowing in invented.PLAN.sowings}
    _, page, _ = run("today", "--garden", "coop.toml", "--on", str(min(days)))
    assert "evenpick today --garden hill.toml" in " ".join(page.split())


def test_jobs_and_beds_are_asked_of_a_farm(coop: Path, run: Run) -> None:
    for question in (("today", "--done", "ab12"), ("ground", "--bed", "bed")):
        code, _, said = run(*question, "--garden", "coop.toml", "--on", ON)
        assert code == 2
        assert "Type the same with --garden valley.toml or --garden hill.toml." in said


def test_the_plan_page_has_every_farm_and_the_whole_once(coop: Path) -> None:
    answer = answer_of(coop)
    jobs = {"valley": invented.TODAY.jobs, "hill": ()}
    page = render(cooperative_plan_page(answer, jobs, invented.BRITISH))
    assert page.count("HOW GOOD IT IS") == 1
    assert "VALLEY: THIS WEEK" in page
    assert "HILL: THIS WEEK" in page
    assert "They go together." in page
    for heading in ("SOWINGS OF 2027", "SEED", "GROUND", "NOTES"):  # whose they are stands in each
        assert page.count(f"VALLEY: {heading}") == page.count(f"HILL: {heading}"), heading
        assert page.splitlines().count(heading) == (heading == "NOTES"), heading
    assert "HILL\nFarm at " in page


def test_what_was_done_to_anothers_record_is_told_of_that_farm(coop: Path) -> None:
    answer = answer_of(coop)
    valley, hill = answer.farms
    own = replace(valley.plan.climate, notes=("its wind is not used",))
    moved = replace(own, source=ANOTHERS, notes=(*own.notes, "it was moved"))
    valley, hill = (replace(farm, plan=replace(farm.plan, climate=climate))
                    for farm, climate in ((valley, own), (hill, moved)))
    page = render(cooperative_plan_page(
        replace(answer, farms=(valley, hill)), {"valley": (), "hill": ()}, invented.BRITISH))
    assert page.count("Its wind is not used") == 1
    assert "It was moved" in page


def test_the_shape_has_every_farm(coop: Path) -> None:
    answer = answer_of(coop)
    shape = cooperative_plan_shape(answer, invented.BRITISH)
    assert [farm["name"] for farm in shape["farms"]] == ["valley", "hill"]
    assert shape["farms"][0]["sowings"]
    assert "unseen" not in shape["farms"][0]
    assert date.fromisoformat(str(shape["begins"])) == answer.begins


TUNNEL = '[[ground]]\nname = "tunnel"\ncover = "tunnel"\narea = "9 m²"\n[site]'


def changed(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


@pytest.mark.parametrize("change", ["a farm's ground", "a wish", "one left", "one joined"])
def test_a_plan_older_than_the_files_is_told_by_and_said_to_be_older(
    coop: Path, run: Run, change: str
) -> None:
    """A changed file of one farm left all farms without their day until the plan was made again."""
    save_cooperative(coop, answer_of(coop))
    if change == "a farm's ground":
        changed(coop.parent / "hill.toml", "[site]", TUNNEL)
    elif change == "a wish":
        changed(coop, "2 portions", "3 portions")
    elif change == "one left":
        changed(coop, '[[farm]]\nname = "hill"\ngarden = "hill.toml"\n', "")
    else:
        (coop.parent / "east.toml").write_bytes((coop.parent / "hill.toml").read_bytes())
        changed(coop, "[[wish]]", '[[farm]]\nname = "east"\ngarden = "east.toml"\n[[wish]]')
    code, page, _ = run("today", "--garden", "coop.toml", "--on", SOWN)
    said = " ".join(page.split())
    assert code == (2 if change == "one joined" else 0)
    assert "changed since its plan was made" in said.split(" VALLEY ")[0]
    assert "evenpick plan --garden coop.toml --mend" in said.split(" VALLEY ")[0]
    assert page.count("TO DO\njob ") == (1 if change == "one left" else 2)
    assert ("The garden file was changed" in said) == (change == "a farm's ground")
    assert said.count("A file of the cooperative was changed") == 1
    assert ("EAST Its file: east.toml east.toml: there is no plan" in said) == (change == "one joined")
    note = json.loads(run("today", "--garden", "coop.toml", "--on", SOWN, "--json")[1])["note"]
    assert "changed" in note
    assert "evenpick" not in note


@pytest.mark.parametrize("typed", [("today",), ("pickings",), ("calendar",)], ids=lambda typed: typed[0])
@pytest.mark.parametrize("garden", ["coop.toml", "valley.toml"])
def test_everything_that_goes_by_an_older_plan_says_so(
    coop: Path, run: Run, typed: tuple[str, ...], garden: str
) -> None:
    """A wish was changed: a farm's own day said nothing of it, pickings were refused, and sheets and
    calendars were by the older plan without a word."""
    save_cooperative(coop, answer_of(coop))
    changed(coop, "2 portions", "3 portions")
    code, page, said = run(*typed, "--garden", garden, "--on", SOWN)
    assert code == 0, said
    note = "A file of the cooperative was changed since its plan was made; this is by the older plan."
    assert note in " ".join(page.split())
    if typed == ("calendar",):
        for file in coop.parent.glob("*.ics"):
            text = file.read_bytes().decode().replace("\r\n ", "").replace("\\;", ";")
            assert text.count(note) >= 3  # of the calendar, for two kinds of reader, and in each entry


def test_the_week_on_paper_says_that_it_is_by_an_older_plan(coop: Path) -> None:
    save_cooperative(coop, answer_of(coop))
    changed(coop, "2 portions", "3 portions")
    page = week_page(today(coop.parent / "valley.toml", date.fromisoformat(SOWN)), BRITISH)
    assert "A file of the cooperative was changed" in render(page)


def test_the_older_plans_jobs_can_be_answered(coop: Path, run: Run) -> None:
    save_cooperative(coop, answer_of(coop))
    changed(coop.parent / "hill.toml", "[site]", TUNNEL)
    shape = json.loads(run("today", "--garden", "hill.toml", "--on", SOWN, "--json")[1])
    sow = next(job for job in shape["jobs"] if job["kind"] == "sow")
    code, page, said = run("today", "--garden", "hill.toml", "--on", SOWN, "--done", sow["tag"], "--yes")
    assert code == 0, said
    assert "ANSWERED THIS WEEK" in page


def test_what_is_never_to_be_grown_is_no_job_of_an_older_plan(coop: Path, run: Run) -> None:
    save_cooperative(coop, answer_of(coop))
    before = run("today", "--garden", "hill.toml", "--on", SOWN, "--json")[1]
    crop = next(job["crop"] for job in json.loads(before)["jobs"] if job["kind"] == "sow")
    changed(coop.parent / "hill.toml", 'cooperative = "coop.toml"',
            f'cooperative = "coop.toml"\nnever = ["{crop}"]')
    after = json.loads(run("today", "--garden", "hill.toml", "--on", SOWN, "--json")[1])
    assert [job for job in after["jobs"] if job["crop"] == crop] == []


def test_a_plan_stopped_sooner_does_not_take_the_better_ones_place(
    coop: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One garden's did not; a cooperative's did, and the better plan was gone."""
    made = answer_of(coop)
    farms = tuple(replace(farm, plan=replace(
        farm.plan, made_from=replace(farm.plan.made_from, diary="of both"))) for farm in made.farms)
    better, worse = (replace(made, farms=farms, gap=gap) for gap in (0.01, 0.05))
    save_cooperative(coop, better)
    monkeypatch.setattr(service, "plan_cooperative", lambda *asked: worse)
    _, _, said = run("plan", "--garden", "coop.toml", "--on", ON)
    assert "1.0 % against 5.0 % of this one: it stays" in said
    assert kept_cooperative(coop).gap == 0.01
    other = replace(worse, farms=tuple(replace(farm, plan=replace(
        farm.plan, made_from=replace(farm.plan.made_from, diary="since"))) for farm in farms))
    monkeypatch.setattr(service, "plan_cooperative", lambda *asked: other)
    _, _, said = run("plan", "--garden", "coop.toml", "--on", ON)
    assert "The plan is kept in coop.book" in said
    assert kept_cooperative(coop).gap == 0.05


def test_a_farm_that_left_is_not_sent_to_the_plan_of_the_others(coop: Path, run: Run) -> None:
    """It was told to plan with a file that did not name it, which never plans it."""
    _, _, said = run("plan", "--garden", "hill.toml", "--on", ON)
    assert "planned together with the others of its cooperative. evenpick plan --garden coop.toml" in said
    changed(coop, '[[farm]]\nname = "hill"\ngarden = "hill.toml"\n', "")
    code, _, said = run("plan", "--garden", "hill.toml", "--on", ON)
    assert code == 2
    assert "coop.toml, which does not name it" in said
    assert "take the line 'cooperative' out" in said
