"""By when a planned sowing is to be made, and what closes its window (docs/design/days.md, 5)."""

from __future__ import annotations

from datetime import date, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from evenpick.plan.horizon import SOWING_WEEKS, WEEKS
from evenpick.plan.request import Supply
from evenpick.service import sowings
from evenpick.service.sowings import FAR_OFF, _because, _closing, _fills, _last_able

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
        supply=supply, wanted=wanted, years=10, candidates=SimpleNamespace(item=np.zeros(1, np.int64))))


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
    found = _fills(of_one(ripe, last), 0, 1.0, horizon)
    weeks = None if filled is None else tuple(MONDAY + timedelta(weeks=week) for week in filled)
    assert found == (weeks, pytest.approx(often))


def test_what_few_years_give_is_told_as_such() -> None:
    weeks = MONDAY, MONDAY + timedelta(weeks=4)
    far = MONDAY + 2 * FAR_OFF
    told = [_because("leeks", MONDAY, weeks, often, far, "") for often in (0.02, 0.32, 0.5)]
    assert [text.removeprefix("leeks from the week of 1 Mar to 29 Mar") for text in told] == [
        " in 1 year of 10", " in 3 years of 10", ""]
