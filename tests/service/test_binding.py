"""What is in the way of an item (docs/design/season.md, 16)."""

from __future__ import annotations

from datetime import date
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from evenpick.plan.horizon import WEEKS
from evenpick.service.binding import _given_up, _season

SHORT = slice(10, 20)


@pytest.mark.parametrize(("never", "in_bad_years", "because"), [
    (True, True, "nothing that can be sown is ripe in those weeks"),
    (False, True, "in bad years nothing that can be sown is ripe when it is wanted"),
])
def test_weeks_that_nothing_can_serve_are_told_before_what_is_full(
    never: bool, in_bad_years: bool, because: str
) -> None:
    """Ten weeks go without in the second of two years: 5 of the year's 52 kg in the mean."""
    work: Any = SimpleNamespace(request=SimpleNamespace(wanted=np.ones((1, WEEKS))))
    unmet, reach, ripe = np.zeros((WEEKS, 2)), np.ones(WEEKS, dtype=bool), np.ones((2, WEEKS), dtype=bool)
    unmet[SHORT, 1], reach[SHORT], ripe[1, SHORT] = 1.0, not never, not in_bad_years
    nothing: Any = None
    found = _given_up(work, nothing, np.zeros(0), 0, "leeks", unmet, reach, ripe)
    assert found is not None
    assert (found.item, found.because) == ("leeks", because)
    assert found.missing == pytest.approx(10 / 2 / 52)


@pytest.mark.parametrize(("lat", "monday", "told"), [
    (51.5, date(2026, 12, 7), "winter 2027"), (-43.5, date(2026, 12, 7), "summer 2027"),
    (-43.5, date(2027, 4, 5), "autumn 2027"), (23.5, date(2027, 4, 5), "spring 2027"),
    (-1.3, date(2026, 11, 30), "September to November 2026"),
    (-1.3, date(2026, 12, 7), "December 2026 to February 2027"),
    (-0.2, date(2027, 2, 22), "December 2026 to February 2027"),
    (19.4, date(2027, 4, 5), "March to May 2027"),
])
def test_the_tropics_have_months_and_no_winter(lat: float, monday: date, told: str) -> None:
    assert _season(monday, lat) == told
