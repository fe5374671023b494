"""What a browser prints, what is kept for reading out of reach, and names too long for a line."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from playwright.sync_api import expect
from served_garden import DAY, GARDEN
from sideways import no_sideways

LONG = "bythewallbetweenthegreenhouseandthewaterbuttnine"


def test_paper_has_no_buttons_and_says_that_a_garden_is_invented(serve: Callable[..., Any]) -> None:
    house = serve(f"invented = true\n{GARDEN}")
    page = house.visit("/")
    expect(page.get_by_role("button").first).to_be_visible()
    page.emulate_media(media="print")
    assert page.locator("button:visible, input:visible, textarea:visible").count() == 0
    expect(page.get_by_text("INVENTED GARDEN")).to_be_visible()
    expect(page.get_by_role("link", name="When to sow")).to_be_hidden()
    expect(page.get_by_text("Sow Rocket")).to_be_visible()


@pytest.mark.parametrize("path", ["/water", "/ground", "/month", "/"])
def test_what_was_looked_up_in_the_plot_is_there_out_of_reach(house: Any, path: str) -> None:
    page = house.visit("/diary")
    page.evaluate("""new Promise(done => navigator.serviceWorker.controller ? done(true)
        : navigator.serviceWorker.addEventListener('controllerchange', () => done(true)))""")
    page.goto(house.address + path)
    title = page.get_by_role("heading", level=1).inner_text()
    page.wait_for_load_state("networkidle")
    page.context.set_offline(True)
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_have_text(title)


@pytest.mark.parametrize("path", ["/ground", "/", "/sowings", "/water"])
def test_a_long_name_without_a_space_makes_no_page_wider(serve: Callable[..., Any], path: str) -> None:
    assert len(LONG) == 48
    house = serve(GARDEN.replace('name = "bed"', f'name = "{LONG}"'), lambda: DAY + timedelta(days=7))
    page = house.visit(path, 320)
    no_sideways(page)
