"""Pots, boxes and troughs (days.md, 10). Gardens are invented."""

from __future__ import annotations

from dataclasses import replace

import pytest
from garden_task import GARDEN, HORIZON, wanted, whole

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.sown import amount, apart_in_pots
from evenpick.garden.areas import pot_ground, pot_litres
from evenpick.garden.garden import Bed, Garden, Ground
from evenpick.plan.least import least_area, most_area, step
from evenpick.plan.pots import in_pots, pot_for, smallest_pot
from evenpick.plan.task import ground_in_use
from evenpick.service import impossible

OF_30_CM = 0.0707


def garden_of(*areas: float) -> Garden:
    beds = tuple(Bed(f"pots {n}", None, None, area) for n, area in enumerate(areas, 1))
    return replace(GARDEN, grounds=(Ground("pots", "open", sum(areas), beds),))


@pytest.mark.parametrize(
    ("areas", "sown"),
    [((0.03, 0.03, 0.03), 0.03), ((0.1, 0.1, 0.1, 0.1, 0.12, 0.12), 0.1), ((0.06, 0.12), 0.06)],
)
def test_pots_are_sown_whole_and_most_of_the_ground_used(areas: tuple[float, ...], sown: float) -> None:
    lettuce = load_catalogue().crop("leaf-lettuce")
    assert step(lettuce) > max(areas)
    assert pot_for(lettuce, "open", garden_of(*areas)) == sown
    assert pot_for(lettuce, "tunnel", garden_of(*areas)) == 0.0


def test_rows_shrink_to_a_pot_only_where_no_bed_has_room_for_one() -> None:
    lettuce = load_catalogue().crop("leaf-lettuce")
    pots, bed = garden_of(0.03, 0.03, 0.03), garden_of(0.03, 0.03, 2.0)
    assert in_pots(lettuce, "open", bed) is lettuce
    potted = in_pots(lettuce, "fleece", pots)
    assert step(potted) == least_area(potted, 0.09) == 0.03
    assert amount(potted, potted.ways[0], 0.06, 1.0).row_m is None
    assert potted.produce == lettuce.produce


def test_amounts_in_pots_are_told_in_plants() -> None:
    radish = in_pots(load_catalogue().crop("radish"), "open", garden_of(0.03, 0.03))
    direct = radish.way("direct")
    room = radish.spacing.in_row * radish.spacing.row
    assert amount(radish, direct, 0.06, 1.0).plants == round(0.06 / room)


def test_pots_stay_empty_beside_no_trough_that_holds_less_than_they_do() -> None:
    """A windowsill of a fifth of a m² has room for two heads, and three pots beside it stood empty."""
    sill = garden_of(0.2, OF_30_CM, OF_30_CM, OF_30_CM)
    cos = in_pots(load_catalogue().crop("cos-lettuce"), "open", sill)
    assert step(cos) == OF_30_CM
    assert most_area(cos, "open", sill) == pytest.approx(5 * OF_30_CM)  # two of them in the trough


def test_a_tomato_has_a_pot_of_its_own_and_gives_by_its_soil() -> None:
    tomato = load_catalogue().crop("tomato")
    room = tomato.spacing.in_row * tomato.spacing.row
    bed = tomato.produce.kg_per_m2 * room
    potted = in_pots(tomato, "open", garden_of(OF_30_CM, OF_30_CM))
    assert amount(potted, potted.way("raised"), 2 * OF_30_CM, 1.0).plants == 2
    plant = potted.produce.kg_per_m2 * OF_30_CM
    assert plant == pytest.approx(bed * (pot_litres(OF_30_CM) / (100 * room)) ** 0.516, rel=1e-3)
    assert 0.5 < plant / bed < 0.8
    twice = pot_ground(2 * pot_litres(OF_30_CM))
    larger = in_pots(tomato, "open", garden_of(twice))
    assert larger.produce.kg_per_m2 * twice == pytest.approx(1.43 * plant)  # poorter2012
    huge = in_pots(tomato, "open", garden_of(0.3))
    assert huge.produce.kg_per_m2 * 0.3 == pytest.approx(bed)
    early = potted.early()
    assert early is not None
    assert early.produce == potted.produce


