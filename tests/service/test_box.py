"""One box of the week, for the customer. INVENTED garden and plan."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from evenpick.report.pickings import counted
from evenpick.service.box import BoxAnswer, box
from evenpick.service.pickings_answer import ItemPickings, WeekOfItem
from evenpick.service.planning import save_plan
from evenpick.service.store_plan import garden_digest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
import invented

MONDAY = date(2027, 6, 28)
TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "bed"
cover = "open"
area = "200 m²"
[[outlet]]
name = "boxes"
kind = "boxes"
shares = 24
weight = "4 kg"
[[wish]]
item = "lettuce"
crops = ["cos-lettuce", "crisp-lettuce"]
outlet = "boxes"
each_week = "1 head"
[[wish]]
item = "beetroot"
outlet = "boxes"
each_week = "400 g"
from = "07-04"
until = "10-31"
"""
LETTUCE = 24 * 0.585  # kg, as the wish is read


def lettuces(likely: float, piece_kg: float | None) -> ItemPickings:
    week = WeekOfItem(MONDAY, LETTUCE, 0.0, likely, 20.0, 0.0, 0.0, piece_kg)
    return ItemPickings("lettuce", "head", 0.585, (week,), 0)


def beetroots() -> ItemPickings:
    """Wanted from a Sunday on."""
    weeks = (WeekOfItem(MONDAY, 9.6 / 7, 0.0, 9.6, 9.6, 0.0, 0.0),
             WeekOfItem(MONDAY + timedelta(weeks=1), 9.6, 0.0, 9.6, 9.6, 0.0, 0.0))
    return ItemPickings("beetroot", "kg", 1.0, weeks, 0)


@pytest.fixture
def packed(tmp_path: Path) -> Callable[..., BoxAnswer]:
    def pack(*items: ItemPickings) -> BoxAnswer:
        path = tmp_path / "garden.toml"
        path.write_text(TEXT, encoding="utf-8")
        made_from = replace(invented.PLAN.made_from, garden=garden_digest(TEXT))
        save_plan(path, replace(invented.PLAN, begins=date(2027, 2, 1), sowings=(), standing=(), brought=(),
                                pickings=items, made_from=made_from))
        return box(path, MONDAY)

    return pack


@pytest.mark.parametrize(("likely", "piece_kg", "pieces", "boxes"), [
    (LETTUCE, None, 1, None), (2.2 * LETTUCE, None, 1, None), (LETTUCE, 0.63, 1, 22),
    (LETTUCE, 0.54, 1, None), (3.0, None, 1, 5), (0.4, 0.9, None, None),
])
def test_no_box_is_promised_a_head_that_is_not_there(
    packed: Callable[..., BoxAnswer], likely: float, piece_kg: float | None, pieces: int | None,
    boxes: int | None,
) -> None:
    """What all boxes together are promised is what the picking list counts, or less."""
    found = packed(lettuces(likely, piece_kg)).items
    if likely < 0.48:  # under 20 g a box
        assert found == ()
        return
    (one,) = found
    assert (one.pieces, one.boxes) == (pieces, boxes)
    had = min(likely, LETTUCE)
    assert (one.pieces or 0) * (one.boxes or 24) <= float(counted(had, "head", piece_kg or 0.585))


def test_what_is_wanted_from_a_sunday_on_is_coming(packed: Callable[..., BoxAnswer]) -> None:
    found = packed(lettuces(LETTUCE, None), beetroots())
    assert [one.item for one in found.items] == ["lettuce"]
    assert found.coming == (("beetroot", MONDAY + timedelta(weeks=1)),)
    assert found.share.kg == pytest.approx(0.585)
