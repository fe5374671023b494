"""What has no room in a farm's beds is not counted on (beds.md, 9). Invented farms, real weather."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from full_at_first import FullAtFirst

from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.service import fitted as module
from evenpick.service import ground as ground_module
from evenpick.service.cooperative import ground_by_farm, plan_cooperative, save_cooperative
from evenpick.service.cooperative_answer import CooperativeAnswer
from evenpick.service.ground import ToLay, laid
from evenpick.service.ground_answer import GroundAnswer
from evenpick.service.lain import NOWHERE, Lain

COOPERATIVE = """
[cooperative]
name = "Two Rivers"
[plan]
years = 3
[[farm]]
name = "near"
garden = "near.toml"
[[farm]]
name = "far"
garden = "far.toml"
[[outlet]]
name = "boxes"
kind = "boxes"
shares = 4
"""
WISHES = """
[[wish]]
item = "radish"
each_week = "150 g"
from = "05-01"
until = "08-31"
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
each_week = "150 g"
from = "05-20"
until = "09-30"
"""
FARM = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "beds"
cover = "open"
area = "AREA"
"""
DAY = date(2027, 4, 1)


def farms(folder: Path, near: str, far: str) -> Path:
    for name, area in (("near", near), ("far", far)):
        text = f'cooperative = "coop.toml"\n{FARM.replace("AREA", area)}'
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    (folder / "coop.toml").write_text(COOPERATIVE + WISHES, encoding="utf-8")
    return folder / "coop.toml"


def test_no_farm_counts_on_what_has_no_room_in_its_beds(tmp_path: Path) -> None:
    """Near there are beds of half a metre alone."""
    file = farms(tmp_path, "24 x 0.4 m x 0.5 m", "12 m2")
    answer = plan_cooperative(file, DAY, stop=lambda: True)  # as on any machine, however busy
    save_cooperative(file, answer)
    for farm, found in zip(answer.farms, ground_by_farm(file), strict=True):
        assert found.answer is not None
        assert found.answer.no_room == (), farm.name
        assert all(one.beds for one in farm.plan.sowings), farm.name


def test_what_is_left_out_is_told_of_its_farm_and_not_picked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of a layout of the near farm that has no room for its first lettuce."""
    file = farms(tmp_path, "12 m2", "12 m2")
    before = plan_cooperative(file, DAY, stop=lambda: True)  # as on any machine, however busy
    near = before.farms[0].plan
    gone = next(one for one in near.sowings if one.item == "lettuce")
    full = FullAtFirst(lambda plan: [(gone, 1.0)])
    monkeypatch.setattr(module, "laid", full)
    after = plan_cooperative(file, DAY, stop=lambda: True)  # as on any machine, however busy
    assert [garden.farm for garden in full.gardens[:2]] == ["near", "far"]
    assert gone.id not in {one.id for one in after.farms[0].plan.sowings}
    assert after.farms[1].plan.sowings == before.farms[1].plan.sowings
    assert picked(after, "lettuce") < picked(before, "lettuce")
    assert picked(after, "radish") == picked(before, "radish")
    assert after.plan.bare > before.plan.bare
    assert after.cannot[0].startswith("The beds of near are too small or too full")
    assert "Leaf lettuce (1 sowing)" in after.cannot[0]
    assert not any("too small or too full" in line for line in before.cannot)


def test_beds_that_hold_all_are_laid_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nor again when the farm's plan is told, in the beds found."""
    asked: list[str] = []

    def count(garden: Garden, plan: ToLay, record: Record, lain: Lain = NOWHERE) -> GroundAnswer:
        asked.append(garden.farm)
        return laid(garden, plan, record, lain)

    monkeypatch.setattr(module, "laid", count)
    monkeypatch.setattr(ground_module, "laid", count)
    file = farms(tmp_path, "24 x 0.4 m x 0.5 m", "12 m2")
    answer = plan_cooperative(file, DAY, stop=lambda: True)
    assert asked.count("far") == 1  # one wide bed that holds it all
    save_cooperative(file, answer)
    for farm, found in zip(answer.farms, ground_by_farm(file), strict=True):
        assert found.answer is not None
        lying = {(span.sowing, bed.name) for bed in found.answer.beds for span in bed.spans}
        assert {(one.id, bed) for one in farm.plan.sowings for bed in one.beds} == lying


def picked(answer: CooperativeAnswer, item: str) -> float:
    return sum(week.wanted - week.bare for one in answer.pickings if one.item == item for week in one.weeks)
