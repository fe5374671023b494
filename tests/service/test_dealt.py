"""Jobs dealt to the days of a week, by hand (docs/design/season.md, 23). INVENTED jobs and hours.

The week is that of Monday 12 April 2027; 3 h on Tuesday the 13th and 6 h on Saturday the 17th where no other
hours are told.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from evenpick.service.dealt import Bounds, dealt
from evenpick.service.today_answer import Job, JobKind, WorkDay

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
import invented

MON, TUE, WED, THU, FRI, SAT, SUN = (date(2027, 4, day) for day in range(12, 19))
TUESDAY_AND_SATURDAY = {TUE: 180, SAT: 360}


def job(
    name: str, minutes: int | None, kind: JobKind = "weed", when: date = MON, wait: date | None = None
) -> Job:
    return replace(invented.SOW, id=name, kind=kind, when=when, minutes=minutes, can_wait_until=wait)


def put(
    jobs: list[Job], hours: Mapping[date, int] = TUESDAY_AND_SATURDAY, today: date = MON,
    sowing_days: tuple[int, ...] = (5,), earliest: Mapping[str, date] | None = None, done: int = 0,
) -> tuple[dict[str, date | None], dict[date, int], dict[str, Job]]:
    """The day of each job; the minutes put on each day that has any; the jobs."""
    week = [WorkDay(day, hours.get(day, 0), done=done if day == today else 0)
            for day in (MON, TUE, WED, THU, FRI, SAT, SUN) if day >= today]
    found, days = dealt(jobs, week, Bounds(sowing_days, earliest or {}))
    assert [each.id for each in found] == [each.id for each in jobs]
    return ({each.id: each.on for each in found}, {each.day: each.dealt for each in days if each.dealt},
            {each.id: each for each in found})


def test_each_in_its_turn_on_the_first_day_that_has_the_time() -> None:
    """Tuesday's 180: a takes 120, b with 90 does not go into the 60 left and takes Saturday, c with 60 does.
    Saturday then has 270 left, which d fills; e finds nothing."""
    days, filled, _ = put([job("a", 120), job("b", 90), job("c", 60), job("d", 270), job("e", 1)])
    assert days == {"a": TUE, "b": SAT, "c": TUE, "d": SAT, "e": None}
    assert filled == {TUE: 180, SAT: 360}


def test_the_more_urgent_takes_the_day() -> None:
    """Of two that Tuesday holds one, whichever comes first."""
    assert put([job("a", 120), job("b", 120)])[0] == {"a": TUE, "b": SAT}
    assert put([job("b", 120), job("a", 120)])[0] == {"b": TUE, "a": SAT}


def test_days_past_are_past() -> None:
    assert put([job("a", 120)], today=WED)[0] == {"a": SAT}
    assert put([job("a", 120), job("b", None)], today=SUN)[0] == {"a": None, "b": None}


def test_a_job_is_not_put_before_its_own_day_where_another_has_room() -> None:
    """Due on Thursday: Saturday, or Tuesday if Saturday is full."""
    assert put([job("a", 60, when=THU)])[0] == {"a": SAT}
    assert put([job("full", 360, when=SAT), job("a", 60, when=THU)])[0] == {"full": SAT, "a": TUE}


def test_what_was_put_off_is_never_put_before_that_day() -> None:
    later = job("a", 60, when=WED)
    full = job("full", 360, when=SAT)
    assert put([full, later], earliest={"a": WED})[0] == {"full": SAT, "a": None}
    assert put([later], earliest={"a": WED})[0] == {"a": SAT}


def test_what_can_not_wait_for_a_day_finds_no_time() -> None:
    """Tuesday is full; it can wait to Friday, so Saturday is too late and not told as fitting. What is past
    its day already goes where there is time."""
    full = job("full", 180)
    assert put([full, job("a", 60, wait=FRI)])[0] == {"full": TUE, "a": None}
    assert put([full, job("a", 60, wait=SAT)])[0] == {"full": TUE, "a": SAT}
    assert put([job("a", 60, wait=TUE)], today=WED)[0] == {"a": SAT}


def test_sowings_are_made_on_sowing_days() -> None:
    """Sowing days Saturday, then Tuesday and Saturday; on Sunday's side of the week none is left: any day."""
    sow, plant = job("s", 60, "sow", TUE), job("p", 60, "plant", TUE)
    assert put([sow, plant, job("w", 60)])[0] == {"s": SAT, "p": SAT, "w": TUE}
    assert put([sow], sowing_days=(1, 5))[0] == {"s": TUE}
    assert put([job("full", 150), sow], sowing_days=(1, 5))[0] == {"full": TUE, "s": SAT}
    assert put([sow], hours={TUE: 180, SUN: 60}, today=WED, sowing_days=(1,))[0] == {"s": SUN}


