"""The main job through its service: a small garden on real weather (docs/design/planner.md, days.md)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pydantic import TypeAdapter

from evenpick.base.days import day_number
from evenpick.base.errors import BadGarden
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import WeatherChoice
from evenpick.plan.horizon import Horizon
from evenpick.service import planning
from evenpick.service.climate import weather_for
from evenpick.service.growing import split_members
from evenpick.service.mending import areas_before
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan, save_plan, saved_plan
from evenpick.service.solving import Solved, solved
from evenpick.service.standing import UnderWay
from evenpick.service.store_plan import plan_path
from evenpick.service.today import today

GARDEN = """
[site]
name = "a small garden"
at = "53.4, -6.2"
height = "40 m"
weather = "dublin-airport"

[plan]
from = 2027-02-01
sowing_day = "saturday"

[[ground]]
name = "beds"
cover = "open"
area = "30 m2"

[[ground]]
name = "tunnel"
cover = "tunnel"
area = "6 m2"

[[outlet]]
name = "kitchen"
kind = "kitchen"

[[wish]]
item = "radish"
outlet = "kitchen"
each_week = "250 g"
from = "05-01"
until = "09-30"

[[wish]]
item = "leaf lettuce"
outlet = "kitchen"
each_week = "200 g"
from = "05-01"
until = "10-15"

[[wish]]
item = "kale"
outlet = "kitchen"
each_week = "200 g"
from = "11-15"
until = "04-10"

