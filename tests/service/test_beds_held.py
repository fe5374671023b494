"""Beds that stay as plans are made anew (docs/design/beds.md, 7). Invented garden and diary, real weather of
Dublin Airport."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.garden.diary import Sowed
from evenpick.service.book import write
from evenpick.service.ground import ground
from evenpick.service.ground_answer import Place, places
from evenpick.service.plan_answer import Lying, PlanAnswer, PlannedSowing
from evenpick.service.planning import make_plan, save_plan

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2027-02-01
years = 4
dice = 1
[[ground]]
name = "plot"
cover = "open"
area = "6 x 4 m x 1.2 m"
[[wish]]
item = "radish"
each_week = "250 g"
from = "05-01"
until = "09-30"
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
each_week = "800 g"
from = "05-01"
until = "10-15"
[[wish]]
item = "carrots"
crops = ["carrot"]
each_week = "1 kg"
from = "07-01"
until = "11-30"
[[wish]]
item = "kale"
each_week = "500 g"
from = "09-01"
until = "03-31"
"""
TODAY = date(2027, 4, 19)
SEASON = timedelta(days=91)
"""within which ground may be prepared already"""


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> PlanAnswer:
    path = tmp_path_factory.mktemp("held") / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    return make_plan(path, stop=lambda: True)


@pytest.fixture
def garden(tmp_path: Path, first: PlanAnswer) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    save_plan(path, first)
    return path


def where(several: Sequence[Place]) -> list[tuple[str, float]]:
    return [(place.bed, pytest.approx(place.from_m, abs=0.01)) for place in several]


def beds(several: Sequence[Place | Lying]) -> set[str]:
    return {place.bed for place in several}


def unchanged(before: PlanAnswer, after: PlanAnswer) -> list[PlannedSowing]:
    old = {sowing.id: sowing for sowing in before.sowings}
    return [each for each in after.sowings
            if each.id in old and (each.sow, each.area_m2) == (old[each.id].sow, old[each.id].area_m2)]


def test_what_is_planned_as_before_stays_in_its_bed_and_what_is_sown_on_its_metres(
    garden: Path, first: PlanAnswer
) -> None:
    made = [sowing for sowing in first.sowings if sowing.sow < TODAY]
    entries = write(garden, [(s.sow, Sowed(s.crop, s.way, s.cover, s.area_m2, planned=s.id), "")
                             for s in made])
    before = places(ground(garden))
    plan = make_plan(garden, TODAY, mend=True)
    save_plan(garden, plan)
    after = places(ground(garden))
    for sowing, entry in zip(made, entries, strict=True):
        assert where(after[entry.id]) == where(before[sowing.id])
    same = unchanged(first, plan)
    assert len(same) > 5
    gone = {each.sowing for each in plan.moved}
    assert len(gone) <= len(same) / 10
    stay = [sowing for sowing in same if sowing.id not in gone]
    assert all(beds(after[sowing.id]) == beds(before[sowing.id]) for sowing in stay)
    shifted = [sowing for sowing in stay if where(after[sowing.id]) != where(before[sowing.id])]
    assert len(shifted) <= 1  # along its own bed, and next year
    assert all(sowing.sow > TODAY + SEASON for sowing in shifted)


def test_a_plan_of_the_same_day_in_full_keeps_its_beds(garden: Path, first: PlanAnswer) -> None:
    plan = make_plan(garden, first.begins, stop=lambda: True)
    before = places(ground(garden))
    save_plan(garden, plan)
    after = places(ground(garden))
    same = unchanged(first, plan)
    assert len(same) > 5
    assert not plan.moved
    for sowing in same:
        assert beds(after[sowing.id]) == beds(before[sowing.id])


def test_what_another_sowing_stands_on_goes_elsewhere_and_is_told(garden: Path, first: PlanAnswer) -> None:
    lying = places(ground(garden))
    later = next(s for s in first.sowings if s.sow > TODAY and s.area_m2 > 1 and len(lying[s.id]) == 1)
    bed = lying[later.id][0].bed
    write(garden, [(TODAY - timedelta(days=5), Sowed("parsnip", "direct", "open", 4.8, ground=bed), "")])
    plan = make_plan(garden, TODAY, mend=True)
    (moved,) = [each for each in plan.moved if each.sowing == later.id]
    assert bed in beds(moved.was)
    assert "Parsnip" in moved.why
    assert bed not in beds(moved.now)


def test_a_mended_plan_tells_what_one_more_of_something_would_bring(tmp_path: Path) -> None:
    """Four square metres hold a third of what is wanted: ground is what is short, mended or in full."""
    path = tmp_path / "garden.toml"
    path.write_text(TEXT.replace("6 x 4 m x 1.2 m", "4 m2"), encoding="utf-8")
    save_plan(path, make_plan(path, stop=lambda: True))
    plan = make_plan(path, TODAY, mend=True)
    assert plan.gap is None
    assert "open ground" in {each.what for each in plan.holding}
    assert all(each.portions > 0 for each in plan.holding)
