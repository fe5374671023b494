"""Lines that wait on a device: asked about once they arrive, shown, changed, dropped."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from evenpick.garden.diary import Lost, Noted, Picked
from evenpick.service.book import record_of


def facts(house: Any, kind: type) -> list[Any]:
    return [entry.fact for entry in record_of(house.garden).entries if isinstance(entry.fact, kind)]


def write(page: Page, line: str) -> None:
    page.get_by_label("What was done or seen").fill(line)
    page.get_by_role("button", name="Read it back").click()


def write_out_of_reach(page: Page, line: str) -> None:
    """And sees it wait: that it can't be sent takes the browser a moment to know."""
    write(page, line)
    expect(page.locator("#queue")).to_contain_text(line)


def come_back(page: Page) -> None:
    page.context.set_offline(False)
    page.evaluate("window.dispatchEvent(new Event('online'))")


@pytest.fixture
def page(grown: Any) -> Page:
    """Out of reach."""
    found = grown.visit("/diary")
    found.context.set_offline(True)
    return found


def test_what_is_not_clear_is_asked_once_back_in_reach(grown: Any, page: Page) -> None:
    notes, lost = len(facts(grown, Noted)), len(facts(grown, Lost))
    for line in ("slugs got at the rocket", "picked 0.4 kg of rocket"):
        write_out_of_reach(page, line)
    expect(page.locator("#queue")).to_contain_text("2 entries wait")
    come_back(page)
    expect(page.locator("#queue")).to_contain_text("1 line waits on this device for your answer")
    expect(page.locator("#queue")).to_contain_text("How much of the Rocket was lost?")
    assert len(facts(grown, Noted)) == notes
    assert any(fact.kg == 0.4 for fact in facts(grown, Picked))
    page.reload()
    page.get_by_role("button", name="Answer it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Is that right?")
    page.get_by_label("a quarter").check()
    page.get_by_role("button", name="That is it").click()
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("Kept: 3 Feb 2027")).to_be_visible()
    expect(page.locator("#queue")).to_be_hidden()
    assert len(facts(grown, Lost)) == lost + 1


def test_one_answered_out_of_reach_again_waits_in_the_firsts_place(grown: Any, page: Page) -> None:
    lost = len(facts(grown, Lost))
    write_out_of_reach(page, "slugs got at the rocket")
    come_back(page)
    page.get_by_role("button", name="Answer it").click()
    page.get_by_label("a tenth").check()
    page.context.set_offline(True)
    page.get_by_role("button", name="That is it").click()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    expect(page.locator("#queue")).not_to_contain_text("for your answer")
    come_back(page)
    expect(page.locator("#queue")).to_be_hidden()
    assert len(facts(grown, Lost)) == lost + 1


def test_a_waiting_line_is_shown_changed_and_dropped(grown: Any, page: Page) -> None:
    before = len(facts(grown, Picked))
    write_out_of_reach(page, "picked 4 kg of rocket")
    write_out_of_reach(page, "swallows are back")
    page.get_by_text("Show what waits").click()
    expect(page.locator("#queue")).to_contain_text("picked 4 kg of rocket")
    page.get_by_role("button", name="Forget it: a diary line “swallows are back”").click()
    page.get_by_role("button", name="Change it").click()
    field = page.get_by_label("What was done or seen")
    expect(field).to_have_value("picked 4 kg of rocket")
    write(page, "picked 0.4 kg of rocket")
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    come_back(page)
    expect(page.locator("#queue")).to_be_hidden()
    assert [fact.kg for fact in facts(grown, Picked)[before:]] == [0.4]
    assert not facts(grown, Noted)


def test_one_being_changed_goes_no_more_by_itself(grown: Any, page: Page) -> None:
    write_out_of_reach(page, "picked 4 kg of rocket")
    page.get_by_text("Show what waits").click()
    page.get_by_role("button", name="Change it").click()
    come_back(page)
    page.wait_for_load_state("networkidle")
    expect(page.locator("#queue")).to_contain_text("it is being changed")
    assert not any(fact.kg == 4 for fact in facts(grown, Picked))
    write(page, "picked 0.4 kg of rocket")
    page.get_by_role("button", name="Keep it").click()
    expect(page.locator("#queue")).to_be_hidden()
    assert any(fact.kg == 0.4 for fact in facts(grown, Picked))
    assert not any(fact.kg == 4 for fact in facts(grown, Picked))


def test_back_in_reach_while_one_is_given_up_it_goes_at_once(grown: Any) -> None:
    page, held = grown.visit("/diary"), []
    page.route("**/diary", lambda route: held.append(route), times=1)
    with page.expect_request(lambda request: request.method == "POST"):
        write(page, "swallows are back")
    page.evaluate("window.dispatchEvent(new Event('online'))")
    with page.expect_response("**/diary", timeout=8_000):
        held[0].abort()
    expect(page.locator("#queue")).to_be_hidden()
    assert len(facts(grown, Noted)) == 1


def test_what_waits_is_told_without_fault(page: Page, violations: Any) -> None:
    for line in ("slugs got at the rocket", "swallows are back"):
        write_out_of_reach(page, line)
    page.get_by_text("Show what waits").click()
    assert not violations(page)
    assert not alike(page)


def alike(page: Page) -> list[str]:
    """Buttons of one page that are called the same."""
    names = page.evaluate("""[...document.querySelectorAll('#queue button')].map(one =>
        one.getAttribute('aria-label') || one.textContent)""")
    return [name for name in names if names.count(name) > 1]
