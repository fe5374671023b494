"""A grower's round with a real browser: beginning, the day's jobs, the diary out of reach, two at once."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from served_garden import DRILL, LOST
from sideways import names_whole, no_sideways

from evenpick.garden.diary import Answered, Decided, Noted, Sowed
from evenpick.service.book import record_of
from evenpick.service.store_plan import saved_plan

FIVE_MINUTES = 300


def facts(house: Any, kind: type) -> list[Any]:
    return [entry for entry in record_of(house.garden).entries if isinstance(entry.fact, kind)]


def test_begin_to_a_first_plan_in_five_minutes(serve: Callable[..., Any]) -> None:
    house, begun = serve(None, lambda: date(2027, 3, 1)), time.monotonic()
    work = house.app.state.served.work
    whole = work.start
    work.start = lambda: whole(4.0)  # seconds of search: the whole time stands in benchmarks/pages.md
    page = house.visit("/")
    expect(page.get_by_role("heading", level=1)).to_have_text("Begin your garden")
    page.get_by_label("Where is it?").fill("Dublin, IE")
    page.get_by_label("What do they like?").fill("radish")
    page.get_by_role("button", name="Make my first plan").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(re.compile("Making the plan|The plan"))
    expect(page.get_by_text("The plan is made.")).to_be_visible(timeout=120_000)
    page.get_by_role("link", name="the sowings", exact=True).click()
    expect(page.get_by_role("row").filter(has_text="Radish").first).to_be_visible()
    assert time.monotonic() - begun < FIVE_MINUTES


def test_planning_is_stopped(serve: Callable[..., Any]) -> None:
    house = serve()
    before = saved_plan(house.garden)
    assert before is not None
    page = house.visit("/sowings")
    page.get_by_role("button", name="Plan again from today").click()
    expect(page.get_by_text("The best so far is proven within").first).to_be_visible(timeout=60_000)
    page.get_by_role("button", name="Stop, and keep the best so far").click()
    expect(page.get_by_text("Stopped; the best plan so far is kept.")).to_be_visible(timeout=60_000)
    expect(page.get_by_text("of the best possible")).to_be_visible()
    found = saved_plan(house.garden)
    assert found is not None
    assert found.seconds != before.seconds
    assert found.gap is not None
    page.goto(house.address + "/sowings")
    expect(page.get_by_role("row").filter(has_text="Rocket").first).to_be_visible()


def test_a_stopped_plan_is_dropped_at_a_second_word(serve: Callable[..., Any]) -> None:
    house = serve()
    before = saved_plan(house.garden)
    page = house.visit("/sowings")
    page.get_by_role("button", name="Plan again from today").click()
    page.get_by_role("button", name="Stop, and keep the best so far").click()
    house.app.state.served.work.stop()
    expect(page.get_by_text("Stopped. The plan that there was stays.")).to_be_visible(timeout=30_000)
    assert saved_plan(house.garden) == before


def test_a_days_round_on_a_phone(house: Any) -> None:
    page = house.visit("/")
    job = page.locator(".job").filter(has_text="Sow Rocket").first
    expect(job).to_be_in_viewport()  # the first thing seen is the first thing to do
    expect(job).to_contain_text("m")
    no_sideways(page)
    job.get_by_role("button", name="Done").click()
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()
    assert [entry.fact.crop for entry in facts(house, Sowed)] == ["rocket"]
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".job").filter(has_text="Sow Rocket").first).to_be_visible()
    assert not facts(house, Sowed)
    page.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Put off").click()
    expect(page.get_by_text("Sow Rocket: put off")).to_be_visible()
    for name in ("Pickings", "Sowings", "Ground", "Water", "Seed tin", "Weather", "Diary", "Lessons",
                 "Trials"):
        page.get_by_role("navigation").get_by_role("link", name=name).click()
        expect(page.get_by_role("heading", level=1)).to_have_text(name)
        no_sideways(page)


@pytest.mark.parametrize("width", [320, 360, 376, 385, 393, 412])
def test_the_names_of_pages_are_whole_on_any_phone(house: Any, width: int) -> None:
    page = house.visit("/", width)
    for path in ("/", "/pickings", "/sowings", "/weather"):
        page.goto(house.address + path)
        names_whole(page)


def test_lines_written_out_of_reach_come_back_once(house: Any) -> None:
    page = house.visit("/")
    page.evaluate("""new Promise(done => navigator.serviceWorker.controller ? done(true)
        : navigator.serviceWorker.addEventListener('controllerchange', () => done(true)))""")
    page.goto(house.address + "/diary")
    page.goto(house.address + "/pickings")
    page.goto(house.address + "/")
    page.wait_for_load_state("networkidle")
    page.context.set_offline(True)
    page.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Done").click()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    page.get_by_label("What was done or seen").fill("Frost on the pond")
    page.get_by_role("button", name="Read it back").click()
    expect(page.locator("#queue")).to_contain_text("2 entries wait")
    page.reload()  # with no signal the page is still there, and what waits is shown
    expect(page.locator("#queue")).to_contain_text("2 entries wait")
    expect(page.locator(".job.waits")).to_contain_text("waits on this device")
    page.goto(house.address + "/pickings")
    expect(page.get_by_role("heading", level=1)).to_have_text("Pickings")
    assert not facts(house, Noted)
    page.context.set_offline(False)
    expect(page.locator("#queue")).to_be_hidden(timeout=20_000)
    page.goto(house.address + "/")
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()
    assert len(facts(house, Answered)) == len(facts(house, Sowed)) == 1
    assert [entry.note for entry in facts(house, Noted)] == ["Frost on the pond"]


def test_a_line_is_read_back_before_it_is_kept(house: Any) -> None:
    page = house.visit("/diary")
    page.get_by_label("What was done or seen").fill("sowed 3 m rocket in bed")
    page.get_by_role("button", name="Read it back").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Is that right?")
    expect(page.get_by_role("main")).to_contain_text("Rocket")
    assert not facts(house, Sowed)
    while page.get_by_role("button", name="Keep it").count() == 0:
        page.get_by_role("button", name="That is it").click()  # a question: the first choice will do
        page.wait_for_load_state("networkidle")
    page.get_by_role("button", name="Keep it").click()
    expect(page.get_by_text("Kept: 3 Feb 2027")).to_be_visible()
    assert [entry.fact.crop for entry in facts(house, Sowed)] == ["rocket"]


def test_what_is_sent_twice_is_kept_once(house: Any) -> None:
    """The answer is lost on its way back, so the device sends again."""
    page = house.visit("/diary")
    lost = []

    def lose(route: Any) -> None:
        if not lost:
            lost.append(route.fetch(max_redirects=0))
            route.abort()
        else:
            route.continue_()

    page.route("**/diary", lambda route: lose(route) if route.request.method == "POST" else route.continue_())
    page.get_by_label("What was done or seen").fill("rain at last")
    page.get_by_role("button", name="Read it back").click()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#queue")).to_be_hidden()
    assert [entry.note for entry in facts(house, Noted)] == ["rain at last"]


def test_what_the_garden_refuses_is_kept_and_said(house: Any) -> None:
    page, other = house.visit("/"), house.visit("/")
    page.context.set_offline(True)
    page.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Won’t do").click()
    expect(page.locator("#queue")).to_contain_text("1 entry waits")
    other.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Done").click()
    expect(other.get_by_text("Sow Rocket: done")).to_be_visible()
    page.context.set_offline(False)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#queue")).to_contain_text("Not taken: sow Rocket: refused")
    expect(page.locator("#queue")).to_contain_text("answered meanwhile")
    assert [entry.fact.answer for entry in facts(house, Answered)] == ["done"]
    page.get_by_role("button", name="Forget it").click()
    expect(page.locator("#queue")).to_be_hidden()


def test_two_at_once_see_both_words(house: Any) -> None:
    one, two = house.visit("/sowings", 1280), house.visit("/sowings", 1280)
    for page in (one, two):
        page.get_by_role("link", name="Rocket").first.click()
    one.get_by_label("Amount").fill("2 m²")
    one.get_by_role("button", name="Fix it").click()
    one.get_by_role("button", name="Keep it").click(timeout=25_000)
    expect(one.get_by_role("heading", level=1)).to_have_text("Sowings")
    two.get_by_role("button", name="Refuse it").click()
    expect(two.get_by_role("alert")).to_contain_text("Nothing was written over")
    expect(two.get_by_role("row").filter(has_text="kept now")).to_contain_text("fixed at 2.0 m²")
    expect(two.get_by_role("row").filter(has_text="yours")).to_contain_text("refused")
    two.get_by_role("button", name="Keep mine instead").click()
    expect(two.get_by_role("heading", level=1)).to_have_text("Sowings")
    assert [entry.fact.decision for entry in facts(house, Decided)] == ["fixed", "refused"]


def test_a_sowing_is_moved_and_what_it_does_is_seen_first(house: Any) -> None:
    page = house.visit("/sowings", 1280)
    page.get_by_role("link", name="Runner bean").first.click()
    page.get_by_label("Day").fill("2027-06-05")
    page.get_by_label("Amount").fill("6 m²")
    page.get_by_role("button", name="Fix it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("What it would do")
    expect(page.get_by_role("heading", name="Weeks that change")).to_be_visible(timeout=25_000)
    expect(page.get_by_role("row").filter(has_text="runner beans").first).to_be_visible()
    assert not facts(house, Decided)  # nothing is written by looking
    page.get_by_role("button", name="Keep it").click()
    row = page.get_by_role("row").filter(has_text="Runner bean")
    expect(row.filter(has_text="5 Jun 2027").filter(has_text="fixed")).to_be_visible()
    page.goto(house.address + "/?on=2027-06-03")
    expect(page.locator(".job").filter(has_text="Sow Runner bean")).to_be_visible()


def test_by_keyboard_alone(house: Any) -> None:
    page = house.visit("/", 1280)
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="To the page")).to_be_focused()
    page.keyboard.press("Enter")
    for _ in range(6):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Done":
            break
    tag = page.evaluate("document.activeElement.id").removeprefix("done-")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Answered this week")).to_be_visible()
    inside = page.evaluate("document.getElementById('main').contains(document.activeElement)")
    assert inside  # the focus is not lost with the button that went
    page.locator(f"#undo-{tag}").focus()
    page.keyboard.press("Space")
    expect(page.locator(f"#done-{tag}")).to_be_visible()
    page.get_by_label("What was done or seen").focus()
    page.keyboard.type("sparrows in the peas")
    page.keyboard.press("Tab")
    while page.evaluate("document.activeElement.textContent") != "Read it back":
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Is that right?")
    while page.evaluate("document.activeElement.textContent") not in ("Keep it", "Keep the words alone"):
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_text("Kept: 3 Feb 2027")).to_be_visible()


def test_without_scripts(house: Any) -> None:
    page = house.visit("/", script=False)
    page.locator(".job").filter(has_text="Sow Rocket").get_by_role("button", name="Done").click()
    expect(page.get_by_text("Sow Rocket: done")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    page.goto(house.address + "/pickings")
    assert page.locator("figure img").evaluate("image => image.naturalWidth") > 0
    page.goto(house.address + "/diary")
    page.get_by_label("What was done or seen").fill("no scripts here")
    page.get_by_role("button", name="Read it back").click()
    page.get_by_role("button", name="Keep").first.click()
    expect(page.get_by_text("Kept: 3 Feb 2027")).to_be_visible()


MORE = ("/plan", "/work", "/why/picking?item=salad+leaves", "/leave", "/losses", f"/losses/{LOST}",
        f"/water/{DRILL}", f"/sown/{LOST}")


def test_a_loss_by_keyboard_alone_to_what_can_fill_it(grown: Any) -> None:
    page = grown.visit("/diary", 390)
    page.get_by_label("What was done or seen").focus()
    page.keyboard.type("slugs took all the lettuce")
    for word in ("Read it back", "Keep it", "What can still fill the weeks that this loss leaves bare"):
        while page.evaluate("document.activeElement.textContent") != word:
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.wait_for_load_state("networkidle")
    expect(page.get_by_role("heading", level=1)).to_have_text("After a loss: Leaf lettuce")
    expect(page.locator(".said")).to_be_in_viewport()
    no_sideways(page)


def test_water_is_ticked_without_scripts_and_by_keyboard(grown: Any) -> None:
    for script in (False, True):
        page = grown.visit("/water?on=2027-02-04", script=script)
        no_sideways(page)
        page.get_by_role("link", name="Why, and the fortnight: Leaf lettuce").click()
        expect(page.get_by_role("heading", level=1)).to_have_text("Water for Leaf lettuce")
    page = grown.visit("/water")
    expect(page.get_by_text("Local watering restrictions come first").first).to_be_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(grown: Any, violations: Callable[[Page], list[str]], scheme: str) -> None:
    from evenpick.web.served import PAGES

    page = grown.visit("/", color_scheme=scheme)
    wrong = []
    for path in [*(path for path, _ in PAGES), *MORE]:
        page.goto(grown.address + path)
        wrong += [f"{path} {found}" for found in violations(page)]
    page.goto(grown.address + "/sowings")
    page.get_by_role("link", name="Rocket").first.click()
    wrong += violations(page)
    assert not wrong, "\n".join(wrong)


def test_at_twice_the_size_nothing_goes_sideways(grown: Any) -> None:
    """WCAG 2.2, 1.4.10 and 1.4.4: 320 px wide, and letters twice as large."""
    from evenpick.web.served import PAGES

    page = grown.visit("/", 320)
    for path in [*(path for path, _ in PAGES), *MORE]:
        page.goto(grown.address + path)
        no_sideways(page)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        no_sideways(page)
