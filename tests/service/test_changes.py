"""Why a plan is otherwise than the one before, where nothing befell it (docs/design/season.md, 7). Invented
garden, real weather of Dublin Airport."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import day_number, short_date
from evenpick.garden.diary import Lost, Sowed
from evenpick.service.book import write
from evenpick.service.changes import changed
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan, save_plan
from evenpick.service.standing import under_way

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
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
"""
BEGINS = date(2027, 5, 1)


def reasons(path: Path, begins: date) -> set[str]:
    """Why the first sowing of the plan kept is in no plan from a day on."""
    season = under_way(path, day_number(begins))
    before = season.before
    assert before is not None
    later = next(one for one in before.sowings if one.sow >= begins + timedelta(days=7))
    left = tuple(one for one in before.sowings if one.id != later.id)
    found = changed(season, left, (), day_number(begins), before.made_from.garden)
    return {change.why for change in found if change.id == later.id}


def planned(folder: Path) -> tuple[Path, PlanAnswer]:
    """The garden's file, and its first plan, kept."""
    path = folder / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    plan = make_plan(path, BEGINS, stop=lambda: True)
    save_plan(path, plan)
    return path, plan


def test_the_season_ahead_is_not_blamed_where_no_day_has_passed(tmp_path: Path) -> None:
    path = tmp_path / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    save_plan(path, replace(make_plan(path, BEGINS, seconds=1), gap=0.01))  # near the best, on any machine
    assert reasons(path, BEGINS) == {"the plan was looked for again"}
    assert reasons(path, BEGINS + timedelta(days=1)) <= {
        "as the season ahead now looks", "the 1 May sowing was not made"}


def test_what_a_plan_far_from_the_best_missed_is_not_put_down_to_the_season(tmp_path: Path) -> None:
    path = tmp_path / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    plan = make_plan(path, BEGINS, stop=lambda: True)
    said = "found since: the plan before was far from the best there is"
    season = "as the season ahead now looks"
    for gap, why in ((0.3, said), (0.01, season), (None, season)):
        save_plan(path, replace(plan, gap=gap))
        assert reasons(path, BEGINS + timedelta(days=1)) <= {why, "the 1 May sowing was not made"}
        assert reasons(path, BEGINS) == {said if gap == 0.3 else "the plan was looked for again"}


def test_what_was_missed_and_moved_is_told_so_where_another_was_lost(tmp_path: Path) -> None:
    """Potatoes of 8 May moved to the 15th, for nobody planted them, were put down to a frost on others."""
    path, plan = planned(tmp_path)
    made, missed = sorted(plan.sowings, key=lambda one: one.sow)[:2]
    today = missed.sow + timedelta(days=3)
    (entry,) = write(path, [
        (made.sow, Sowed(made.crop, made.way, made.cover, made.area_m2, planned=made.id), "")])
    write(path, [(today, Lost(entry.id, "eaten", 0.5), "")])
    moved = replace(missed, sow=today + timedelta(days=4))
    left = [moved if one.id == missed.id else one for one in plan.sowings if one.id != made.id]
    season = under_way(path, day_number(today))
    found = changed(season, left, (), day_number(today), plan.made_from.garden)
    (change,) = [each for each in found if each.id == missed.id]
    assert change.why == f"the {short_date(missed.sow)} sowing was not made"


def test_what_is_moved_and_made_smaller_is_told_both(tmp_path: Path) -> None:
    """Two squashes of 1 May that became one of 24 April were told as "1 plant on 24 Apr instead of 1 May"."""
    path, plan = planned(tmp_path)
    first, *rest = sorted(plan.sowings, key=lambda one: one.sow)
    assert first.row_m is not None
    half = first.row_m / 2
    later = replace(first, sow=first.sow + timedelta(days=7), area_m2=first.area_m2 / 2, row_m=half)
    season = under_way(path, day_number(BEGINS))
    found = changed(season, (later, *rest), (), day_number(BEGINS), plan.made_from.garden)
    assert [(one.kind, one.sow, one.was, one.row_m) for one in found if one.id == first.id] == [
        ("moved", later.sow, first.sow, half), ("less", later.sow, None, half)]


def test_what_falls_on_days_away_is_moved_for_that(tmp_path: Path) -> None:
    """Chard of 7 August, when nobody was there, was put down to a flood that took half the spinach."""
    path, plan = planned(tmp_path)
    first = next(one for one in plan.sowings if one.sow >= BEGINS + timedelta(days=7))
    season = under_way(path, day_number(BEGINS))
    later = replace(first, sow=first.sow + timedelta(days=7))
    moved = [later if one.id == first.id else one for one in plan.sowings]
    for left in (moved, [one for one in plan.sowings if one.id != first.id]):
        found = changed(season, left, (), day_number(BEGINS), "", [(first.sow, first.sow)])
        assert [each.why for each in found if each.id == first.id] == [
            f"nobody is there on {short_date(first.sow)}"]


def test_what_is_sown_in_its_stead_is_not_told_as_no_longer_planned_too(tmp_path: Path) -> None:
    """Parsley of 2 January, not sown, was told as new on 20 February for that and as no longer planned."""
    path, plan = planned(tmp_path)
    missed = min(plan.sowings, key=lambda one: one.sow)
    today = missed.sow + timedelta(days=20)
    season = under_way(path, day_number(today))
    still = [one for one in plan.sowings if one.sow >= today]
    instead = replace(missed, id="radish.direct.open.later", sow=today + timedelta(days=40))
    kinds = {"missed": set[str](), "new": set[str]()}
    for change in changed(season, [*still, instead], (), day_number(today), plan.made_from.garden):
        kinds.setdefault(change.kind, set()).add(change.id)
    assert kinds["new"] == {instead.id}
    assert missed.id not in kinds["missed"]
    alone = changed(season, still, (), day_number(today), plan.made_from.garden)
    assert missed.id in {change.id for change in alone if change.kind == "missed"}


def test_what_is_told_hangs_on_no_wording(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether a sowing was made good was found by comparing the words of two reasons: in a language that
    tells no day in them, another one of the crop was taken for made good too."""
    path, plan = planned(tmp_path)
    first, second = sorted(plan.sowings, key=lambda one: one.sow)[:2]
    today = second.sow + timedelta(days=20)
    season = under_way(path, day_number(today))
    still = [one for one in plan.sowings if one.sow >= today]
    area = max(first.area_m2, second.area_m2)
    instead = replace(first, id="radish.direct.open.later", sow=today + timedelta(days=40), area_m2=area)

    def told() -> set[tuple[str, str]]:
        found = changed(season, [*still, instead], (), day_number(today), plan.made_from.garden)
        return {(change.kind, change.id) for change in found}

    as_usual = told()
    assert ("missed", second.id) in as_usual
    assert ("missed", first.id) not in as_usual
    monkeypatch.setattr("evenpick.service.changes.short_date", lambda _day: "its day")
    assert told() == as_usual
