"""The water page exactly as it is read, of invented answers; run this file to renew its snapshots."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from invented import AMERICAN, BRITISH, language_of
from invented_water import LOOK_FIRST, STANDING, WATER

from evenpick.base.language import using
from evenpick.report.page import Page
from evenpick.report.terminal import WIDTH, render
from evenpick.report.water import water_page, water_shape

SNAPSHOTS = Path(__file__).parent / "snapshots"
PAGES: dict[str, Callable[[], Page]] = {
    "water": lambda: water_page(WATER, BRITISH),
    "water-american": lambda: water_page(STANDING, AMERICAN),
    "water-look-first": lambda: water_page(LOOK_FIRST, BRITISH),
}


@pytest.mark.parametrize("name", PAGES)
def test_the_page_reads_as_it_did(name: str) -> None:
    with using(language_of(name)):
        text = render(PAGES[name]())
    assert text == (SNAPSHOTS / f"{name}.txt").read_text(encoding="utf-8")
    assert max(map(len, text.splitlines())) <= WIDTH


def test_imperial_is_the_same_water() -> None:
    """25 litres on a square metre are 20.9 on a square yard: 5.5 US gallons of 3.785 litres (nist811)."""
    assert "5.5 on a square yard" in render(water_page(LOOK_FIRST, AMERICAN))
    assert "25 on a square metre" in render(water_page(LOOK_FIRST, BRITISH))


def test_json_keeps_metric_and_names() -> None:
    shape = water_shape(STANDING, AMERICAN)
    assert shape["name"] == "Scarlet runner bean"
    assert shape["days"][0]["litres_per_plant"] == 3.8
    assert shape["days"][0]["gone_mm"] == 11.0


if __name__ == "__main__":
    for name, page in PAGES.items():
        with using(language_of(name)):
            (SNAPSHOTS / f"{name}.txt").write_text(render(page()), encoding="utf-8")
