"""When to sow: something to look at at once, and nothing grown anew for a line that has no weather in it."""

from __future__ import annotations

import threading
from typing import Any

import pytest
from served_garden import DAY, DRILL, Place

from evenpick.base.days import day_number
from evenpick.garden.diary import Entry, Reading, Watered, new_id
from evenpick.service.book import keep
from evenpick.service.month import month
from evenpick.service.sown_in_year import sown_in_year
from evenpick.service.where import garden_site
from evenpick.service.windows import windows
from evenpick.web.pages import when
from evenpick.web.soon import Soon


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """The years that every crop was grown for, one crop in place of all."""
    found: list[Any] = []

    def few(site: Any, choice: Any, year: int, *rest: Any) -> Any:
        found.append(year)
        return sown_in_year(site, choice, year, *rest, crops=("radish",))

    monkeypatch.setattr(when, "sown_in_year", few)
    return found


def written(place: Place, fact: Any) -> None:
    keep(place.garden, [Entry(new_id(), day_number(DAY), fact)])


def test_a_line_without_weather_leaves_the_windows(grown: Place, asked: list[Any]) -> None:
    """Every line written had all crops grown anew for the page, some seconds of it."""
    for fact in (Watered(DRILL), Watered(DRILL)):
        assert "Radish" in grown.client.get("/when").text
        written(grown, fact)
    assert len(asked) == 1


def test_the_months_are_told_of_what_the_windows_were_grown_for(grown: Place, asked: list[Any]) -> None:
    """They were grown apart: eight seconds for the one, eight again for the other, and for each month."""
    for page in ("/when", "/month", "/month?month=7", "/month?month=1", "/month?month=12"):
        assert "Radish" in grown.client.get(page).text
    assert asked == [DAY.year, DAY.year + 1], "January is the next year's"


def test_of_one_growing_both_are_as_each_by_itself(place: Place) -> None:
    site, choice = garden_site(place.garden)
    both = sown_in_year(site, choice, 2027, (3, 9), crops=None)
    assert both.windows == windows(site, choice, year=2027)
    assert both.months == {which: month(site, choice, which, 2027) for which in (3, 9)}


def test_a_reading_of_ones_own_makes_them_anew(grown: Place, asked: list[Any]) -> None:
    grown.client.get("/when")
    written(grown, Reading(tmin=-3.0, tmax=4.0))
    grown.client.get("/when")
    assert len(asked) == 2


def test_a_page_that_takes_long_says_so_and_comes_by_itself(
    grown: Place, asked: list[Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    go = threading.Event()
    slow = when.sown_in_year

    def later(*given: Any, **more: Any) -> Any:
        assert go.wait(60)
        return slow(*given, **more)

    monkeypatch.setattr(when, "sown_in_year", later)
    soon: Soon = grown.app.state.served.soon
    soon.patience = 0.05
    first, again = grown.client.get("/when?crop="), grown.client.get("/when?crop=")
    for page in (first, again):
        assert (page.status_code, page.headers["refresh"]) == (202, "1")
        assert "some seconds" in page.text
        assert 'href="/when?crop="' in page.text
    go.set()
    soon.patience = 60.0
    there = grown.client.get("/when?crop=")
    assert there.status_code == 200
    assert "refresh" not in there.headers
    assert "Radish" in there.text
    assert len(asked) == 1


def test_what_went_wrong_beside_is_told(grown: Place) -> None:
    grown.app.state.served.soon.patience = 60.0
    assert grown.client.get("/when?crop=plumcot").status_code == 404
