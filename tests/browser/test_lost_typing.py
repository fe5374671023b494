"""What was typed is never lost, whatever comes back: no session, a page too old, a fault, a refusal."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from served_garden import DAY

from evenpick.base.days import day_number
from evenpick.garden.diary import Entry, Noted, SeedGot, new_id
from evenpick.service.book import keep, record_of
from evenpick.web.keys import set_passphrase
from evenpick.web.pages import diary

PASSPHRASE = "broad beans by the wall"
LINE = "Frost on the pond"


def notes(house: Any) -> list[str]:
    return [entry.note for entry in record_of(house.garden).entries if isinstance(entry.fact, Noted)]


def sign_in(page: Page, passphrase: str) -> None:
    page.get_by_label("Passphrase of this garden").fill(passphrase)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("heading", name="Write it down")).to_be_visible()


def type_and_send(page: Page) -> None:
    page.get_by_label("What was done or seen").fill(LINE)
    page.get_by_role("button", name="Read it back").click()


def try_again(page: Page) -> None:
    page.evaluate("window.dispatchEvent(new Event('online'))")


def test_where_the_session_has_ended_it_waits_for_the_next(serve: Callable[..., Any]) -> None:
    house = serve(passphrase=PASSPHRASE)
    page = house.visit("/enter")
    sign_in(page, PASSPHRASE)
    served = house.app.state.served
    served.keys = set_passphrase(served.keys, "a new one for all")  # ends every session
    type_and_send(page)
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    assert not notes(house)
    page.get_by_role("link", name="Sign in, and what waits goes.").click()
    sign_in(page, "a new one for all")
    expect(page.locator("#queue")).to_be_hidden()
    assert notes(house) == [LINE]


def test_a_page_older_than_its_session_sends_with_the_token_of_now(serve: Callable[..., Any]) -> None:
    house = serve(passphrase=PASSPHRASE)
    page = house.visit("/enter")
    sign_in(page, PASSPHRASE)
    page.context.clear_cookies()
    other = page.context.new_page()
    other.goto(house.address + "/enter")
    sign_in(other, PASSPHRASE)
    type_and_send(page)
    expect(page.get_by_role("heading", level=1)).to_have_text("Is that right?")
    page.get_by_role("button", name="Keep the words alone").click()
    expect(page.get_by_text("Kept: 3 Feb 2027")).to_be_visible()
    assert notes(house) == [LINE]


def test_where_the_garden_fails_it_waits_and_holds_up_no_other(
    house: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    page, whole = house.visit("/diary"), diary.understand

    def fails(garden: Any, line: str, *rest: Any) -> Any:
        if line == LINE:
            raise ZeroDivisionError
        return whole(garden, line, *rest)

    monkeypatch.setattr(diary, "understand", fails)
    type_and_send(page)
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    page.context.set_offline(True)
    page.get_by_label("What was done or seen").fill("Rain at last")
    page.get_by_role("button", name="Read it back").click()
    expect(page.locator("#queue")).to_contain_text("2 entries wait")
    page.context.set_offline(False)
    try_again(page)
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    assert notes(house) == ["Rain at last"]
    monkeypatch.setattr(diary, "understand", whole)
    try_again(page)
    expect(page.locator("#queue")).to_be_hidden()
    assert sorted(notes(house)) == [LINE, "Rain at last"]


def test_a_refusal_that_is_no_page_leaves_the_form_as_it_is(house: Any) -> None:
    page = house.visit("/diary")
    page.evaluate("window.untouched = true")
    post = {"status": 421, "content_type": "text/html", "body": "<h1>No</h1>"}
    page.route("**/diary", lambda route: route.fulfill(**post) if route.request.method == "POST"
               else route.continue_())
    for _ in range(2):
        type_and_send(page)
        expect(page.get_by_role("alert")).to_have_text("The garden said no (421).")
    expect(page.get_by_label("What was done or seen")).to_have_value(LINE)
    assert page.evaluate("window.untouched")
    expect(page.locator("#queue")).to_be_hidden()


def test_a_yes_of_another_than_the_garden_is_not_believed(house: Any) -> None:
    """Such as of a network that wants its own page seen first."""
    page, between = house.visit("/diary"), []

    def answer(route: Any) -> None:
        if not between:
            between.append(route)
            route.fulfill(status=200, content_type="text/html", body="<h1>Welcome to the inn</h1>")
        else:
            route.continue_()

    page.route("**/diary", lambda route: answer(route) if route.request.method == "POST"
               else route.continue_())
    type_and_send(page)
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    try_again(page)
    expect(page.locator("#queue")).to_be_hidden()
    assert notes(house) == [LINE]


def test_what_is_being_typed_stays_when_what_waited_has_gone(house: Any) -> None:
    page = house.visit("/diary")
    page.context.set_offline(True)
    type_and_send(page)
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    page.get_by_label("What was done or seen").fill("and ice on the")
    page.get_by_label("Day", exact=True).focus()
    page.context.set_offline(False)
    try_again(page)
    expect(page.locator("#queue")).to_be_hidden()
    page.wait_for_load_state("networkidle")
    expect(page.get_by_label("What was done or seen")).to_have_value("and ice on the")
    assert notes(house) == [LINE]


@pytest.mark.parametrize("script", [True, False])
def test_what_the_garden_refuses_stands_in_its_form(house: Any, script: bool) -> None:
    keep(house.garden, [Entry(new_id(), day_number(DAY), SeedGot("rocket", year=2026, grams=2.0))])
    page = house.visit("/tin", 360, script=script)
    page.get_by_label("Left", exact=True).fill("a handful")
    page.get_by_role("button", name="Write it down: what is left of a packet").click()
    expect(page.get_by_role("alert")).to_contain_text("'a handful' can't be read")
    expect(page.get_by_label("Left", exact=True)).to_have_value("a handful")
    page.get_by_label("Left", exact=True).fill("1,5 g")
    page.get_by_role("button", name="Write it down: what is left of a packet").click()
    expect(page.get_by_role("status").filter(has_text="Kept: 3 Feb 2027")).to_be_visible()
    page.get_by_role("button", name="Undo: Kept").click()
    expect(page.get_by_role("status").filter(has_text="Undone: 3 Feb 2027")).to_be_visible()


def test_a_page_on_which_something_was_just_kept_can_be_opened_again_out_of_reach(house: Any) -> None:
    """A phone that closed it opens its address again: that of the page, not of what it said once."""
    page = house.visit("/diary")
    page.evaluate("navigator.serviceWorker.ready")
    page.reload()
    page.evaluate("caches.keys()")
    type_and_send(page)
    page.get_by_role("button", name="Keep the words alone").click()
    expect(page.get_by_text("Kept: 3 Feb 2027")).to_be_visible()
    assert page.url == house.address + "/diary"
    page.context.set_offline(True)
    page.reload()
    expect(page.get_by_role("heading", name="Diary")).to_be_visible()
