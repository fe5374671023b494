"""A cooperative's pages in a browser: readable at any size, and the way to a farm and back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from sideways import no_sideways

PAGES = ("/", "/pickings", "/ground", "/plan", "/work")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(together: Any, violations: Callable[[Page], list[str]], scheme: str) -> None:
    page = together.visit("/", color_scheme=scheme)
    wrong = []
    for path in PAGES:
        page.goto(together.address + path)
        wrong += [f"{path} {found}" for found in violations(page)]
    assert not wrong, "\n".join(wrong)


def test_at_twice_the_size_nothing_goes_sideways(together: Any) -> None:
    """WCAG 2.2, 1.4.10 and 1.4.4: 320 px wide, and letters twice as large."""
    page = together.visit("/", 320)
    for path in PAGES:
        page.goto(together.address + path)
        no_sideways(page)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        no_sideways(page)


def test_to_a_farm_and_back(together: Any) -> None:
    page = together.visit("/")
    page.get_by_role("link", name="Pages of hill").click()
    expect(page.get_by_role("heading", name="Write it down")).to_be_visible()
    page.get_by_role("link", name="Two Rivers: all farms").click()
    expect(page.get_by_role("heading", name="valley")).to_be_visible()
