"""Whether a page is wider than its window."""

from __future__ import annotations

from playwright.sync_api import Page


def no_sideways(page: Page) -> None:
    wide = page.evaluate("[document.documentElement.scrollWidth, window.innerWidth]")
    out = page.evaluate("""[...document.querySelectorAll('main *, nav *')].filter(one =>
        one.getBoundingClientRect().right > innerWidth + 1 && !one.closest('.wide')).map(one => one.outerHTML
        .slice(0, 90)).slice(0, 5)""")
    assert wide[0] <= wide[1], (page.url, out)


def names_whole(page: Page) -> None:
    """No word in the navigation is broken in two."""
    broken = page.evaluate("""[...document.querySelectorAll('nav a')].filter(one => {
        const range = document.createRange(); range.selectNodeContents(one);
        const lines = new Set([...range.getClientRects()].map(box => Math.round(box.top))).size;
        return lines > one.textContent.trim().split(/\\s+/).length; }).map(one => one.textContent)""")
    assert not broken, (page.url, page.viewport_size, broken)
