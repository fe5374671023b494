"""Windows, months and verdicts of a garden whose open ground nobody waters are what the rain leaves (O11,
water.md, 20)."""

from __future__ import annotations

from datetime import date

import pytest

from evenpick.climate.site import Site
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.report.terminal import render
from evenpick.report.when_json import windows_shape
from evenpick.report.windows import windows_page
from evenpick.report.words import Words
from evenpick.service.outlook_answer import MonthDay, WindowRow, WindowsAnswer
from evenpick.service.why import why
from evenpick.service.windows import windows

PUNE = Site("Pune", 18.52, 73.86, 554.0)
RAIN, CAN = Seedbed("loam", watered=False), Seedbed("loam")
WORDS = Words("british", "metric", {}, {})


def answer(seedbed: Seedbed) -> WindowsAnswer:
    return windows(PUNE, WeatherChoice(), ["okra", "dwarf-bean"], ("open",), 2027, seedbed=seedbed)


@pytest.fixture(scope="module")
def by_rain() -> WindowsAnswer:
    return answer(RAIN)


@pytest.fixture(scope="module")
def by_hand() -> WindowsAnswer:
    return answer(CAN)


def open_on(row: WindowRow, day: MonthDay) -> bool:
    if row.all_year:
        return True
    if row.opens <= row.closes:
        return row.opens <= day <= row.closes
    return day >= row.opens or day <= row.closes


def sown_on(told: WindowsAnswer, crop: str, day: MonthDay) -> bool:
    return any(open_on(row, day) for row in told.windows if row.crop == crop)


def test_nothing_is_sown_into_months_without_rain(by_rain: WindowsAnswer, by_hand: WindowsAnswer) -> None:
    """The windows of a garden that said that nobody waters it were those of watered ground: okra all the dry
    season long, of which every plant dies."""
    for day in ((1, 15), (2, 15)):
        assert sown_on(by_hand, "okra", day)
        assert not sown_on(by_rain, "okra", day)
    assert sown_on(by_rain, "okra", (6, 1))


def test_what_they_hold_for_is_told(by_rain: WindowsAnswer, by_hand: WindowsAnswer) -> None:
    told, untold = (" ".join(render(windows_page(one, WORDS)).split()) for one in (by_rain, by_hand))
    assert "Nobody waters the open ground" in told
    assert "Nobody waters" not in untold
    assert not windows_shape(by_rain, WORDS)["watered"]
    assert windows_shape(by_hand, WORDS)["watered"]


def test_a_verdict_is_that_of_the_windows(by_rain: WindowsAnswer) -> None:
    found = why(PUNE, WeatherChoice(), "okra", date(2027, 2, 15), way="raised", seedbed=RAIN)
    assert found.judgement == "not"
    assert found.against == "too little rain"
    assert not [row for row in found.windows if open_on(row, (2, 15))]
