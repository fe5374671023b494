"""A planned sowing keeps its name as plans are made anew (docs/design/season.md, 1)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given
from hypothesis import strategies as st

from evenpick.base.trade import CoverName
from evenpick.service.plan_answer import PlannedSowing
from evenpick.service.sowing_ids import NEAR_DAYS, named

FIRST = date(2027, 3, 13)


def sowing(
    day: int, crop: str = "radish", cover: CoverName = "open", item: str = "roots", name: str = ""
) -> PlannedSowing:
    sow = FIRST + timedelta(days=day)
    return PlannedSowing(
        name, 0, sow, item, crop, crop, "direct", cover, 1.0, None, None, None, None, None, None,
        sow, 1.0, None, sow, "",
    )


def ids(sowings: tuple[PlannedSowing, ...]) -> list[str]:
    return [each.id for each in sowings]


def test_a_first_plan_names_by_crop_way_cover_and_day() -> None:
    assert ids(named([sowing(0), sowing(14, cover="tunnel")])) == [
        "radish.direct.open.2027-03-13", "radish.direct.tunnel.2027-03-27"]


def test_two_of_a_kind_on_one_day_are_told_apart() -> None:
    both = named([sowing(0, item="salad"), sowing(0, item="winter salad")])
    assert ids(both) == ["radish.direct.open.2027-03-13", "radish.direct.open.2027-03-13.2"]


def test_the_nearest_is_followed_and_others_are_new() -> None:
    old = named([sowing(0), sowing(14)])
    new = named([sowing(7 - 1), sowing(14 + 7), sowing(35 + 21)], old)
    assert ids(new) == [old[0].id, old[1].id, "radish.direct.open.2027-05-08"]


def test_no_farther_than_three_weeks_and_only_its_own_kind() -> None:
    old = named([sowing(0)])
    assert ids(named([sowing(NEAR_DAYS)], old)) == [old[0].id]
    for other in (sowing(NEAR_DAYS + 1), sowing(0, crop="turnip"), sowing(0, cover="fleece")):
        assert named([other], old)[0].id != old[0].id


def test_a_new_one_never_takes_a_name_that_was_moved_or_made() -> None:
    old = named([sowing(0)])
    moved = replace(sowing(0), item="roots")
    new = named([sowing(-7), moved, sowing(28)], old, {"radish.direct.open.2027-04-10"})
    assert new[1].id == old[0].id
    assert len(set(ids(new))) == 3
    assert new[2].id == "radish.direct.open.2027-04-10.2"


DAYS = st.lists(st.integers(0, 120), max_size=8)


@given(DAYS, DAYS)
def test_names_are_one_to_one_and_a_plan_made_again_keeps_them(before: list[int], after: list[int]) -> None:
    old = named([sowing(day) for day in before])
    new = named([sowing(day) for day in after], old)
    assert len(set(ids(new))) == len(new)
    by_id = {each.id: each for each in old}
    for each in new:
        assert each.id not in by_id or abs((each.sow - by_id[each.id].sow).days) <= NEAR_DAYS
    assert ids(named([sowing(day) for day in before], old)) == ids(old)
