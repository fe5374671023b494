"""What has no room in the beds is not counted on (docs/design/beds.md, 9). Invented gardens, real weather."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from full_at_first import FullAtFirst

from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.service import fitted as module
from evenpick.service.book import record_of
from evenpick.service.ground import ToLay, laid
from evenpick.service.ground_answer import GroundAnswer, NoRoom, lying
from evenpick.service.lain import NOWHERE, Lain, by_sowing
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan
from evenpick.service.setups import garden_of

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
years = 8
[[ground]]
name = "beds"
cover = "open"
area = "BEDS"
[[wish]]
item = "radish"
each_week = "250 g"
from = "05-01"
until = "09-30"
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
each_week = "300 g"
from = "05-01"
until = "10-15"
"""
BEGINS = date(2027, 5, 1)
SEARCHED: Mapping[str, Any] = {"seconds": 4}
FIRST: Mapping[str, Any] = {"stop": lambda: True}  # the first plan, which a busy machine has as an idle one


def planned(path: Path, beds: str, effort: Mapping[str, Any]) -> PlanAnswer:
    path.write_text(TEXT.replace("BEDS", beds), encoding="utf-8")
    return make_plan(path, BEGINS, **effort)


def had(plan: PlanAnswer, item: str) -> float:
    return sum(week.wanted - week.bare for one in plan.pickings if one.item == item for week in one.weeks)


def test_every_sowing_of_a_plan_for_short_beds_has_room(tmp_path: Path) -> None:
    """Beds of a foot square."""
    path = tmp_path / "garden.toml"
    plan = planned(path, "20 x 0.3 m x 0.3 m", SEARCHED)
    assert plan.sowings
    assert all(one.beds for one in plan.sowings)
    assert laid(garden_of(path), plan, record_of(path)).no_room == ()


def test_what_finds_no_room_is_smaller_or_left_out_and_brings_no_more(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of a layout that has no room for the first lettuce, nor for half of the first radish."""
    path = tmp_path / "garden.toml"
    before = planned(path, "12 m2", FIRST)
    radish, lettuce = (next(one for one in before.sowings if one.item == item)
                       for item in ("radish", "lettuce"))
    full = FullAtFirst(lambda plan: ((lettuce, 1.0), (radish, 0.5)))
    monkeypatch.setattr(module, "laid", full)
    after = planned(path, "12 m2", FIRST)
    assert full.plans[0].sowings == tuple(replace(one, beds=()) for one in before.sowings)
    areas = {one.id: one.area_m2 for one in after.sowings}
    assert lettuce.id not in areas
    assert areas[radish.id] == pytest.approx(radish.area_m2 / 2, rel=0.3)
    assert [had(after, item) < had(before, item) for item in ("radish", "lettuce")] == [True, True]
    assert after.plan.bare > before.plan.bare
    assert before.gap is not None
    assert after.gap is not None
    assert after.gap > before.gap
    assert "Radish (1 sowing), Leaf lettuce (1 sowing)" in after.cannot[0]
    why = {each.item: each.because for each in after.given_up}
    assert why["radish"] == {each.item: each.because for each in before.given_up}["radish"]
    assert not any("too small or too full" in said for said in before.cannot)


def test_beds_that_hold_no_whole_number_of_plants_are_counted_on_for_what_they_hold(tmp_path: Path) -> None:
    """Kale, a quarter square metre each, on ten beds of half a square metre, too short for a row of three:
    after each try to sow whole plants less, another bed could not be filled."""
    path = tmp_path / "garden.toml"
    kale = '[[wish]]\nitem = "kale"\neach_week = "3 kg"\nfrom = "11-01"\nuntil = "03-31"\n'
    beds = TEXT[: TEXT.index("[[wish]]")].replace("BEDS", "10 x 1 m x 0.5 m")
    path.write_text(beds + kale, encoding="utf-8")
    plan = make_plan(path, BEGINS, **FIRST)
    assert sum(one.area_m2 for one in plan.sowings) > 3.5
    assert laid(garden_of(path), plan, record_of(path)).no_room == ()


def test_what_has_room_stays_where_it_was_laid_when_something_else_has_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A layout looked for anew had no room for other sowings: of two beds of 5 m² a row of chard was left
    out because a tenth of a square metre of another had been."""
    answers: list[GroundAnswer] = []

    def full(garden: Garden, plan: ToLay, record: Record, lain: Lain = NOWHERE) -> GroundAnswer:
        found = laid(garden, plan, record, lain)
        answers.append(found)
        if len(answers) > 1:
            return found
        first = next(one for one in plan.sowings if one.item == "radish")
        none = NoRoom(first.id, first.number, first.name, first.sow, first.area_m2, "", "")
        return replace(found, no_room=(none,))

    monkeypatch.setattr(module, "laid", full)
    monkeypatch.setattr(module, "FILLS", 0)
    planned(tmp_path / "garden.toml", "2 x 5 m x 1 m", FIRST)
    before, after = (by_sowing(lying(answers[n])) for n in (0, -1))
    assert len(before) > len(after) > 5
    assert all(after[each] == before[each] for each in after)


def test_ground_that_is_left_free_is_used_by_something_else(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two beds of 4 by 13 ft at Tucson lost 3.7 % of the stake to what had no room, a third of it now."""
    full = FullAtFirst(lambda plan: [(one, 1.0) for one in plan.sowings if one.item == "lettuce"][:2])
    monkeypatch.setattr(module, "laid", full)
    gaps = []
    for fills in (0, module.FILLS):
        full.plans.clear()
        monkeypatch.setattr(module, "FILLS", fills)
        plan = planned(tmp_path / "garden.toml", "12 m2", FIRST)
        assert plan.gap is not None
        assert all(one.beds for one in plan.sowings)
        gaps.append(plan.gap)
    assert gaps[1] < gaps[0]
