"""By when a planned sowing is to be made, and what closes its window (docs/design/days.md, 5)."""

from __future__ import annotations

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from evenpick.plan.given import Given, nothing_given
from evenpick.plan.horizon import SOWING_WEEKS, WEEKS
from evenpick.plan.request import Supply
from evenpick.plan.weekly import weeks_filled
from evenpick.service import sowings
from evenpick.service.sowings import FAR_OFF, _because, _closing, _fills, _last_able, not_before

MONDAY = date(2027, 3, 1)
DAYS = 7 * SOWING_WEEKS


class Fixed:
    """A batch with a window that opens and closes on the same days of every year."""

    def __init__(self, closes: int | None) -> None:
        self.outcome, self.score = None, self
        day = np.arange(DAYS) % 364
        self.able = np.ones(DAYS, dtype=bool) if closes is None else (day > 300) | (day <= closes)
        self.against = tuple("" if able else "frosted" for able in self.able)


@pytest.mark.parametrize(("closes", "day", "latest", "closing"), [
    (None, DAYS - 3, DAYS - 3 + FAR_OFF.days, ""),  # open all the year
    (100, DAYS - 3, 364 + 100, "frosted"),  # 16 days after the plan's last day for sowing
    (DAYS - 1 - 364, DAYS - 3, DAYS - 1, "frosted"),  # on that very day
    (40, 380, 364 + 40, "frosted"),  # well before it
])
def test_a_window_does_not_close_where_the_plans_reach_ends(
    monkeypatch: pytest.MonkeyPatch, closes: int | None, day: int, latest: int, closing: str
) -> None:
    batch: Any = Fixed(closes)
    monkeypatch.setattr(sowings, "considered", lambda outcome, score: score.able)
    assert _last_able(batch, day) == latest
    assert _closing(batch, latest) == closing


def of_one(ripe: list[int], last: list[int]) -> Any:
    """A task of one sowing: a kilogram ripe in each of some weeks, each in its own year of ten. As much is
    wanted in each of the weeks 10 to 14."""
    wanted = np.zeros((1, WEEKS))
    wanted[0, 10:15] = 1.0
    supply = Supply(np.zeros(len(ripe), np.int64), np.arange(len(ripe)), np.array(ripe), np.array(last),
                    np.ones(len(ripe)))
    return SimpleNamespace(request=SimpleNamespace(
        supply=supply, wanted=wanted, years=10, candidates=SomeCandidates(np.zeros(1, np.int64))))


class SomeCandidates:
    """Of which only the item is asked."""

    def __init__(self, item: Any) -> None:
        self.item = item

    def __len__(self) -> int:
        return int(self.item.size)


@pytest.mark.parametrize(("ripe", "last", "filled", "often"), [
    ([12, 14, 16, 20], [12, 14, 18, 22], (12, 14), 0.2),  # what comes after the wish goes nowhere
    ([4, 6, 12], [30, 30, 13], (10, 12), 0.3),  # what stands or lies in store goes to its first weeks
    ([10, 11, 12, 13, 14], [10, 11, 12, 13, 14], (10, 14), 0.5),  # each year in another week
    ([16, 20], [18, 22], None, 0.0), ([2, 3], [4, 5], None, 0.0),
])
def test_a_sowing_fills_weeks_in_which_its_item_is_wanted(
    ripe: list[int], last: list[int], filled: tuple[int, int] | None, often: float
) -> None:
    horizon: Any = SimpleNamespace(start=(MONDAY - date(1970, 1, 1)).days)
    task = of_one(ripe, last)
    added = weeks_filled(task.request, nothing_given(), np.ones(1))[0]
    found = _fills(task, task.request.supply, 0, 1.0, added, horizon)
    weeks = None if filled is None else tuple(MONDAY + timedelta(weeks=week) for week in filled)
    assert found == (weeks, pytest.approx(often))


def test_what_few_years_give_is_told_as_such() -> None:
    weeks = MONDAY, MONDAY + timedelta(weeks=4)
    far = MONDAY + 2 * FAR_OFF
    told = [_because("leeks", MONDAY, weeks, often, far, "") for often in (0.02, 0.32, 0.58, 0.75)]
    assert [text.removeprefix("leeks from the week of 1 Mar to 29 Mar") for text in told] == [
        " in 1 year of 10", " in 3 years of 10", " in 6 years of 10", ""]


@pytest.mark.parametrize(("item", "weeks", "said"), [
    ("freezer beans, to keep", 0, "freezer beans, to keep, by the week of 1 Mar"),
    ("leeks", 0, "leeks in the week of 1 Mar"), ("leeks", 2, "leeks from the week of 1 Mar to 15 Mar"),
])
def test_one_week_is_no_span_and_what_is_put_by_is_there_by_its_week(
    item: str, weeks: int, said: str
) -> None:
    fills = MONDAY, MONDAY + timedelta(weeks=weeks)
    assert _because(item, MONDAY, fills, 1.0, MONDAY + 2 * FAR_OFF, "") == said


def stored(ripe: list[int], wanted_from: int, wanted_to: int) -> Any:
    """A request of one sowing for each of some weeks; each gives five weeks' wish, which keeps."""
    wanted = np.zeros((1, WEEKS))
    wanted[0, wanted_from:wanted_to] = 1.0
    number = np.arange(len(ripe))
    last, kg = np.full(number.size, WEEKS - 1), np.full(number.size, 5.0)
    supply = Supply(number, number * 0, np.array(ripe), last, kg)
    return SimpleNamespace(supply=supply, wanted=wanted, years=1, candidates=SomeCandidates(number * 0))


def test_of_several_in_store_each_fills_the_weeks_to_which_those_before_it_do_not_last() -> None:
    """Told each as though it were alone, all sowings of onions ended in autumn, and none was said to
    fill the winter that they do fill."""
    added = weeks_filled(stored([12, 10, 11], 10, 30), nothing_given(), np.ones(3))
    weeks = {number: np.flatnonzero(kg).tolist() for number, kg in added.items()}
    assert weeks == {1: [10, 11, 12, 13, 14], 2: [15, 16, 17, 18, 19], 0: [20, 21, 22, 23, 24]}
    one = weeks_filled(stored([12, 10, 11], 10, 30), nothing_given(), np.array([0.0, 1.0, 0.0]))
    assert one.keys() == {1}


def test_what_stands_is_eaten_before_what_is_sown() -> None:
    one = np.zeros(1, np.int64)
    stands = Given(one, one, one + 9, one + WEEKS - 1, np.full(1, 3.0))
    added = weeks_filled(stored([10], 10, 30), stands, np.ones(1))
    assert np.flatnonzero(added[0]).tolist() == [13, 14, 15, 16, 17]


def test_no_sowing_fills_weeks_before_it_is_first_picked() -> None:
    """Lamb's lettuce was 'first picked 22 Feb-26 Apr' and 'from the week of 24 Jan' in one line."""
    picked = (date(2028, 2, 22), date(2028, 3, 20), date(2028, 4, 26))  # a Tuesday
    january, february, april = date(2028, 1, 24), date(2028, 2, 21), date(2028, 4, 24)
    assert not_before((january, april), picked) == (february, april)
    assert not_before((april, april), picked) == (april, april)
    assert not_before((january, january), picked) == (january, january)
    assert not_before((january, april), None) == (january, april)
    assert not_before(None, picked) is None
