"""Counted beds, their names and what grew in them (docs/design/beds.md, 1, 4, 5)."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from small_garden import SMALL

from evenpick.base.errors import Problem
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.families import families, family_called, said, years_away
from evenpick.garden.amounts import FOOT
from evenpick.garden.areas import area, bed_shape
from evenpick.garden.garden import Garden, Grew

Read, Find = Callable[[str], Garden], Callable[[str], tuple[Problem, ...]]


def with_ground(*lines: str) -> str:
    return SMALL.replace('area = "60 m²"', "\n".join(lines))


def test_counted_beds_keep_their_shape(read: Read) -> None:
    (ground,) = read(with_ground('area = "3 x 1.2 m x 10 m"')).grounds
    assert [bed.name for bed in ground.beds] == ["bed 1", "bed 2", "bed 3"]
    assert {(bed.length, bed.width, bed.area) for bed in ground.beds} == {(10.0, 1.2, 12.0)}
    assert ground.area == pytest.approx(36.0)


def test_ground_that_nobody_counted_is_one_bed_of_unknown_shape(read: Read) -> None:
    (bed,) = read(SMALL).grounds[0].beds
    assert (bed.name, bed.length, bed.width, bed.area) == ("bed", None, None, 60.0)


def test_feet_and_areas_are_counted_too() -> None:
    shape = bed_shape("2 x 30 ft by 4 ft")
    assert (shape.count, shape.length, shape.width) == (2, 30 * FOOT, 4 * FOOT)
    plain = bed_shape("3 x 12 m²")
    assert (plain.count, plain.length, plain.area, plain.whole) == (3, None, 12.0, 36.0)
    assert bed_shape("1000000 x 1 m²").count == 1


@pytest.mark.parametrize("text", ["180 m²", "4 x 10 m x 1.2 m", "2.5 x 10 m²", "400 sq ft"])
def test_the_beds_make_up_the_area(text: str) -> None:
    shape = bed_shape(text)
    assert shape.whole == pytest.approx(area(text)) == pytest.approx(shape.count * shape.area)


def test_history_is_of_all_beds_of_one_and_of_some(read: Read) -> None:
    beds = read(with_ground(
        'area = "3 x 10 m x 1.2 m"', 'beds = ["top", "gate", "wall"]',
        'grew = ["2025: brassicas", "2026 Gate: leeks, potatoes", "2024 2-3: peas and beans"]',
    )).grounds[0].beds
    top, gate, wall = (bed.grew for bed in beds)
    assert top == (Grew(2025, "Brassicaceae"),)
    assert set(gate) == {Grew(2025, "Brassicaceae"), Grew(2026, "Amaryllidaceae"), Grew(2026, "Solanaceae"),
                         Grew(2024, "Fabaceae")}
    assert set(wall) == {Grew(2025, "Brassicaceae"), Grew(2024, "Fabaceae")}


FOUR = 'area = "2 x 10 m x 1.2 m"'
SPOILT = [
    ((FOUR, 'beds = ["top"]'), 13, "Name every bed once"),
    ((FOUR, 'beds = ["top", "Top"]'), 13, "name of its own"),
    ((FOUR, 'grew = ["brassicas"]'), 13, "2026: brassicas"),
    ((FOUR, 'grew = ["2026: brasicas"]'), 13, "brassicas"),
    ((FOUR, 'grew = ["2026 7: leek"]'), 13, "from 1 to 2"),
    ((FOUR, 'grew = ["2099: leek"]'), 13, "2027"),
    ((FOUR, 'grew = "2026: leek"'), 13, "list"),
    (('area = "20 m²"', 'grew = ["2026: leek"]'), 13, "as beds first"),
]


@pytest.mark.parametrize(("lines", "line", "mend"), SPOILT)
def test_each_fault_has_its_line_and_remedy(
    lines: tuple[str, ...], line: int, mend: str, faults: Find
) -> None:
    (problem,) = faults(with_ground(*lines))
    assert problem.line == line
    assert mend in problem.mend


def test_every_crop_has_a_known_family() -> None:
    assert {crop.family for crop in load_catalogue().crops} <= set(families())


def test_years_away_are_those_of_organic_practice() -> None:
    """UK and US organic practice, from memory; the shorter end of each range."""
    told = {"brassicas": 4, "alliums": 4, "potato family": 4, "umbellifers": 3,
            "legumes": 3, "beet family": 3,
            "cucurbits": 2, "lettuce family": 2, "grasses": 1}
    for name, years in told.items():
        family = family_called(name)
        assert family is not None
        assert years_away(family) == years
    assert said("Brassicaceae") == "brassicas"
    assert (said("Rosaceae"), years_away("Rosaceae")) == ("Rosaceae", 1)
