"""Ground in pots, boxes and troughs: too small for half a metre of row or for two plants' room in a bed, each
is sown whole, what stands plant by plant with as many plants as it has room for (days.md, 10)."""

from __future__ import annotations

from dataclasses import replace
from math import log2, sqrt

from evenpick.base.trade import CoverName, GroundCover, ground_under
from evenpick.crops.crop import Crop, CropType, Harvest, Produce, Spacing
from evenpick.crops.sown import InPots
from evenpick.garden.areas import LARGEST_POT, plants_in_pot, pot_ground, pot_litres
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


def pot_for(crop: Crop, of: GroundCover, garden: Garden) -> float:
    """m² of the pot that a crop is sown in, a whole one at a time; of several sizes the one by which most of
    the ground is used, in whole ones. Nought where it is sown as in a bed, or has room in no pot. `of`: open
    or tunnel."""
    room, least = _roomy(crop), smallest_pot(crop)
    beds = [bed.area for bed in garden.beds(of)]
    used = {size: in_whole(beds, size) for size in beds if least - HAIR <= size < room - HAIR}
    most = max(used, key=lambda size: (round(used[size], 9), size), default=0.0)
    roomy = sum(area for area in beds if area >= room - HAIR)
    return most if most and roomy < ENOUGH * used[most] else 0.0


def _roomy(crop: Crop) -> float:
    """m² from which a bed has room for the crop as it is sown in beds: for a step of it, and in pots for two
    plants, for where one fits half a pot may be left over."""
    each = step(crop)
    return max(each, min(2 * each, LARGEST_POT)) if crop.spacing.layout == "station" else each


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
    return replace(crop, spacing=_in_pot(crop.spacing, pot, _cut(crop.harvest)), purposes=types,
                   produce=_from_pot(crop.produce, crop.spacing, pot))


def _type_in_pot(crop: Crop, own: CropType, pot: float) -> CropType:
    space, produce = own.spacing or crop.spacing, own.produce or crop.produce
    return replace(own, spacing=_in_pot(space, pot, _cut(own.harvest or crop.harvest)),
                   produce=_from_pot(produce, space, pot))


def _cut(harvest: Harvest) -> bool:
    """Whether leaves are cut from it again and again."""
    return harvest.profile == "cut"


def _in_pot(space: Spacing, pot: float, cut: bool) -> InPots:
    """Plants share a pot alike. In one nobody walks between rows: leaf that is cut stands as far each way as
    in the row, but no more than two plants for one of a bed (common practice, no source: three leaf lettuces
    in 30 cm); what is lifted whole needs its room for its size."""
    in_row, row = space.in_row, space.row
    if space.layout == "station":
        in_row = row = sqrt(pot / plants_in_pot(pot, space.in_row * space.row))
    elif cut:
        row = min(row, max(in_row, row / 2))
    return InPots(in_row, row, space.depth, space.seeds_per_g, space.layout, space.tall, pot)


def _from_pot(produce: Produce, space: Spacing, pot: float) -> Produce:
    """What plants give in a pot of so many m² of ground, by the soil that each has; to each m² of pots."""
    if space.layout != "station":
        return produce
    plants = plants_in_pot(pot, space.in_row * space.row)
    share = min((pot_litres(pot) / plants / _soil(space)) ** BY_SOIL, 1.0)
    return replace(produce,
                   kg_per_m2=produce.kg_per_m2 * share * plants * space.in_row * space.row / pot)


def _soil(space: Spacing) -> float:
    """Litres of soil with which a plant gives what it gives in a bed."""
    return SOIL * space.in_row * space.row
