"""Ground in pots, boxes and troughs: too small for half a metre of row, each is sown whole (days.md, 10)."""

from __future__ import annotations

from dataclasses import replace
from math import floor

from evenpick.base.trade import CoverName, ground_under
from evenpick.crops.crop import Crop
from evenpick.crops.sown import InPots
from evenpick.garden.garden import Garden
from evenpick.plan.least import largest_bed, step
from evenpick.plan.stretches import HAIR


def pot_of(garden: Garden, cover: str) -> float:
    """m² that is sown at one time where every bed under a cover is a pot: of their sizes the one by which
    most of the ground is used, in whole ones. Nought where there is no such ground."""
    sizes = [bed.area for ground in garden.grounds if ground.cover == cover for bed in ground.beds]
    used = {size: sum(floor(other / size + HAIR) * size for other in sizes) for size in sizes}
    return max(used, key=lambda size: (round(used[size], 9), size), default=0.0)


def in_pots(crop: Crop, cover: CoverName, garden: Garden) -> Crop:
    """The crop as it is sown here: by the pot where no bed has room for the least of it. Of what stands plant
    by plant the least is a plant, whatever it stands in."""
    of = ground_under(cover)
    if crop.spacing.layout == "station" or largest_bed(garden, of) >= step(crop) - HAIR:
        return crop
    space = crop.spacing
    return replace(crop, spacing=InPots(space.in_row, space.row, space.depth, space.seeds_per_g, space.layout,
                                        space.tall, pot_of(garden, of)))
