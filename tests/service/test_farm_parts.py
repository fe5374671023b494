"""What one farm of a cooperative is told to pick, and calls bare, of what it shares with another
(docs/design/cooperative.md, 5). Invented farms and plans: each has one sowing that by itself gives all that
is wanted in two weeks."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

sys.path.append(str(Path(__file__).parents[1] / "report"))

import invented
from invented_farms import answer_of, written

from evenpick.garden.diary import Lost, Sowed
from evenpick.report.terminal import render
from evenpick.report.today import today_page
from evenpick.report.words import Words
from evenpick.service.book import write
from evenpick.service.cooperative import save_cooperative
from evenpick.service.cooperative_now import cooperative_now
from evenpick.service.farm_pickings import parts_of
from evenpick.service.less_lost import plan_now
from evenpick.service.packed import packed
from evenpick.service.pickings_answer import Brought, ItemPickings, WeekOfItem
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.served_anew import Left, farms_bring, served_anew
from evenpick.service.today import today

BEAN = invented.PLAN.sowings[0]
YEARS, WEEKS, FIRST = 4, 52, 28
"""the beans are ripe in week 28 of the plan, and good in the one after"""
WANTED = 2.0
BRITISH = Words("british", "metric", {}, {})


@pytest.fixture
def coop(tmp_path: Path) -> Path:
    """Kept; both farms have sown what was planned."""
    file = written(tmp_path)
    answer, years = answer_of(file), np.arange(YEARS)
    ripe = np.full(YEARS, FIRST)
    brings = Brought(BEAN.id, BEAN.item, packed(years, ripe, ripe + 1, np.full(YEARS, 2 * WANTED)))
    start = invented.PLAN.begins - timedelta(days=invented.PLAN.begins.weekday())
    empty = ItemPickings(BEAN.item, "kg", 1.0, tuple(
        WeekOfItem(start + timedelta(weeks=at), WANTED if at in (FIRST, FIRST + 1) else 0.0, 0, 0, 0, 0, 0)
        for at in range(WEEKS)
    ), 0)
    both, left = [brings, brings], [Left(), Left()]
    whole = replace(empty, weeks=served_anew(empty, both, left, YEARS))
    had = farms_bring(empty, both, left, [0, 1], 2, YEARS)
    parts = parts_of(had, whole.weeks, np.full((2, WEEKS), 0.5))
    farms = tuple(
        replace(farm, plan=replace(
            farm.plan, sowings=(BEAN,), brought=(brings,), pickings=(replace(whole, weeks=weeks),),
            standing=(), made_from=replace(farm.plan.made_from, years=YEARS)))
        for farm, weeks in zip(answer.farms, parts, strict=True)
    )
    save_cooperative(file, replace(answer, farms=farms, pickings=(whole,)))
    for farm in answer.farms:
        sowed = Sowed(BEAN.crop, BEAN.way, BEAN.cover, BEAN.area_m2, planned=BEAN.id)
        write(tmp_path / farm.file, [(BEAN.sow, sowed, "")])
    return file


def lose(farm: Path, share: float = 1.0) -> date:
    from evenpick.service.book import record_of

    (sowing,) = record_of(farm).sowings
    day = BEAN.sow + timedelta(days=20)
    write(farm, [(day, Lost(sowing, "eaten", share, "slugs"), "")])
    return day


def week(plan: PlanAnswer, at: int = FIRST) -> WeekOfItem:
    (item,) = plan.pickings
    return item.weeks[at]


def test_the_farms_are_not_both_told_to_pick_all_of_it(coop: Path) -> None:
    """Each was told to pick all that is wanted, so that twice as much was picked."""
    day = BEAN.sow + timedelta(days=1)
    for at in (FIRST, FIRST + 1):
        whole = week(cooperative_now(coop, day), at)  # type: ignore[arg-type]
        parts = [week(plan_now(coop.with_name(name), day), at) for name in ("valley.toml", "hill.toml")]
        assert sum(part.likely for part in parts) == pytest.approx(whole.likely)
        assert [part.likely for part in parts] == pytest.approx([whole.likely / 2] * 2)
        assert [part.of_all for part in parts] == pytest.approx([whole.likely] * 2)
    monday = week(plan_now(coop.with_name("hill.toml"), day)).week
    page = " ".join(render(today_page(today(coop.with_name("hill.toml"), monday), BRITISH)).split())
    assert f"this is this farm's part; all their parts: {BEAN.item} 2.0 kg." in page


def test_what_one_lost_the_other_is_told_to_pick_and_neither_calls_bare(coop: Path) -> None:
    """The farm that lost its sowing called the weeks bare, and the other went on picking its part."""
    valley, hill = coop.with_name("valley.toml"), coop.with_name("hill.toml")
    day = lose(valley)
    whole = week(cooperative_now(coop, day))  # type: ignore[arg-type]
    assert whole.likely == pytest.approx(WANTED)
    assert (week(plan_now(valley, day)).likely, week(plan_now(valley, day)).wanted) == (0.0, 0.0)
    assert week(plan_now(hill, day)).likely == pytest.approx(WANTED)
    assert "Another farm has less or more" in plan_now(hill, day).loss_note
    for farm in (valley, hill):
        assert today(farm, whole.week).bare_ahead == ()
    told = cooperative_now(coop, day)
    assert [week(farm.plan).likely for farm in told.farms] == pytest.approx([0.0, WANTED])
    assert "Another farm" not in told.loss_note


def test_what_both_lost_both_call_bare(coop: Path) -> None:
    for name in ("valley.toml", "hill.toml"):
        day = lose(coop.with_name(name))
    for name in ("valley.toml", "hill.toml"):
        assert [item for item, _ in today(coop.with_name(name), day).bare_ahead] == []  # too far ahead
        monday = week(plan_now(coop.with_name(name), day)).week
        assert today(coop.with_name(name), monday).bare_ahead == ((BEAN.item, monday),)


def test_where_the_others_book_does_not_lie_here_it_brings_what_was_planned(coop: Path) -> None:
    valley, hill = coop.with_name("valley.toml"), coop.with_name("hill.toml")
    day = lose(hill)
    for file in coop.parent.glob("hill.book*"):
        file.unlink()
    hill.unlink()
    assert week(plan_now(valley, day)).likely == pytest.approx(WANTED / 2)
    lose(valley)
    lost = week(plan_now(valley, day))
    assert (lost.likely, lost.wanted) == (0.0, 0.0)
