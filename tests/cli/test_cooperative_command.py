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
from evenpick.report.terminal import render
from evenpick.service import cooperative as service
from evenpick.service.cooperative import save_cooperative

Run = Callable[..., tuple[int, str, str]]
@pytest.fixture
def coop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return written(tmp_path)


ON = str(invented.PLAN.begins)


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
        assert "farm's own file" in said


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
