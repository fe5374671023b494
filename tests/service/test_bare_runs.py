"""Runs of bare weeks and what mends them, on the INVENTED plan: runner beans are wanted in its weeks 22 to
34, bare in 22, 23 and 29 to 34, and its one sowing fills 24 to 31 (19 July to 6 September)."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
from invented import MONDAY, PLAN

from evenpick.base.days import short_date
from evenpick.service.picking_list import bare_runs
from evenpick.service.plan_answer import GivenUp

BEANS = "runner beans and others"
BEAN = "runner-bean.raised.open.2027-05-08"


def beans(parted: bool) -> list[tuple[date, date, list[str]]]:
    return [(run.first, run.last, [sowing.id for sowing in run.filled_by])
            for run in bare_runs(PLAN, MONDAY, parted=parted) if run.item == BEANS]


def week(at: int) -> date:
    return MONDAY + timedelta(weeks=at)


def test_whole_runs_are_told_once() -> None:
    assert beans(parted=False) == [(week(22), week(23), []), (week(29), week(34), [BEAN])]


def test_weeks_that_a_sowing_fills_are_told_apart_from_those_that_it_does_not() -> None:
    """More of it can't mend weeks in which nothing of it is picked."""
    assert beans(parted=True) == [
        (week(22), week(23), []), (week(29), week(31), [BEAN]), (week(32), week(34), [])]
    for run in bare_runs(PLAN, MONDAY, parted=True):
        for sowing in run.filled_by:
            assert sowing.fills is not None
            assert sowing.fills[0] <= run.first <= run.last <= sowing.fills[1]


def test_a_bare_run_is_given_the_reason_of_its_own_weeks() -> None:
    """A remark on one week of November was told as the reason for broad beans bare from March to July."""
    other = f"{BEANS}: nothing can be had in the week of 1 Nov."
    own = f"{BEANS}: nothing can be had in the weeks of 5 Jul to 12 Jul."
    alike = f"{BEANS} and more: none of its crops succeeds."
    because = "not enough open ground"

    def reasons(*cannot: str, given: bool = True) -> list[str]:
        plan = replace(PLAN, cannot=cannot, given_up=(GivenUp(BEANS, 0.4, because),) if given else ())
        return [run.reason for run in bare_runs(plan, MONDAY) if run.item == BEANS]

    assert (short_date(week(22)), short_date(week(23))) == ("5 Jul", "12 Jul")
    assert reasons(other, alike) == [because, because]
    assert reasons(other, own) == [own, because]
    assert reasons(other, alike, given=False) == ["", ""]
