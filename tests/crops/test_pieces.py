"""A square metre gives what stands on it: plants at the catalogue's distance, each of its own weight, less
what is lost or unfit to pick. Sources: references.bib."""

from __future__ import annotations

import pytest

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop

ONE = ("head", "root", "bulb", "ear")
"""pieces of which a plant is one"""
SINGLE = {
    "early-carrot": 0.375 / 9, "spring-onion": 0.125 / 6,  # canadianliving: nine and six to the bunch
    "radish": 0.015,  # ten to the bunch of 0.15 (memory)
    "main-carrot": 0.061, "parsnip": 0.16, "leek": 0.2, "onion": 0.11, "onion-sets": 0.11,
    # middling ones, the leek with what is thrown away (memory)
}  # fmt: skip
"""kg of one, of what is lifted whole and counted by the bunch or by weight"""
LEAST, MOST = 0.5, 1.1
"""of the plants: half is the poorest stand of a trial here (lwgcrisp 56 %, kohlrabinrw 57 %)"""


def plants(crop: Crop) -> float:
    return 1.0 / (crop.spacing.in_row * crop.spacing.row)


def single(crop: Crop) -> float | None:
    """kg of what one plant gives whole; None where it is picked over or cut again."""
    if crop.harvest.profile in ("cut", "picking"):
        return None
    return crop.produce.piece_kg if crop.produce.piece in ONE else SINGLE.get(crop.key)


WHOLE = [kind for crop in load_catalogue().crops for kind in crop.by_type() if single(kind) is not None]


def test_every_crop_lifted_or_cut_whole_is_held() -> None:
    """Left out: what has several to the plant (tubers, sprouts, squashes), rosettes cut by the handful."""
    whole = {crop.key for crop in load_catalogue().crops if crop.harvest.profile not in ("cut", "picking")}
    held = {kind.key for kind in WHOLE}
    assert whole - held == {
        "early-potato", "main-potato", "brussels-sprout", "winter-squash", "sweet-potato", "peanut",
        "lambs-lettuce",
    }  # fmt: skip
    assert "Cos lettuce, small heads" in {kind.name for kind in WHOLE}


@pytest.mark.parametrize("kind", WHOLE, ids=lambda kind: kind.name)
def test_the_yield_is_that_of_the_plants(kind: Crop) -> None:
    one = single(kind)
    assert one is not None
    assert LEAST <= kind.produce.kg_per_m2 / (plants(kind) * one) <= MOST


def test_crisp_lettuce_is_as_the_trials_at_its_distance() -> None:
    """lwgcrisp: planted 30 x 35 cm in 2019, heads of 470 to 718 g on 71 to 94 % of the plants."""
    crisp = load_catalogue().crop("crisp-lettuce")
    assert {crisp.spacing.in_row, crisp.spacing.row} == {0.3, 0.35}
    assert 0.71 * 0.47 <= crisp.produce.kg_per_m2 / plants(crisp) <= 0.94 * 0.718


def test_closer_heads_give_more_of_the_ground_and_less_each() -> None:
    """fekadu2021, maboko2009: of lettuce, as close as 17 and 50 plants a square metre."""
    cos = load_catalogue().crop("cos-lettuce")
    small = cos.told_as("Cos lettuce, small heads")
    assert small.produce.kg_per_m2 > cos.produce.kg_per_m2
    assert small.produce.kg_per_m2 / plants(small) < cos.produce.kg_per_m2 / plants(cos)


def test_a_plan_tells_a_type_by_its_name() -> None:
    cos = load_catalogue().crop("cos-lettuce")
    assert cos.told_as("Cos lettuce, small heads").spacing.row == 0.2
    assert cos.told_as("Cos lettuce") is cos
    assert cos.told_as("Cos lettuce, Lobjoits") is cos
