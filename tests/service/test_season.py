"""A plan made in the middle of the season, from the diary (docs/design/season.md). Invented garden and diary,
real weather of Dublin Airport."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Cleared, Decided, Lost, Picked, Sowed
from evenpick.garden.reading import read_garden
from evenpick.plan.beside import beside
from evenpick.plan.horizon import Horizon
from evenpick.service.book import write
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.plan_weather import plan_weather
from evenpick.service.planning import make_plan, save_plan
from evenpick.service.standing import UnderWay

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
from = 2027-02-01
years = 4
[[ground]]
name = "beds"
cover = "open"
area = "12 m2"
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
"""
TODAY, NEW_YEAR = date(2027, 6, 10), date(2028, 1, 1)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> PlanAnswer:
    path = tmp_path_factory.mktemp("season") / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    return make_plan(path)


@pytest.fixture
def carried_out(garden: Path, first: PlanAnswer) -> dict[str, str]:
    """The first plan kept, and all of it sown up to today: id in the diary by id in the plan."""
    save_plan(garden, first)
    made = [sowing for sowing in first.sowings if sowing.sow < TODAY]
    entries = write(garden, [
        (s.sow, Sowed(s.crop, s.way, s.cover, s.area_m2, planned=s.id), "") for s in made
    ])
    return {sowing.id: entry.id for sowing, entry in zip(made, entries, strict=True)}


def test_what_was_sown_stands_and_meets_the_weeks_before_anything_new(
    garden: Path, first: PlanAnswer, carried_out: dict[str, str]
) -> None:
    plan = make_plan(garden, TODAY, mend=True)
    assert plan.begins == TODAY
    assert {sowing.id for sowing in plan.standing} == set(carried_out.values())
    assert all(sowing.sow >= TODAY for sowing in plan.sowings)
    lettuce = next(item for item in plan.pickings if item.item == "lettuce")
    assert lettuce.lead == 0
    assert lettuce.weeks[0].likely > 0
    bare = make_plan(garden, TODAY, seconds=0.1, season=UnderWay())
    assert next(item for item in bare.pickings if item.item == "lettuce").lead > 0


def test_ids_follow_the_sowings_still_to_be_made(
    garden: Path, first: PlanAnswer, carried_out: dict[str, str]
) -> None:
    plan = make_plan(garden, TODAY, mend=True)
    before = {sowing.id: sowing for sowing in first.sowings if sowing.sow >= TODAY}
    kept = [sowing for sowing in plan.sowings if sowing.id in before]
    assert kept
    assert not carried_out.keys() & {sowing.id for sowing in plan.sowings}
    for sowing in kept:
        assert sowing.crop == before[sowing.id].crop
        assert abs(sowing.sow - before[sowing.id].sow) <= timedelta(days=21)


def test_two_processes_mend_to_the_same_plan(garden: Path, carried_out: dict[str, str]) -> None:
    here = make_plan(garden, TODAY, mend=True)
    with beside("evenpick.service.growing") as hands:
        there = make_plan(garden, TODAY, mend=True, hands=hands)
    assert replace(there, seconds=here.seconds, stages=here.stages) == here


def test_a_loss_leaves_less_to_come(garden: Path, carried_out: dict[str, str]) -> None:
    last = list(carried_out.values())[-1]
    whole = make_plan(garden, TODAY, mend=True)
    write(garden, [(TODAY, Lost(last, "eaten", 0.5, "slugs"), "")])
    half = make_plan(garden, TODAY, mend=True)
    kg = [next(s for s in plan.standing if s.id == last).to_come.likely for plan in (whole, half)]
    assert kg[1] == pytest.approx(kg[0] / 2)


def test_what_is_lost_altogether_stands_no_more(garden: Path, carried_out: dict[str, str]) -> None:
    last = list(carried_out.values())[-1]
    write(garden, [(TODAY, Lost(last, "eaten", 1.0), "")])
    assert last not in {sowing.id for sowing in make_plan(garden, TODAY, mend=True).standing}


def test_what_was_picked_is_not_given_again(garden: Path, carried_out: dict[str, str]) -> None:
    plan = make_plan(garden, TODAY, mend=True)
    one = max(plan.standing, key=lambda sowing: sowing.to_come.likely)
    write(garden, [(TODAY, Picked(one.crop, one.id, kg=0.1), "")])
    again = next(s for s in make_plan(garden, TODAY, mend=True).standing if s.id == one.id)
    assert again.to_come.likely < one.to_come.likely


