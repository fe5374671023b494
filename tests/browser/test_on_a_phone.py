"""What a thumb can press and what an eye takes in, on a narrow screen."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect
from sideways import no_sideways

SMALL = """[...document.querySelectorAll('main a, main button, main summary, main select, footer a')]
    .filter(one => one.checkVisibility() && one.getBoundingClientRect().height < 43.5)
    .map(one => one.outerHTML.slice(0, 80))"""


def test_every_crop_is_answered_within_some_screens_and_opened_without_a_script(house: Any) -> None:
    """The page was 56,000 px tall."""
    page = house.visit("/when", 360, script=False)
    assert page.locator("details.crop").count() > 40
    assert page.locator("main").bounding_box()["height"] < 7_000
    first = page.locator("details.crop").first
    expect(first.locator("li").first).to_be_hidden()
    first.locator("summary").click()
    expect(first.locator("li").first).to_be_visible()
    no_sideways(page)


@pytest.mark.parametrize("path", ["/", "/when", "/sowings", "/diary"])
def test_a_wet_finger_finds_what_it_presses(house: Any, path: str) -> None:
    page = house.visit(path, 360)
    assert page.evaluate(SMALL) == []


@pytest.mark.parametrize("path", ["/when", "/water", "/tin", "/"])
def test_nothing_stands_beside_the_page_in_letters_of_twice_the_size(house: Any, path: str) -> None:
    page = house.visit(path, 360)
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    no_sideways(page)
