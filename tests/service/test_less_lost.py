"""What was lost since the plan was made is not promised for picking (docs/design/season.md, 22). Invented
garden and diary, real weather of Dublin Airport."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.base.days import monday_of
from evenpick.garden.diary import Cleared, Decided, Lost, Picked, Sowed
from evenpick.service.after_loss import after_loss
from evenpick.service.book import record_of, write
from evenpick.service.box import box
from evenpick.service.less_lost import plan_now
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem
from evenpick.service.plan_answer import PlanAnswer, PlannedSowing
from evenpick.service.planning import make_plan, save_plan
from evenpick.service.served_anew import Left, served_anew
from evenpick.service.sown import sown
from evenpick.service.today import today

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
years = 8
dice = 2
[[ground]]
name = "beds"
cover = "open"
area = "12 m2"
[[outlet]]
name = "boxes"
kind = "boxes"
[[wish]]
item = "radish"
outlet = "boxes"
each_week = "250 g"
from = "05-01"
until = "09-30"
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
outlet = "boxes"
each_week = "300 g"
from = "05-01"
until = "10-15"
[[anyway]]
item = "wild rocket"
serves = "lettuce"
each_week = "20 g"
"""
BEGINS = date(2027, 5, 1)
WEEK = timedelta(weeks=1)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> PlanAnswer:
    path = tmp_path_factory.mktemp("before") / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    write(path, [(BEGINS - 3 * WEEK, Sowed("leaf-lettuce", "direct", "open", 1.0), "")])
    return make_plan(path, BEGINS)


@pytest.fixture
def plan(garden: Path, made: PlanAnswer) -> PlanAnswer:
    """Kept for a garden in which all that was to be sown in the first three weeks was, nothing else."""
    save_plan(garden, made)
    write(garden, [(s.sow, Sowed(s.crop, s.way, s.cover, s.area_m2, planned=s.id), "") for s in soon(made)])
    return made


def soon(plan: PlanAnswer) -> list[PlannedSowing]:
    return [one for one in plan.sowings if one.sow < BEGINS + 3 * WEEK]


def lose(garden: Path, crop: str, on: date, share: float = 1.0) -> list[str]:
    """All of a crop, or a part of it all; the ids in the diary."""
    gone = [one.id for one in record_of(garden).sowings.values() if one.fact.crop == crop]
    write(garden, [(on, Lost(one, "eaten", share, "slugs"), "") for one in gone])
    return gone


def of(plan: PlanAnswer, item: str) -> ItemPickings:
    return next(each for each in plan.pickings if each.item == item)


def weeks_of(plan: PlanAnswer, item: str, first: date, last: date) -> list[WeekOfItem]:
    return [week for week in of(plan, item).weeks if first <= week.week <= last]


def test_what_is_kept_of_each_sowing_gives_the_plan_s_own_pickings(made: PlanAnswer) -> None:
    """Of what is planned, what stands and what comes anyway; kilograms are kept to seven figures."""
    assert made.standing
    assert {each.sowing for each in made.brought} >= {"", made.standing[0].id}
    for item in made.pickings:
        mine = [each for each in made.brought if each.item == item.item]
        again = served_anew(item, mine, [Left()] * len(mine), made.made_from.years)
        for was, now in zip(item.weeks, again, strict=True):
            assert now.week == was.week
            for figure in ("wanted", "low", "likely", "high", "bare", "spare"):
                assert getattr(now, figure) == pytest.approx(getattr(was, figure), abs=1e-5), (item.item, was)


def test_a_crop_lost_entirely_is_promised_nowhere(garden: Path, plan: PlanAnswer) -> None:
    """Every radish of the first three weeks: where nothing else of it could be ripe none is to be picked."""
    lost_on = BEGINS + 3 * WEEK
    later = min(one.first_picking[0] for one in plan.sowings
                if one.crop == "radish" and one not in soon(plan) and one.first_picking)
    first, last = monday_of(lost_on), monday_of(later) - 2 * WEEK
    assert any(week.likely > 0.1 for week in weeks_of(plan, "radish", first, last))
    day = next(week.week for week in weeks_of(plan, "radish", first, last) if week.likely > 0.1)
    assert "radish" in {one.item for one in today(garden, day).pick}
    (*_, mark) = lose(garden, "radish", lost_on)
    left = plan_now(garden, day)
    assert all(week.high == 0 for week in weeks_of(left, "radish", first, last))
    assert weeks_of(left, "radish", BEGINS - WEEK, first - WEEK) == \
        weeks_of(plan, "radish", BEGINS - WEEK, first - WEEK)
    assert of(left, "lettuce") == of(plan, "lettuce")
    answer = today(garden, day)
    assert "radish" not in {one.item for one in answer.pick}
    assert "loss of Radish" in answer.notes[0]
    assert answer.take_in == "evenpick plan --mend"
    assert dict(answer.bare_ahead)["radish"] == day
    sheet = box(garden, day)
    assert "radish" not in {one.item for one in sheet.items}
    assert sheet.note == f"{answer.notes[0]} Take it in with: evenpick plan --mend"
    assert sown(garden, mark, day).expected is None
    assert all(one.fills is None and one.first_picking is None for one in left.sowings
               if one.crop == "radish" and one.id in {each.id for each in soon(plan)})