def test_a_pot_too_small_for_a_tomato_is_left_to_others() -> None:
    catalogue, cups = load_catalogue(), garden_of(0.01, 0.01)
    tomato = catalogue.crop("tomato")
    assert pot_litres(smallest_pot(tomato)) == pytest.approx(8.4, abs=0.5)
    assert in_pots(tomato, "open", cups) is tomato
    assert most_area(tomato, "open", cups) == 0.0
    assert pot_litres(smallest_pot(catalogue.crop("courgette"))) == pytest.approx(20, abs=1)


def test_a_row_of_no_length_is_not_told() -> None:
    radish = load_catalogue().crop("radish")
    assert amount(radish, radish.ways[0], 0.03, 1.0).row_m is None
    assert amount(radish, radish.ways[0], 0.08, 1.0).row_m == 0.5


def test_a_pot_holds_the_plants_that_it_has_room_for_to_the_nearest() -> None:
    """Two small lettuces stand in 30 cm: laid by their room in a bed, one had all of it."""
    cos = load_catalogue().crop("cos-lettuce")
    small = cos.told_as("Cos lettuce, small heads")
    room = small.spacing.in_row * small.spacing.row
    potted = in_pots(small, "open", garden_of(0.16, OF_30_CM, OF_30_CM, OF_30_CM))
    assert step(potted) == OF_30_CM
    assert amount(potted, potted.way("raised"), OF_30_CM, 1.0).plants == 2
    assert potted.produce.kg_per_m2 * OF_30_CM == pytest.approx(2 * room * small.produce.kg_per_m2)
    assert in_pots(small, "open", garden_of(0.16, 0.16)) is small


def test_leaf_that_is_cut_stands_in_a_pot_as_close_as_in_the_row() -> None:
    catalogue, sill = load_catalogue(), garden_of(OF_30_CM, OF_30_CM)
    for key, plants in (("leaf-lettuce", 3), ("basil", 2), ("parsley", 4), ("chives", 3), ("spinach", 9)):
        potted = in_pots(catalogue.crop(key), "open", sill)
        assert amount(potted, potted.ways[0], OF_30_CM, 1.0).plants == plants, key
    radish = catalogue.crop("radish")
    potted = in_pots(radish, "open", sill)
    assert (potted.spacing.in_row, potted.spacing.row) == (radish.spacing.in_row, radish.spacing.row)


def test_pots_alone_are_filled_in_whole_pots() -> None:
    """A trough of 0.16 m² and three pots are five pots, not 0.37 m²: the proof reckoned with the rest too."""
    sill = garden_of(0.16, OF_30_CM, OF_30_CM, OF_30_CM)
    catalogue = load_catalogue()
    potted = [in_pots(catalogue.crop(key), "open", sill) for key in ("leaf-lettuce", "basil")]
    assert ground_in_use([(crop, "open") for crop in potted], sill, "open") == pytest.approx(5 * OF_30_CM)
    mixed = [*potted, catalogue.crop("pea")]
    assert ground_in_use([(crop, "open") for crop in mixed], sill, "open") == pytest.approx(sill.area("open"))
    assert ground_in_use([], sill, "tunnel") == 0.0


def test_two_lettuces_in_a_pot_are_not_told_as_one_to_a_pot() -> None:
    catalogue = load_catalogue()
    small = catalogue.crop("cos-lettuce").told_as("Cos lettuce, small heads").spacing
    assert apart_in_pots(small, OF_30_CM, 2, 1) == pytest.approx(0.188, abs=1e-3)
    assert apart_in_pots(small, 0.4, 10, 1) is None
    tomato, crisp = catalogue.crop("tomato").spacing, catalogue.crop("crisp-lettuce").spacing
    assert apart_in_pots(tomato, 3 * OF_30_CM, 3, 1) == 0.0  # a trough cut into pots
    assert apart_in_pots(crisp, 0.09, 1, 1) == 0.0


def test_ground_that_a_sill_lacks_is_not_told_as_nought(monkeypatch: pytest.MonkeyPatch) -> None:
    """'Needs at least 0 m² all year round, at the best pace of each crop; there are 0.37 m².'"""
    monkeypatch.setattr(impossible, "lack_of_ground", lambda *_: impossible.Lack(0.437, 0.372, False, 1.0))
    (told,) = impossible.too_much(GARDEN, whole(), wanted(), HORIZON)
    assert "needs at least 0.44 m² all year round" in told
    assert "there are 0.37 m²" in told
