"""Ground in pots, boxes and troughs: too small for half a metre of row or for a plant's room in a bed, each
is sown whole, what stands plant by plant with one plant (days.md, 10)."""

from __future__ import annotations

from dataclasses import replace
from math import log2, sqrt

from evenpick.base.trade import CoverName, ground_under
from evenpick.crops.crop import Crop, CropType, Produce, Spacing
from evenpick.crops.sown import InPots
from evenpick.garden.areas import pot_ground, pot_litres
from evenpick.garden.garden import Garden
from evenpick.plan.least import in_whole, step
from evenpick.plan.stretches import HAIR

ENOUGH = 0.75
"""beds with room for the usual least are used alone where they are so much of what pots would use"""
SOIL = 100.0
"""litres for each m² of its room in a bed with which a plant in a pot gives what it gives in the bed: 34 for
a tomato, 81 for a courgette (our choice; masabni2009, Table 1, asks for a quarter to six tenths of it)"""
LEAST_SOIL = 0.25
"""of that: in less nobody plants one; 8 l for a tomato, 20 for a courgette (our choice, by that table)"""
BY_SOIL = log2(1.43)
"""twice the soil gives 1.43 times the plant (poorter2012: the mean of 65 studies)"""


def pot_for(crop: Crop, of: str, garden: Garden) -> float:
    """m² of the pot that a crop is sown in, a whole one at a time; of several sizes the one by which most of
    the ground is used, in whole ones. Nought where it is sown as in a bed, or has room in no pot. `of`: open
    or tunnel."""
    each, least = step(crop), smallest_pot(crop)
    beds = [bed.area for ground in garden.grounds if ground.cover == of for bed in ground.beds]
    used = {size: in_whole(beds, size) for size in beds if least - HAIR <= size < each - HAIR}
    most = max(used, key=lambda size: (round(used[size], 9), size), default=0.0)
    roomy = sum(area for area in beds if area >= each - HAIR)
    return most if most and roomy < ENOUGH * used[most] else 0.0


def smallest_pot(crop: Crop) -> float:
    """m² of the smallest pot that a plant is set in, no more than its room in a bed; nought of what is sown
    in rows or broadcast."""
    if crop.spacing.layout != "station":
        return 0.0
    return min(step(crop), pot_ground(LEAST_SOIL * _soil(crop.spacing)))


def in_pots(crop: Crop, cover: CoverName, garden: Garden) -> Crop:
    """The crop, and its types, as they are sown here: by the pot where beds have no room."""
    pot = pot_for(crop, ground_under(cover), garden)
    if not pot:
        return crop
    types = tuple(one if one.type is None else replace(one, type=_type_in_pot(crop, one.type, pot))
                  for one in crop.purposes)
    return replace(crop, spacing=_in_pot(crop.spacing, pot), purposes=types,
                   produce=_from_pot(crop.produce, crop.spacing, pot))


def _type_in_pot(crop: Crop, own: CropType, pot: float) -> CropType:
    space, produce = own.spacing or crop.spacing, own.produce or crop.produce
    return replace(own, spacing=_in_pot(space, pot), produce=_from_pot(produce, space, pot))


def _in_pot(space: Spacing, pot: float) -> InPots:
    """A plant has a pot for itself; rows stand in it as close as in a bed."""
    single = space.layout == "station"
    in_row, row = (sqrt(pot), sqrt(pot)) if single else (space.in_row, space.row)
    return InPots(in_row, row, space.depth, space.seeds_per_g, space.layout, space.tall, pot)


def _from_pot(produce: Produce, space: Spacing, pot: float) -> Produce:
    """What a plant gives in a pot of so many m² of ground, by its soil; to each m² of pots."""
    if space.layout != "station":
        return produce
    share = min((pot_litres(pot) / _soil(space)) ** BY_SOIL, 1.0)
    return replace(produce, kg_per_m2=produce.kg_per_m2 * share * space.in_row * space.row / pot)


def _soil(space: Spacing) -> float:
    """Litres of soil with which a plant gives what it gives in a bed."""
    return SOIL * space.in_row * space.row