def test_it_is_as_the_answer_after_a_loss_has_it(garden: Path, plan: PlanAnswer) -> None:
    """Grown anew, and reckoned from what is kept: the same kilograms are to be had in the bare weeks."""
    first = next(one for one in plan.sowings if one.crop == "radish")
    sowing = next(one.id for one in record_of(garden).sowings.values() if one.fact.planned == first.id)
    assert first.sow == BEGINS
    write(garden, [(BEGINS, Lost(sowing, "eaten", 1.0), "")])
    told = after_loss(garden, sowing, BEGINS)
    left = {week.week: week for week in of(plan_now(garden, BEGINS), "radish").weeks}
    assert told.weeks
    for week, wanted, had in told.weeks:
        assert left[week].wanted - left[week].bare == pytest.approx(had, abs=1e-3)
        assert left[week].wanted == pytest.approx(wanted)


def test_of_half_a_crop_half_is_left(garden: Path, plan: PlanAnswer) -> None:
    lose(garden, "radish", BEGINS + 3 * WEEK, share=0.5)
    left = plan_now(garden, BEGINS + 4 * WEEK)
    was, now = (sum(week.wanted - week.bare for week in of(each, "radish").weeks) for each in (plan, left))
    lose(garden, "radish", BEGINS + 3 * WEEK)
    none = sum(week.wanted - week.bare for week in of(plan_now(garden, BEGINS + 4 * WEEK), "radish").weeks)
    assert none < now < was
    assert "loss of Radish" in left.loss_note


def test_a_loss_counts_from_its_day_on(garden: Path, plan: PlanAnswer) -> None:
    lose(garden, "radish", BEGINS + 3 * WEEK)
    assert plan_now(garden, BEGINS + 3 * WEEK - timedelta(days=1)) == plan


def test_what_a_plan_took_in_is_not_taken_off_again(garden: Path, plan: PlanAnswer) -> None:
    """Half of what stands was lost before the plan was mended; the other half after."""
    day = BEGINS + 3 * WEEK
    lose(garden, "radish", day, share=0.5)
    mended = make_plan(garden, day, mend=True)
    save_plan(garden, mended)
    assert {one.left for one in mended.standing if one.crop == "radish"} == {0.5}
    assert plan_now(garden, day) == mended
    lose(garden, "radish", day + WEEK)
    left = plan_now(garden, day + WEEK)
    assert left.loss_note
    assert {(one.left, one.to_come.high) for one in left.standing if one.crop == "radish"} == {(0.0, 0.0)}


def test_a_plan_that_does_not_know_what_each_brings_says_what_it_still_counts(
    garden: Path, plan: PlanAnswer
) -> None:
    """Such as were kept before it was written down."""
    save_plan(garden, replace(plan, brought=()))
    lose(garden, "radish", BEGINS + 3 * WEEK)
    left = plan_now(garden, BEGINS + 3 * WEEK)
    assert left.pickings == plan.pickings
    assert "still counts" in left.loss_note


def likely(plan: PlanAnswer, item: str, crop_from: date, until: date) -> float:
    return sum(week.likely for week in weeks_of(plan, item, crop_from, until))


def test_what_was_not_sown_in_time_is_not_to_be_picked(garden: Path, made: PlanAnswer) -> None:
    """Some lettuce sown, no radish: what can't wait any longer brings nothing, what still can is counted."""
    save_plan(garden, made)
    write(garden, [(BEGINS, Sowed("leaf-lettuce", "direct", "open", 1.0), "")])
    radish = [one for one in made.sowings if one.crop == "radish"]
    day = next(week.week for week in of(made, "radish").weeks if week.likely > 0.1)
    still = [one for one in radish if min(one.latest, one.sow + 2 * WEEK - timedelta(days=1)) >= day]
    assert still
    assert len(still) < len(radish)
    answer = today(garden, day)
    assert "radish" not in {one.item for one in answer.pick}
    assert {job.crop for job in today(garden, BEGINS + 3 * WEEK).missed} == {"radish"}
    assert "Planned, not in the diary, and too late by now" in answer.notes[0]
    assert "Radish" in answer.notes[0]
    left = plan_now(garden, day)
    first = min(one.first_picking[0] for one in still if one.first_picking)
    assert likely(plan_now(garden, BEGINS), "radish", BEGINS, first - WEEK) > 0
    assert likely(left, "radish", BEGINS, first - WEEK) == 0
    over = max(one.fills[1] for one in radish if one not in still and one.fills) + WEEK
    later, planned = (likely(each, "radish", over, over + 8 * WEEK) for each in (left, made))
    assert 0.95 * planned < later <= planned  # in late years they reach a week farther
    gone = [one for one in left.sowings if one.crop == "radish" and one.fills is None]
    assert [one.id for one in gone] == [one.id for one in radish if one not in still]
    assert all("not sown in time" in one.because for one in gone)


