"""What is under way when a page goes, a device without room, two answers to one job, a slow garden."""

from __future__ import annotations

import time
from datetime import datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from evenpick.garden.diary import Answered, Noted
from evenpick.service.book import record_of
from evenpick.web.pages import today


def facts(house: Any, kind: type) -> list[Any]:
    return [entry.fact for entry in record_of(house.garden).entries if isinstance(entry.fact, kind)]


def rocket(page: Page) -> Any:
    return page.locator(".job").filter(has_text="Sow Rocket")


def come_back(page: Page) -> None:
    page.context.set_offline(False)
    page.evaluate("window.dispatchEvent(new Event('online'))")


def put_by(house: Any) -> Page:
    """Today's page, seen and put by on the device."""
    page: Page = house.visit("/")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()
    page.wait_for_timeout(500)  # until the worker has put it by
    return page


def slow(seconds: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """From now on Today's page is made slowly."""
    whole = today._page

    def slowly(*about: Any, **more: Any) -> Any:
        time.sleep(seconds)
        return whole(*about, **more)

    monkeypatch.setattr(today, "_page", slowly)


def test_what_was_being_sent_as_the_phone_went_dead_goes_when_it_is_opened_again(house: Any) -> None:
    """It was only put by once nobody had answered for eight seconds."""
    page = house.visit("/")
    page.context.route("**/jobs", lambda route: None)  # neither answered nor refused
    rocket(page).get_by_role("button", name="Done").click()
    expect(page.get_by_role("button", name="sending …")).to_be_visible()
    expect(page.locator("#queue")).to_be_hidden()  # it is being sent: nothing waits yet
    left = page.context.storage_state()  # all that there is of it once the phone is dead
    assert facts(house, Answered) == []
    again = house.visit("/pickings", storage_state=left)
    again.clock.set_fixed_time(datetime.now() + timedelta(minutes=1))
    again.goto(house.address + "/")
    expect(again.locator(".answered")).to_contain_text("Sow Rocket: done")
    expect(again.locator("#queue")).to_be_hidden()
    assert [fact.answer for fact in facts(house, Answered)] == ["done"]


def test_a_page_that_is_left_gives_what_it_was_sending_to_the_next(house: Any) -> None:
    page = house.visit("/")
    page.context.route("**/jobs", lambda route: None)
    rocket(page).get_by_role("button", name="Done").click()
    expect(page.get_by_role("button", name="sending …")).to_be_visible()
    page.context.unroute("**/jobs")
    page.goto(house.address + "/pickings")
    expect(page.locator("#queue")).to_be_hidden()
    page.goto(house.address + "/")
    expect(page.locator(".answered")).to_contain_text("Sow Rocket: done")


def test_nor_is_it_sent_by_another_page_while_it_is_under_way(house: Any) -> None:
    page = house.visit("/diary")
    other = page.context.new_page()
    other.goto(house.address + "/diary")
    held: list[Any] = []
    page.route("**/diary", lambda route: held.append(route) if route.request.method == "POST"
               else route.continue_())
    page.get_by_label("What was done or seen").fill("rain at last")
    page.get_by_role("button", name="Read it back").click()
    expect(page.get_by_role("button", name="sending …")).to_be_visible()
    other.evaluate("window.dispatchEvent(new Event('online'))")
    other.wait_for_timeout(700)
    assert facts(house, Noted) == []
    held[0].continue_()
    expect(page.get_by_role("heading", level=1)).to_have_text("Is that right?")
    assert page.evaluate("localStorage.getItem('evenpick.waiting')") == "[]"


def test_a_device_without_room_says_so_and_leaves_what_was_typed(house: Any) -> None:
    """The form stood there as though nothing had been pressed, and no word was said."""
    page = house.visit("/diary")
    page.evaluate("() => { Storage.prototype.setItem = () => { throw new Error('full'); }; }")
    page.context.set_offline(True)
    page.get_by_label("What was done or seen").fill("rain at last")
    page.get_by_role("button", name="Read it back").click()
    expect(page.get_by_role("alert")).to_contain_text("Not sent, and this device has no room to keep it")
    expect(page.get_by_label("What was done or seen")).to_have_value("rain at last")
    page.context.set_offline(False)
    page.get_by_role("button", name="Read it back").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Is that right?")


def test_both_answers_are_shown_of_one_that_waited_too(house: Any) -> None:
    """It could only be forgotten; where it was pressed in reach both were shown, with a way to change it."""
    page, other = house.visit("/"), house.visit("/")
    page.context.set_offline(True)
    rocket(page).get_by_role("button", name="Done").click()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    rocket(other).get_by_role("button", name="Won’t do").click()
    expect(other.get_by_text("Sow Rocket: refused")).to_be_visible()
    come_back(page)
    expect(page.locator("#queue")).to_contain_text("Not taken: sow Rocket: done")
    page.get_by_role("button", name="Send it again").click()
    expect(page.get_by_text("Kept: refused, 3 Feb 2027")).to_be_visible()
    expect(page.get_by_text("Yours: done")).to_be_visible()
    page.get_by_role("button", name="Undo what is kept").click()
    expect(rocket(page).get_by_role("button", name="Done")).to_be_visible()
    page.get_by_role("button", name="Send it again").click()
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()
    expect(page.locator("#queue")).to_be_hidden()
    assert [fact.answer for fact in facts(house, Answered)][-1] == "done"


def test_a_page_shown_as_last_seen_is_renewed_once_the_garden_answers(
    house: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the garden was slow what was last seen stayed, with jobs that were done by then."""
    page = put_by(house)
    other = house.visit("/")
    rocket(other).get_by_role("button", name="Done").click()
    expect(other.get_by_text("Sow Rocket: done")).to_be_visible()
    slow(7, monkeypatch)
    page.reload()
    expect(rocket(page).get_by_role("button", name="Done")).to_be_visible()
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()


def test_what_waited_is_shown_as_done_once_it_has_gone_however_slowly(
    house: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The page asked for itself again and was given what was last seen: the job was there, unanswered."""
    page = put_by(house)
    page.context.set_offline(True)
    rocket(page).get_by_role("button", name="Done").click()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    slow(5, monkeypatch)
    come_back(page)
    expect(page.locator(".answered")).to_contain_text("Sow Rocket: done", timeout=25_000)
    expect(page.locator("#queue")).to_be_hidden()
