"""A button pressed twice writes once, within reach and out of it; what is typed next is another entry."""

from __future__ import annotations

from typing import Any

from playwright.sync_api import Page, Route, expect

from evenpick.garden.diary import Answered, Noted, Picked
from evenpick.service.book import record_of


def facts(house: Any, kind: type) -> list[Any]:
    return [entry for entry in record_of(house.garden).entries if isinstance(entry.fact, kind)]


def write(page: Page, line: str, press: str = "click") -> None:
    page.get_by_label("What was done or seen").fill(line)
    getattr(page.get_by_role("button", name="Read it back"), press)()


def come_back(page: Page) -> None:
    page.context.set_offline(False)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#queue")).to_be_hidden()


def test_keep_it_pressed_twice_keeps_one(grown: Any) -> None:
    page = grown.visit("/diary")
    before = len(facts(grown, Picked))
    write(page, "picked 0.4 kg of rocket", "dblclick")
    page.get_by_role("button", name="Keep it").dblclick()
    expect(page.get_by_text("Kept: 3 Feb 2027")).to_be_visible()
    page.wait_for_load_state("networkidle")
    assert len(facts(grown, Picked)) == before + 1


def test_while_it_is_sent_the_button_rests_and_says_so(house: Any) -> None:
    page, held = house.visit("/"), []

    def hold(route: Route) -> None:
        held.append(route)

    page.route("**/jobs", hold)
    job = page.locator(".job").filter(has_text="Sow Rocket")
    job.get_by_role("button", name="Done").click()
    expect(job.get_by_role("button", name="sending")).to_be_disabled()
    expect(job.get_by_role("button", name="Put off")).to_be_disabled()
    held[0].continue_()
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()
    assert len(facts(house, Answered)) == len(held) == 1


def test_out_of_reach_twice_waits_once_and_the_next_line_waits_too(house: Any) -> None:
    page = house.visit("/diary")
    page.context.set_offline(True)
    write(page, "Frost on the pond", "dblclick")
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    expect(page.get_by_label("What was done or seen")).to_have_value("")
    write(page, "Rain at last", "dblclick")
    expect(page.locator("#queue")).to_contain_text("2 entries wait")
    come_back(page)
    assert sorted(entry.note for entry in facts(house, Noted)) == ["Frost on the pond", "Rain at last"]


def test_a_line_read_back_waits_as_one_thing_alone(grown: Any) -> None:
    """Kept out of reach, it can't be kept as something else too."""
    page = grown.visit("/diary")
    before = len(facts(grown, Picked))
    write(page, "picked 0.4 kg of rocket")
    expect(page.get_by_role("button", name="Keep it")).to_be_visible()
    page.context.set_offline(True)
    page.get_by_role("button", name="Keep it").dblclick()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    expect(page.get_by_role("button", name="Keep it")).to_have_count(0)
    expect(page.get_by_label("What was done or seen")).to_have_value("")
    come_back(page)
    assert len(facts(grown, Picked)) == before + 1


def test_what_is_typed_while_a_line_is_sent_is_not_emptied_with_it(house: Any) -> None:
    page, held = house.visit("/diary"), []
    page.route("**/diary", lambda route: held.append(route) if route.request.method == "POST"
               else route.continue_())
    with page.expect_request(lambda request: request.method == "POST"):
        write(page, "Frost on the pond")
    page.get_by_label("What was done or seen").fill("Rain at last")
    held[0].abort()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    expect(page.get_by_label("What was done or seen")).to_have_value("Rain at last")
    page.unroute_all()
    page.get_by_role("button", name="Read it back").click()
    page.get_by_role("button", name="Keep the words alone").click()
    expect(page.get_by_text("Kept: 3 Feb 2027")).to_be_visible()
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#queue")).to_be_hidden()
    assert sorted(entry.note for entry in facts(house, Noted)) == ["Frost on the pond", "Rain at last"]