def test_a_sowing_day_that_is_full_holds_no_more() -> None:
    """Saturday is the one sowing day: the second sowing is not told for Tuesday, be there time."""
    assert put([job("a", 300, "sow"), job("b", 90, "sow")])[0] == {"a": SAT, "b": None}


def test_a_sowing_day_without_hours_is_none() -> None:
    """Whoever works on Tuesday and Thursday and never said when they sow (Saturday) sows on those."""
    assert put([job("a", 60, "sow", SAT)], hours={TUE: 180, THU: 180})[0] == {"a": TUE}


def test_a_job_longer_than_any_day_goes_over_several() -> None:
    """420 minutes: 360 of Saturday are too few. Tuesday's 180 and 240 of Saturday's; 120 are left there."""
    days, filled, found = put([job("long", 420), job("a", 120), job("b", 60)])
    assert days == {"long": TUE, "a": SAT, "b": None}
    assert found["long"].ends == SAT
    assert found["a"].ends is None
    assert filled == {TUE: 180, SAT: 360}


def test_a_job_that_one_day_could_hold_is_not_torn() -> None:
    """240 minutes go into a Saturday; of this one 180 are left, and Tuesday's 180 are not added to them."""
    assert put([job("a", 180, when=SAT), job("b", 240)])[0] == {"a": SAT, "b": None}


def test_a_job_longer_than_the_week_finds_no_time() -> None:
    days, filled, _ = put([job("long", 541), job("a", 30)])
    assert days == {"long": None, "a": TUE}
    assert filled == {TUE: 30}


def test_a_sowing_longer_than_its_days_goes_on_beside_them() -> None:
    """Saturday's 180 are the only ones of a sowing day: a sowing of 240 takes the week's other 180 too."""
    days, filled, found = put([job("long", 240, "sow")], hours={TUE: 180, SAT: 180})
    assert (days, found["long"].ends, filled) == ({"long": TUE}, SAT, {TUE: 180, SAT: 60})


def test_water_cover_and_picking_are_never_held_back() -> None:
    """On a Monday without hours: what the weather asks for is for today; the picking is for Tuesday and takes
    200 of its 180 minutes, so that the weeding, more urgent by the list, goes to Saturday."""
    days, filled, _ = put([job("w", 60), job("c", None, "cover", MON, MON), job("d", None, "water", MON, MON),
                           job("p", 200, "pick", MON, FRI)])
    assert days == {"w": SAT, "c": MON, "d": MON, "p": TUE}
    assert filled == {TUE: 200, SAT: 60}


def test_a_picking_that_can_not_wait_for_a_day_with_hours_is_for_its_own() -> None:
    assert put([job("p", 20, "pick", WED, THU)], today=WED)[:2] == ({"p": WED}, {WED: 20})


def test_what_nothing_is_known_of_counts_nought_and_needs_a_day_all_the_same() -> None:
    """A full day has room for it, a day on which nobody works has not."""
    assert put([job("full", 180), job("a", None)])[0] == {"full": TUE, "a": TUE}
    assert put([job("a", None)], hours={})[0] == {"a": None}
    assert put([job("p", 200, "pick", TUE), job("a", None)])[0] == {"p": TUE, "a": TUE}


def test_what_was_worked_today_is_gone_of_it() -> None:
    """On Tuesday 100 of 180 minutes are worked: 80 are left, and nothing is left of them after 200."""
    assert put([job("a", 90), job("b", 80)], today=TUE, done=100)[0] == {"a": SAT, "b": TUE}
    assert put([job("a", 1)], today=TUE, done=200)[0] == {"a": SAT}


@pytest.mark.parametrize("seed", range(40))
def test_no_day_is_ever_told_to_hold_more_than_it_has(seed: int) -> None:
    """Any jobs: what is put on a day is no more than its hours; with each on one day at least; and what finds
    no time would not go into what is left of any day it may be on."""
    from random import Random

    dice = Random(seed)
    hours = {day: dice.choice([0, 0, 60, 180, 240]) for day in (MON, TUE, WED, THU, FRI, SAT, SUN)}
    jobs = [job(str(n), dice.choice([None, 5, 30, 60, 90, 200, 300]), dice.choice(["weed", "thin", "look"]),
                dice.choice(list(hours))) for n in range(12)]
    days, filled, _ = put(jobs, hours)
    assert all(minutes <= hours[day] for day, minutes in filled.items())
    assert sum(filled.values()) == sum(each.minutes or 0 for each in jobs if days[each.id] is not None)
    most = max(there - filled.get(day, 0) for day, there in hours.items())
    left_over = [each for each in jobs if days[each.id] is None]
    assert all((each.minutes or 0) > most for each in left_over) or not any(hours.values())