[[wish]]
item = "cucumbers"
crops = ["cucumber"]
outlet = "kitchen"
each_week = "2 fruits"
from = "07-15"
until = "09-15"
"""


@pytest.fixture(scope="module")
def garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("garden") / "garden.toml"
    path.write_text(GARDEN, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def plan(garden: Path) -> PlanAnswer:
    return make_plan(garden)


def test_it_does_better_than_the_interval_rule_on_years_it_never_saw(plan: PlanAnswer) -> None:
    """Less bare and spare together than the rule leaves; no more is asked of this one garden."""
    assert plan.plan.bare + plan.plan.spare < plan.interval_rule.bare + plan.interval_rule.spare
    assert plan.made_from.unseen_years >= 10


def test_the_gap_is_proven_and_told(plan: PlanAnswer) -> None:
    assert 0.0 <= plan.gap < 0.25


def test_no_ground_holds_more_than_there_is(plan: PlanAnswer) -> None:
    for ground in plan.ground:
        assert max(ground.used) <= ground.area_m2 + 1e-6


def test_only_what_was_wished_is_sown_and_in_amounts_worth_sowing(plan: PlanAnswer) -> None:
    crops = {crop.key: crop for crop in load_catalogue().crops}
    assert {sowing.crop for sowing in plan.sowings} <= {"radish", "leaf-lettuce", "kale", "cucumber"}
    for sowing in plan.sowings:
        if crops[sowing.crop].spacing.layout == "row":
            assert sowing.row_m is not None
            # two metres, or half of what its weeks want where that is less, as of radish here (days.md, 10)
            assert sowing.row_m >= (1.0 if sowing.crop == "radish" else 2.0)
            assert sowing.row_m * 2 == round(sowing.row_m * 2)
        assert sowing.sow.weekday() == 5
        assert sowing.sow >= date(2027, 2, 1)


def test_never_two_sowings_of_one_crop_in_one_week_under_one_cover(plan: PlanAnswer) -> None:
    weeks = [(s.crop, s.item, s.cover, s.way, s.sow) for s in plan.sowings]
    assert len(weeks) == len(set(weeks))


def test_days_of_a_sowing_follow_each_other(plan: PlanAnswer) -> None:
    for sowing in plan.sowings:
        assert sowing.first_picking is not None
        low, likely, high = sowing.first_picking
        assert sowing.sow < low <= likely <= high
        assert sowing.sow < sowing.clear
        if sowing.plant_out is not None:
            assert sowing.sow < sowing.plant_out < low


def test_kale_fills_the_hungry_gap(plan: PlanAnswer) -> None:
    """Something every week of winter: in the likely year few weeks from December to March are bare.

    One sowing's cuts through January and February are about half of what is wanted, so bare is under a third.
    """
    kale = next(item for item in plan.pickings if item.item == "kale")
    winter = [w for w in kale.weeks if date(2027, 12, 6) <= w.week <= date(2028, 3, 20)]
    assert len(winter) >= 15
    assert np.mean([w.likely >= w.wanted / 3 for w in winter]) >= 0.8
    assert sum(w.likely for w in winter) >= 0.6 * sum(w.wanted for w in winter)


def test_wants_that_no_sowing_can_meet_are_told(plan: PlanAnswer) -> None:
    """Nothing sown from February can be kale in February."""
    assert any(line.startswith("Too soon") and "kale" in line for line in plan.cannot)


def test_seed_is_counted_for_the_coming_year(plan: PlanAnswer) -> None:
    radish = next(need for need in plan.seed if need.crop == "radish")
    year = plan.begins + timedelta(days=363)  # it begins on a Monday
    assert radish.seeds == sum(s.seeds or 0 for s in plan.sowings if s.crop == "radish" and s.sow <= year)


def test_the_same_garden_gives_the_same_plan(tmp_path: Path) -> None:
    """Searched to its end, of six weather years."""
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN.replace("[plan]", "[plan]\nyears = 6"), encoding="utf-8")
    plan, again = make_plan(path), make_plan(path)
    assert plan.sowings
    assert replace(again, seconds=0.0, stages=()) == replace(plan, seconds=0.0, stages=())


def test_a_plan_is_kept_in_the_book_until_the_garden_changes(garden: Path, plan: PlanAnswer) -> None:
    assert save_plan(garden, plan) == garden.with_suffix(".book")
    assert saved_plan(garden) == saved_plan(garden.with_suffix(".book")) == plan
    before = garden.read_text(encoding="utf-8")
    garden.write_text(before.replace("30 m2", "31 m2"), encoding="utf-8")
    assert saved_plan(garden) is None
    garden.write_text(before, encoding="utf-8")
    assert saved_plan(garden) == plan


def test_a_plan_kept_beside_the_garden_as_it_once_was_is_still_read(
    garden: Path, plan: PlanAnswer, tmp_path: Path
) -> None:
    older = tmp_path / "garden.toml"
    older.write_bytes(garden.read_bytes())
    plan_path(older).write_bytes(TypeAdapter(PlanAnswer).dump_json(plan))
    assert saved_plan(older) == plan


def test_today_lists_the_jobs_of_the_week(plan: PlanAnswer, garden: Path) -> None:
    save_plan(garden, plan)
    first = plan.sowings[0]
    answer = today(garden, first.sow)
    assert any(job.kind in ("sow", "plant") and job.planned == first.id for job in answer.jobs)
    assert all(abs((job.when - first.sow).days) < 7 for job in answer.jobs)


def test_a_stop_hands_over_a_plan_with_its_gap(
    garden: Path, plan: PlanAnswer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A search cut short proves less, and what it says is proven holds against the whole search's plan."""
    found: list[Solved] = []

    def watched(*given: Any) -> Solved:
        found.append(solved(*given))
        return found[-1]

    monkeypatch.setattr(planning, "solved", watched)
    hasty = make_plan(garden, seconds=0.5)
    assert plan.gap is not None
    assert hasty.gap is not None
    assert plan.gap < hasty.gap < 1.0
    (kept,) = found
    cost, nothing = kept.exact.cost(kept.areas), kept.exact.cost(np.zeros(kept.areas.size))
    bound = (cost - hasty.gap * nothing) / (1.0 - hasty.gap)  # gap = (cost - bound) / (nothing - bound)
    whole = areas_before(kept.work, UnderWay(before=plan), Horizon(day_number(plan.begins), 5))
    assert (whole > 0).sum() == len(plan.sowings)
    best = kept.exact.cost(whole)
    assert bound <= best + 1e-9 < nothing


def test_a_word_to_stop_hands_over_the_best_so_far(garden: Path) -> None:
    told: list[str] = []
    stopped = make_plan(garden, progress=lambda stage, share: told.append(stage),
                        stop=lambda: True)
    assert stopped.sowings
    assert stopped.gap is not None
    assert 0.0 <= stopped.gap < 1.0
    gaps = [stage for stage in told if "proven within" in stage]
    assert all("100.0 %" in stage for stage in gaps[:-1])  # the first plan found is the last


def test_what_cannot_be_is_refused_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN.replace('item = "radish"', 'item = "radich"'), encoding="utf-8")
    with pytest.raises(BadGarden, match=r"line 27.*radich"):
        make_plan(path)


def test_generated_members_are_halved() -> None:
    weather = weather_for(Site("x", 45.0, 5.0), WeatherChoice(), day_number(date(2027, 1, 4)), 400, 1)
    split = split_members(weather, 30)
    assert set(split.seen) & set(split.unseen) == set()
    assert split.seen.size == 30
    fewer = split_members(weather, 20)
    assert fewer.seen.size == 20
    assert not [note for note in fewer.notes if "30" in note]  # how many is told once, of those planned on