def test_a_grower_without_a_diary_is_taken_to_follow_the_plan(
    garden: Path, made: PlanAnswer, tmp_path: Path
) -> None:
    path = tmp_path / "other" / "garden.toml"
    path.parent.mkdir()
    path.write_text(garden.read_text(encoding="utf-8"), encoding="utf-8")
    save_plan(path, made)
    assert plan_now(path, BEGINS) == made
    left = plan_now(path, BEGINS + 8 * WEEK)
    assert left.pickings == made.pickings
    assert "taken to have been sown" in left.loss_note


def test_what_was_refused_is_not_to_be_picked(garden: Path, plan: PlanAnswer) -> None:
    coming = [one for one in plan.sowings if one.crop == "radish" and one not in soon(plan)]
    write(garden, [(BEGINS, Decided(one.id, "refused"), "") for one in coming])
    left = plan_now(garden, BEGINS)
    assert "Refused since the plan was made" in left.loss_note
    after = max(one.fills[1] for one in soon(plan) if one.crop == "radish" and one.fills) + 4 * WEEK
    assert likely(plan, "radish", after, BEGINS + 51 * WEEK) > 0
    assert likely(left, "radish", after, BEGINS + 51 * WEEK) == 0


def test_what_was_cleared_brings_no_more(garden: Path, plan: PlanAnswer) -> None:
    """From the week after its clearing on; what it brought before stays."""
    (one,) = [one for one in soon(plan) if one.fills]
    assert one.fills
    assert one.crop == "radish"
    sowing = next(each for each in record_of(garden).sowings.values() if each.fact.planned == one.id)
    week = one.fills[0] + WEEK
    write(garden, [(week + timedelta(days=3), Cleared(sowing.id), "")])
    left = plan_now(garden, week + timedelta(days=3))
    assert weeks_of(left, "radish", BEGINS, week - WEEK) == weeks_of(plan, "radish", BEGINS, week - WEEK)
    assert likely(left, "radish", week, week) > 0
    others = min(each.fills[0] for each in plan.sowings
                 if each.crop == "radish" and each.id != one.id and each.fills)
    after = week + WEEK, min(one.fills[1], others - WEEK)
    assert likely(plan, "radish", *after) > 0.2
    assert likely(left, "radish", *after) == 0
    assert "Cleared since the plan was made" in left.loss_note


def test_what_was_picked_this_week_is_not_told_as_unlikely(garden: Path, plan: PlanAnswer) -> None:
    """An item was told as likely 0 in the very week in which a picking of it was written."""
    none = next(week for week in of(plan, "radish").weeks if week.likely < 0.05)
    day = none.week + timedelta(days=3)
    before = plan_now(garden, day)
    write(garden, [(day, Picked("radish", kg=0.4), "")])
    now = plan_now(garden, day)
    (week,) = weeks_of(now, "radish", none.week, none.week)
    assert week.likely == pytest.approx(0.4)
    assert week.low <= week.likely <= week.high
    assert weeks_of(now, "radish", day, BEGINS + 52 * WEEK) == weeks_of(
        before, "radish", day, BEGINS + 52 * WEEK)
    assert of(now, "lettuce") == of(before, "lettuce")
    write(garden, [(day, Picked("radish"), "")])  # not weighed
    (week,) = weeks_of(plan_now(garden, day), "radish", none.week, none.week)
    assert week.likely > 0.4
    assert "radish" in {pick.item for pick in today(garden, day).pick}


def test_what_was_cleared_into_a_store_stays_good(made: PlanAnswer) -> None:
    """Of what goes, what was ripe by then is kept or not, as the crop is."""
    mine = [each for each in made.brought if each.item == "radish"][:1]
    weeks = [served_anew(of(made, "radish"), mine, [Left(1.0, 1.0, 5, keeps)], made.made_from.years)
             for keeps in (True, False)]
    stored, fresh = ([week.high for week in each] for each in weeks)
    assert stored[:5] == fresh[:5]
    assert sum(fresh[6:]) == 0
    assert sum(stored[6:]) > 0


def test_as_much_as_was_sown_is_counted(garden: Path, made: PlanAnswer) -> None:
    """Twice the planned row in two beds; what is like no planned one is told to be unknown."""
    save_plan(garden, made)
    first = next(one for one in made.sowings if one.crop == "radish")
    same = Sowed("radish", first.way, first.cover, first.area_m2)
    write(garden, [(first.sow, same, ""), (first.sow + timedelta(days=1), same, "")])
    left = plan_now(garden, first.sow + timedelta(days=1))
    assert first.fills
    used = [sum(week.wanted - week.bare + week.spare for week in weeks_of(each, "radish", *first.fills))
            for each in (made, left)]
    assert used[1] > 1.4 * used[0]
    assert "as much as was sown" in left.loss_note
    assert "besides the plan" not in left.loss_note
    write(garden, [(first.sow, Sowed("rocket", "direct", "open", 1.0), "")])
    left = plan_now(garden, first.sow + timedelta(days=1))
    assert "Sown besides the plan, and not counted yet: Rocket (1 sowing)" in left.loss_note
    assert left.take_in == "evenpick plan --mend"
