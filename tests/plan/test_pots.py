"""Pots, boxes and troughs (days.md, 10). Gardens are invented."""

from __future__ import annotations

from dataclasses import replace

import pytest
from garden_task import GARDEN

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.sown import amount
from evenpick.garden.garden import Bed, Garden, Ground
from evenpick.plan.least import least_area, step
from evenpick.plan.pots import in_pots, pot_of


def garden_of(*areas: float) -> Garden:
    beds = tuple(Bed(f"pots {n}", None, None, area) for n, area in enumerate(areas, 1))
    return replace(GARDEN, grounds=(Ground("pots", "open", sum(areas), beds),))


@pytest.mark.parametrize(
    ("areas", "sown"),
    [((0.03, 0.03, 0.03), 0.03), ((0.126, 0.126, 0.126, 0.126, 0.16, 0.16), 0.126), ((0.1, 0.2), 0.1)],
)
def test_pots_are_sown_whole_and_most_of_the_ground_used(areas: tuple[float, ...], sown: float) -> None:
    assert pot_of(garden_of(*areas), "open") == sown
    assert pot_of(garden_of(*areas), "tunnel") == 0.0


def test_rows_shrink_to_a_pot_only_where_no_bed_has_room_for_one() -> None:
    lettuce = load_catalogue().crop("leaf-lettuce")
    pots, bed = garden_of(0.03, 0.03, 0.03), garden_of(0.03, 0.03, 2.0)
    assert in_pots(lettuce, "open", bed) is lettuce
    potted = in_pots(lettuce, "fleece", pots)
    assert step(potted) == least_area(potted, 0.09) == 0.03
    assert amount(potted, potted.ways[0], 0.06, 1.0).row_m is None


def test_what_stands_plant_by_plant_needs_its_room_in_a_pot_too() -> None:
    tomato = load_catalogue().crop("tomato")
    assert in_pots(tomato, "open", garden_of(0.126)) is tomato


def test_a_row_of_no_length_is_not_told() -> None:
    radish = load_catalogue().crop("radish")
    assert amount(radish, radish.ways[0], 0.03, 1.0).row_m is None
    assert amount(radish, radish.ways[0], 0.08, 1.0).row_m == 0.5
