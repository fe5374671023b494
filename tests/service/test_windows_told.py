"""What the windows of a place tell: nothing twice."""

from __future__ import annotations

import pytest

from evenpick.climate.places import find_place
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.windows import MARGIN, YEAR, Window
from evenpick.service.windows import _within, windows


@pytest.mark.parametrize(("window", "wide", "inside"), [
    ((10, 20), (10, 20), True), ((10, 20), (11, 30), False), ((10, 21), (5, 20), False),
    ((10, 20), (340, YEAR + 40), True),  # over the New Year
    ((350, YEAR + 5), (340, YEAR + 40), True), ((330, YEAR + 5), (340, YEAR + 40), False),
    ((350, YEAR + 5), (0, YEAR - 1), True), ((10, 20), (40, YEAR + 9), False),
])
def test_one_window_lies_within_another(window: tuple[int, int], wide: tuple[int, int], inside: bool) -> None:
    (opens, closes), (first, last) = window, wide
    assert _within(Window(MARGIN + opens, MARGIN + closes), Window(MARGIN + first, MARGIN + last)) is inside


def test_overwintering_is_told_where_it_adds_days() -> None:
    """Auckland's leaf lettuce is sown all the year, and overwintered from 20 to 29 April beside it."""
    mild = windows(find_place("Auckland"), WeatherChoice(), ["leaf lettuce"], ["open"]).windows
    assert any(row.all_year for row in mild)
    assert {row.purpose for row in mild if row.way == "direct"} == {"fresh", "baby leaf"}
    cold = windows(find_place("Norwich, GB"), WeatherChoice(), ["leaf lettuce"], ["open"]).windows
    assert "overwintering" in {row.purpose for row in cold}
