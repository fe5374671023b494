"""An area of a crop as a grower sows it: metres of row, plants, seed (days.md)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, sqrt

from evenpick.crops.crop import Crop, Spacing, Way

ROW_STEP = 0.5  # m
FIELD = {"direct": 0.85, "raised": 0.9, "planted": 0.95}
"""share of what comes up that stands to be picked (growth E4 for direct; rest memory)"""
LEAST_EMERGED = 0.05
PLANTED: Mapping[str, str] = {
    "early-potato": "tuber", "main-potato": "tuber", "sweet-potato": "slip", "garlic": "clove",
    "onion-sets": "set",
}
"""what is planted in place of seed, by catalogue key"""


@dataclass(frozen=True, slots=True)
class InPots(Spacing):
    """Where it is sown by the pot."""

    pot: float = 0.0
    """m² that is sown at one time"""


IN_A_POT = 0.95
"""of their room in a bed: plants that have less stand in pots"""
SHARED = 0.75
"""of their room: those that have less have a pot each, for two share one that has room for a plant and a half
at least (`garden.areas.plants_in_pot`)"""


def apart_in_pots(space: Spacing, area: float, plants: int | None, pots: int) -> float | None:
    """m between so many plants on so many m² that stand in so many pots, nought where each has its own; None
    in beds."""
    room, each = space.in_row * space.row, area / max(plants or 0, 1)
    if space.layout != "station" or not plants or each >= IN_A_POT * room:
        return None
    return 0.0 if each < SHARED * room or plants <= pots else sqrt(each)


def planted_as(key: str) -> str:
    """'tuber', 'slip', 'clove' or 'set' of a crop that is not sown; empty of one that is."""
    return PLANTED.get(key, "")


@dataclass(frozen=True, slots=True)
class Amount:
    """One sowing's amount in the grower's own terms."""

    area: float
    row_m: float | None
    plants: int | None
    """places to fill: stations, or plants, sets, cloves, tubers to set"""
    seeds: int | None
    grams: float | None


def standing_share(way: Way, emerged: float) -> float:
    """Share of the seeds sown that stand to be picked; `emerged`: share that comes up."""
    return max(emerged * FIELD[way.name], LEAST_EMERGED)


def amount(crop: Crop, way: Way, area: float, emerged: float) -> Amount:
    """Row, plants and seed for an area; `emerged` is the share of viable seed that comes up. No row is told
    of what is sown by the pot, where plants are, nor one of nought."""
    space = crop.spacing
    plants = max(1, round(area / (space.in_row * space.row)))
    rows = space.layout == "row" and not isinstance(space, InPots)
    row_m = round(area / space.row / ROW_STEP) * ROW_STEP or None if rows else None
    told = space.layout == "station" or isinstance(space, InPots) or way.name != "direct"
    counted = plants if told else None
    if space.seeds_per_g is None:
        return Amount(area, row_m, plants, None, None)
    seeds = ceil(plants / standing_share(way, emerged))
    return Amount(area, row_m, counted, seeds, seeds / space.seeds_per_g)