def test_fixed_stays_and_refused_never_comes_back(garden: Path, first: PlanAnswer) -> None:
    save_plan(garden, first)
    ahead = [sowing for sowing in first.sowings if sowing.crop == "radish" and sowing.sow > TODAY]
    fixed, refused = ahead[0], ahead[1]
    write(garden, [(TODAY, Decided(fixed.id, "fixed", 0.9), ""), (TODAY, Decided(refused.id, "refused"), "")])
    plan = make_plan(garden, TODAY, mend=True)
    kept = next(sowing for sowing in plan.sowings if sowing.id == fixed.id)
    assert (kept.sow, kept.area_m2, kept.fixed, kept.row_m) == (fixed.sow, 0.9, True, 6.0)
    assert [sowing.id for sowing in plan.refused] == [refused.id]
    save_plan(garden, plan)
    again = make_plan(garden, TODAY + timedelta(days=7), mend=True)
    assert [sowing.id for sowing in again.refused] == [refused.id]
    for made in (plan, again):
        kind = (refused.crop, refused.way, refused.cover)
        near = [s for s in made.sowings if (s.crop, s.way, s.cover) == kind]
        assert all(abs(s.sow - refused.sow) > timedelta(days=10) or s.fixed for s in near)


def test_a_mended_plan_is_told_as_one_and_says_what_changed_and_why(
    garden: Path, carried_out: dict[str, str]
) -> None:
    last = list(carried_out.values())[-1]
    write(garden, [(TODAY, Lost(last, "eaten", 0.9, "slugs"), "")])
    plan = make_plan(garden, TODAY, mend=True)
    assert plan.gap is None
    assert plan.changes
    assert all(change.why for change in plan.changes)
    lost = next(sowing for sowing in plan.standing if sowing.id == last)
    ours = [change for change in plan.changes if change.name == lost.name]
    assert ours
    assert all("90 % of the" in change.why and "was lost" in change.why for change in ours)


def test_a_sowing_beside_the_plan_is_the_reason_for_fewer(garden: Path, first: PlanAnswer) -> None:
    save_plan(garden, first)
    made = [sowing for sowing in first.sowings if sowing.sow < TODAY]
    write(garden, [(s.sow, Sowed(s.crop, s.way, s.cover, s.area_m2, planned=s.id), "") for s in made])
    write(garden, [(TODAY, Sowed("leaf-lettuce", "direct", "open", 3.0), "")])
    plan = make_plan(garden, TODAY + timedelta(days=1), mend=True)
    fewer = [c for c in plan.changes if c.name == "Leaf lettuce" and c.kind in ("less", "dropped", "moved")]
    assert fewer
    assert all("was not in the plan" in change.why for change in fewer)
    then, now = (sum(s.area_m2 for s in each.sowings if s.crop == "leaf-lettuce" and TODAY < s.sow < NEW_YEAR)
                 for each in (first, plan))
    assert now < then


def test_the_same_mended_twice_is_the_same(garden: Path, carried_out: dict[str, str]) -> None:
    first, second = (make_plan(garden, TODAY, mend=True) for _ in range(2))
    assert first.sowings == second.sowings


def test_weather_that_was_is_known(garden: Path, tmp_path: Path) -> None:
    """A standing crop's past days are those of the named record in every year, and no day to come is."""
    described = read_garden(garden, load_catalogue())
    begin = day_number(date(2015, 6, 10))
    since, ahead = plan_weather(described, Horizon(begin, 5), begin - 60, {})
    assert since.tmin[:, : begin - since.start].std(axis=0).max() < 1e-9
    assert since.tmin[:, begin - since.start].std() > 0
    assert (ahead.tmin[:, :2] == since.tmin[:, ahead.start - since.start :][:, :2]).all()


def test_what_the_diary_taught_is_in_the_next_plan(garden: Path, first: PlanAnswer) -> None:
    """Radish picked a month later than the book for a year: planned to be picked later, and so said."""
    assert not first.learned
    for week in range(8):
        when = date(2018, 4, 2) + timedelta(weeks=week)
        sowing = write(garden, [(when, Sowed("radish", "direct", "open", 1.0), "")])[0].id
        write(garden, [(when + timedelta(days=65), Picked("radish", sowing, kg=0.5), ""),
                       (when + timedelta(days=66), Cleared(sowing), "")])
    taught = make_plan(garden)
    radish = next(one for one in taught.learned if (one.crop, one.cover) == ("radish", "open"))
    assert radish.time > 1.2
    assert taught.made_from.records == 8
    days = [
        min((s.first_picking[1] - s.sow).days for s in plan.sowings if s.crop == "radish" and s.first_picking)
        for plan in (first, taught)
    ]
    assert days[1] > days[0] + 5


def test_what_was_sown_on_the_plans_own_day_stands_in_it(garden: Path) -> None:
    sown = write(garden, [(TODAY, Sowed("radish", "direct", "open", 1.0), "")])[0].id
    assert sown in {one.id for one in make_plan(garden, TODAY, stop=lambda: True).standing}


def test_raising_without_a_bench_is_told_as_taken_for_granted(garden: Path, first: PlanAnswer) -> None:
    raised = any(sowing.way == "raised" for sowing in first.sowings)
    told = [note for note in first.notes if note.startswith("No raising bench is told")]
    assert bool(told) == raised
    garden.write_text(TEXT + '[bench]\nmodules = 200\nlowest = "16 °C"\n', encoding="utf-8")
    assert not any("bench" in note for note in make_plan(garden, seconds=1).notes)
