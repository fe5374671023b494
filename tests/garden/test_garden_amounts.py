"""Amounts as growers write them. Factors: NIST SP 811 (2008), appendix B.8: ft 3.048 E-01 m,
ft² 9.290304 E-02 m², yd² 8.361274 E-01 m², lb 4.535924 E-01 kg, oz 2.834952 E-02 kg (memory of the table)."""

from __future__ import annotations

import pytest

from evenpick.base.errors import BadGarden
from evenpick.crops.catalogue import Catalogue
from evenpick.garden import amounts, areas


@pytest.mark.parametrize(
    ("text", "square_metres"),
    [
        ("180 m²", 180), ("180m2", 180), ("40 sq m", 40), ("1 sq. ft.", 9.290304e-2),
        ("1 sq yd", 8.361274e-1), ("10 m x 1.2 m", 12), ("4 x 10 m × 1.2 m", 48), ("3 x 12 m²", 36),
        ("30 ft by 4 ft", 120 * 9.290304e-2),
        ("1000 cm x 120cm", 12), ("10' x 10'", 9.290304),
    ],
)
def test_areas(text: str, square_metres: float) -> None:
    assert areas.area(text) == pytest.approx(square_metres, rel=1e-6)


@pytest.mark.parametrize(
    "text",
    ["0 m²", "-3 m²", "180", "10 x 1.2 m", "12 m", "2 m x 3 m x 4 m", "5 acres-ish", "", "1e9 m²", "1,5 m²",
     "-2 m x -3 m", "99999999 m²", "٣ m²", "x", "10 m x"],
)
def test_what_is_no_area_is_refused_with_a_remedy(text: str) -> None:
    with pytest.raises(BadGarden) as caught:
        areas.area(text)
    assert all(problem.mend for problem in caught.value.problems)


def test_weekly_amounts(catalogue: Catalogue) -> None:
    cos, crisp = catalogue.crop("cos-lettuce"), catalogue.crop("crisp-lettuce")
    assert amounts.weekly_kg("1.5 lb", [cos]) == pytest.approx(1.5 * 4.535924e-1, rel=1e-6)
    assert amounts.weekly_kg("8 oz", [cos]) == pytest.approx(8 * 2.834952e-2, rel=1e-6)
    assert amounts.weekly_kg("250 g", [cos]) == pytest.approx(0.25)
    assert amounts.weekly_kg("8 heads", [cos]) == pytest.approx(8 * cos.produce.piece_kg)
    both = (cos.produce.portion_kg + crisp.produce.portion_kg) / 2
    assert amounts.weekly_kg("12 Portions", [cos, crisp]) == pytest.approx(12 * both)


@pytest.mark.parametrize(
    "text", ["8", "0 kg", "-1 kg", "2-3 kg", "1,500 g", "some", "8 ears", "1e999 kg", "9" * 400 + " kg"]
)
def test_amounts_that_cannot_be_read(text: str, catalogue: Catalogue) -> None:
    with pytest.raises(BadGarden):
        amounts.weekly_kg(text, [catalogue.crop("cos-lettuce")])


def test_a_piece_by_any_word_for_it_or_by_the_crops_own_name(catalogue: Catalogue) -> None:
    """'2 cobs', '3 lettuces': common practice, no source."""
    corn, cos, courgette = map(catalogue.crop, ("sweetcorn", "cos-lettuce", "courgette"))
    assert amounts.weekly_kg("2 cobs", [corn]) == amounts.weekly_kg("2 ears", [corn])
    assert amounts.weekly_kg("3 lettuces", [cos]) == amounts.weekly_kg("3 hearts", [cos])
    assert amounts.weekly_kg("1 zucchini", [courgette]) == amounts.weekly_kg("1 fruit", [courgette])
    with pytest.raises(BadGarden, match="counted by 'lettuces'"):
        amounts.weekly_kg("3 lettuces", [catalogue.crop("leaf-lettuce")])


def test_pieces_of_two_kinds_are_not_added(catalogue: Catalogue) -> None:
    with pytest.raises(BadGarden, match=r"not all of .* are counted by 'heads'"):
        amounts.weekly_kg("3 heads", [catalogue.crop("cos-lettuce"), catalogue.crop("chard")])


def test_seed_amounts() -> None:
    assert amounts.seed_amount("300 seeds") == (300, None)
    assert amounts.seed_amount("50 sets") == (50, None)
    assert amounts.seed_amount("1 oz") == (None, pytest.approx(28.34952))
    with pytest.raises(BadGarden):
        amounts.seed_amount("half a packet")


def test_heights_and_temperatures() -> None:
    assert amounts.height("-4 m") == -4
    assert amounts.height("100 ft") == pytest.approx(30.48)
    assert amounts.temperature("41 °F") == pytest.approx(5)  # by the definition of the two scales
    assert amounts.temperature("16C") == 16
    for bad in ("9000 m", "12"):
        with pytest.raises(BadGarden):
            amounts.height(bad)
    for bad in ("5", "61 °C", "5 K"):
        with pytest.raises(BadGarden):
            amounts.temperature(bad)


@pytest.mark.parametrize(("typed", "unit", "kg"), [
    ("0.4", "kg", 0.4), ("0,4", "kg", 0.4), (",4", "kg", 0.4), ("1,25", "kg", 1.25), ("0,400", "kg", 0.4),
    ("2", "lb", 2 * 0.45359237), ("400 g", "kg", 0.4), ("1,5 lb", "kg", 1.5 * 0.45359237), (" 3 ", "kg", 3.0),
])
def test_a_bare_number_is_in_the_unit_beside_its_field(typed: str, unit: str, kg: float) -> None:
    assert amounts.weight_in(typed, unit) == pytest.approx(kg)


@pytest.mark.parametrize("typed", ["1,500", "12,345 kg", "0", "-1", "much", "4 heads", "1,2,3"])
def test_what_may_be_two_weights_or_is_none_is_refused(typed: str) -> None:
    with pytest.raises(BadGarden):
        amounts.weight_in(typed, "kg")


@pytest.mark.parametrize(("typed", "read"), [
    ("2,5 g", "2.5 g"), ("4 x 2,5 m x 1,25 m", "4 x 2.5 m x 1.25 m"), (",5 kg", "0.5 kg"), ("0,125", "0.125"),
    ("-1,5", "-1.5"), ("1,500 m²", "1,500 m²"), ("1.234,5", "1.234,5"), ("1,50,000", "1,50,000"),
    ("2 people, 6 boxes", "2 people, 6 boxes"),
])
def test_a_comma_that_can_only_stand_before_decimals_is_read_so(typed: str, read: str) -> None:
    assert amounts.with_points(typed) == read
