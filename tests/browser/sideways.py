"""Whether a page is wider than its window."""

from __future__ import annotations

from playwright.sync_api import Page


def no_sideways(page: Page) -> None:
    wide = page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    out = page.evaluate("""[...document.querySelectorAll('main *, nav *')].filter(one =>
        one.getBoundingClientRect().right > innerWidth + 1 && !one.closest('.wide')).map(one => one.outerHTML
        .slice(0, 90)).slice(0, 5)""")
    assert wide[0] <= wide[1], (page.url, out)
