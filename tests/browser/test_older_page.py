"""A page left open, or kept for later, writes the day on which something is pressed, not its own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from served_garden import DAY

from evenpick.base.days import day_date
from evenpick.garden.diary import Noted, SeedGot, Sowed
from evenpick.service.book import record_of

LATER = DAY + timedelta(days=4)


def days_of(house: Any, kind: type) -> list[date]:
    return [day_date(entry.day) for entry in record_of(house.garden).entries if isinstance(entry.fact, kind)]


@pytest.fixture
def house(serve: Callable[..., Any]) -> Any:
    """With a clock that the tests set on."""
    shown = [DAY]
    made = serve(clock=lambda: shown[0])
    made.set_on = lambda: shown.__setitem__(0, LATER)
    return made


def four_days_on(house: Any, page: Page) -> None:
    page.clock.set_fixed_time(datetime.now() + timedelta(days=4))
    house.set_on()


def test_done_on_an_older_page_is_of_the_day_it_is_pressed(house: Any) -> None:
    page = house.visit("/")
    four_days_on(house, page)
    page.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Done").click()
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sunday 7 February 2027")
    assert days_of(house, Sowed) == [LATER]


def test_without_scripts_too(house: Any) -> None:
    page = house.visit("/", script=False)
    house.set_on()
    page.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Done").click()
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()
    assert days_of(house, Sowed) == [LATER]


def test_a_page_of_another_day_writes_that_day(house: Any) -> None:
    page = house.visit("/?on=2027-02-02")
    page.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Done").click()
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()
    assert days_of(house, Sowed) == [date(2027, 2, 2)]


def test_out_of_reach_each_is_of_the_day_it_was_pressed(house: Any) -> None:
    page = house.visit("/")
    page.context.set_offline(True)
    four_days_on(house, page)
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.locator(".aged")).to_contain_text("This page is of 3 February 2027")
    page.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Done").click()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    expect(page.get_by_label("Day", exact=True)).to_have_value(LATER.isoformat())
    page.get_by_label("What was done or seen").fill("Frost on the pond")
    page.get_by_role("button", name="Read it back").click()
    expect(page.locator("#queue")).to_contain_text("2 entries wait")
    page.context.set_offline(False)
    page.clock.set_fixed_time(datetime.now() + timedelta(days=6))
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#queue")).to_be_hidden()
    assert days_of(house, Sowed) == days_of(house, Noted) == [LATER]


def test_a_day_that_was_chosen_stays(house: Any) -> None:
    page = house.visit("/diary")
    page.get_by_label("Day", exact=True).fill("2027-02-01")
    four_days_on(house, page)
    page.get_by_label("What was done or seen").fill("Frost on the pond")
    page.get_by_role("button", name="Read it back").click()
    page.get_by_role("button", name="Keep the words alone").click()
    expect(page.get_by_text("Kept: 1 Feb 2027")).to_be_visible()


def test_a_packet_is_of_the_day_it_came(house: Any) -> None:
    page = house.visit("/tin")
    page.context.set_offline(True)
    page.get_by_label("Crop").fill("radish")
    page.get_by_label("How much").fill("10 g")
    page.get_by_role("button", name="Put it in the tin").click()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    four_days_on(house, page)
    page.context.set_offline(False)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#queue")).to_be_hidden()
    assert days_of(house, SeedGot) == [DAY]
