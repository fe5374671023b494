"""What a diary tells of yields (docs/design/learning.md, 3). Invented sowings."""

from __future__ import annotations

import pytest

from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Sowed
from evenpick.garden.record import Loss, Sowing, Taken
from evenpick.learn.observed import yields

CROP = load_catalogue().crop("radish")
FULL = CROP.produce.kg_per_m2


def sowing(*pickings: Taken, losses: tuple[Loss, ...] = (), cleared: int | None = 20_060) -> Sowing:
    fact = Sowed("radish", "direct", "open", 2.0)
    return Sowing("one", 20_000, fact, None, "open", 2.0, pickings=pickings, losses=losses, cleared=cleared)


def ratio(one: Sowing, share: float = 1.0) -> float:
    (found,) = yields(CROP, [one], {"one": share})
    return found.y


def test_what_was_picked_of_the_ground_is_held_against_the_catalogue() -> None:
    assert ratio(sowing(Taken(20_030, 2 * FULL, None))) == pytest.approx(0.0)
    assert ratio(sowing(Taken(20_030, FULL, None), Taken(20_035, FULL, None))) == pytest.approx(0.0)
    assert ratio(sowing(Taken(20_030, FULL, None)), share=0.5) == pytest.approx(0.0)


def test_one_picking_without_its_weight_leaves_the_sowing_out() -> None:
    """Not weighed is not nil: the rest would be taken for all of it."""
    assert yields(CROP, [sowing(Taken(20_030, FULL, None), Taken(20_035, None, 12.0))], {}) == []
    assert yields(CROP, [sowing(Taken(20_035, None, None))], {}) == []


def test_what_was_lost_gave_nothing_and_is_no_poor_yield() -> None:
    """Half of it eaten, the other half gave what half the ground gives."""
    half = (Loss(20_010, "eaten", 0.5, "slugs"),)
    assert ratio(sowing(Taken(20_030, FULL, None), losses=half)) == pytest.approx(0.0)
    whole = (Loss(20_010, "eaten", 1.0, "slugs"),)
    assert yields(CROP, [sowing(Taken(20_009, FULL, None), losses=whole)], {}) == []


def test_a_sowing_not_cleared_has_more_to_give() -> None:
    assert yields(CROP, [sowing(Taken(20_030, FULL, None), cleared=None)], {}) == []
