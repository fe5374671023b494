"""Areas as growers write them, and the beds in them, turned into m².

Exact factors: acre 43,560 ft², rod 16.5 ft squared (allotments are let by it), of the foot of garden/amounts.
By definition: guntha 1/40 of an acre, cent 1/100 (both of India), rai 1,600 m², ngan 400 m² (Thailand).
Measures that are not of one size, such as the bigha, are not known here (garden/spoken_area says so).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import pi, prod, sqrt

from evenpick.base.language import tell
from evenpick.garden.amounts import FOOT, LENGTHS, positive, quantity, refuse

_ACRE = 43_560 * FOOT**2
_ROD = (16.5 * FOOT) ** 2
AREAS = {
    "m2": 1.0, "m²": 1.0, "m^2": 1.0, "sq m": 1.0, "sqm": 1.0, "square metres": 1.0, "square meters": 1.0,
    "ft2": FOOT**2, "ft²": FOOT**2, "sq ft": FOOT**2, "sqft": FOOT**2, "square feet": FOOT**2,
    "sq yd": 9 * FOOT**2, "square yards": 9 * FOOT**2,
    "ha": 1e4, "hectare": 1e4, "hectares": 1e4, "are": 100.0, "ares": 100.0,
    "acre": _ACRE, "acres": _ACRE, "rod": _ROD, "rods": _ROD,
    "guntha": _ACRE / 40, "gunthas": _ACRE / 40, "cent": _ACRE / 100, "cents": _ACRE / 100,
    "rai": 1600.0, "ngan": 400.0,
}
_SCALE = {**AREAS, **LENGTHS, "": 1.0}
_TIMES = re.compile(r"\s*(?:[x×*]|\bby\b)\s*")


POT = 545.0
"""litres of a pot a metre across: nine tenths as deep as wide, its foot three quarters (common practice, no
source); 30 cm hold 15 l"""


LARGEST_POT = 0.5
"""m²: smaller ground is a pot, a tub, a trough or a bag, not a bed (own choice)"""


def plants_in_pot(pot: float, room: float) -> int:
    """How many plants, each with so many m² of `room` in a bed, stand in a pot of so many m²: to the nearest,
    for leaves reach over the rim, and one at least (common practice, no source)."""
    return max(1, round(pot / room))


def plant_room(ground: float, room: float) -> float:
    """m² that a plant with so many m² of `room` in a bed has in so many m² of ground: its part of a pot, or
    of a bed all of it where that is less."""
    return min(room, ground / plants_in_pot(ground, room) if ground <= LARGEST_POT else ground)


def pot_litres(ground: float) -> float:
    """Litres of a round pot by the m² of its top."""
    return POT * sqrt(4 / pi * ground) ** 3


def pot_ground(litres: float) -> float:
    """m² of the top of a round pot by its litres."""
    return float(pi / 4 * (litres / POT) ** (2 / 3))


def area(text: str) -> float:
    """m² of '180 m²', '400 sq ft', '10 m x 1.2 m' or '4 x 10 m x 1.2 m'; BadGarden if it is none of them."""
    return prod(number * _SCALE[unit] for number, unit in _factors(text))


@dataclass(frozen=True, slots=True)
class BedShape:
    """So many beds alike, m and m² of one; the longer side is the length. None: only the area is told."""

    count: int
    length: float | None
    width: float | None
    area: float
    whole: float
    """m² of all of them"""


MOST_BEDS = 2000
"""more in one piece of ground are taken as one area"""


def bed_shape(text: str) -> BedShape:
    """The beds in an area as `area` reads it: '20 x 10 m x 1.2 m' is 20 beds of 10 m by 1.2 m."""
    factors = _factors(text)
    whole = prod(number * _SCALE[unit] for number, unit in factors)
    count = prod(number for number, unit in factors if not unit)
    sides = sorted(number * LENGTHS[unit] for number, unit in factors if unit in LENGTHS)
    if count != int(count) or not 1 <= count <= MOST_BEDS:
        return BedShape(1, None, None, whole, whole)
    width, length = sides or (None, None)
    return BedShape(int(count), length, width, whole / count, whole)


def _factors(text: str) -> list[tuple[float, str]]:
    """Numbers and units whose product is an area; BadGarden otherwise."""
    mend = tell('Write an area such as "180 m²", "400 sq ft", or beds such as "4 x 10 m x 1.2 m".')
    factors = [quantity(part, mend) for part in _TIMES.split(text.strip().casefold())]
    if any(unit not in _SCALE for _, unit in factors):
        raise refuse(tell("'{text}' has a unit that is not known here.", text=text[:60]), mend)
    powers = sum(2 if unit in AREAS else 1 for _, unit in factors if unit)
    if not powers:
        raise refuse(tell("'{text}' is not an area without its unit.", text=text[:60]), mend)
    if powers != 2:
        raise refuse(tell("'{text}' is not an area.", text=text[:60]), mend)
    if any(number <= 0 for number, _ in factors):
        raise refuse(tell("'{text}' is nought or less.", text=text[:60]), mend)
    positive(prod(number * _SCALE[unit] for number, unit in factors), text, mend)
    return factors


def sown_area(text: str, row: float, in_row: float) -> float:
    """m² of '2 m²', '4 m' of row or '12 plants', by the metres between a crop's rows and in them; else
    BadGarden."""
    mend = tell('Write it such as "4 m", "2 m²" or "40 plants".')
    number, unit = quantity(text, mend)
    if unit in ("plant", "plants"):
        return positive(number * in_row * row, text, mend)
    if unit in LENGTHS:
        return positive(number * LENGTHS[unit] * row, text, mend)
    if unit == "":
        raise refuse(tell("'{text}' does not say of what.", text=text[:60]), mend)
    return area(text)
