"""The packets there are in the tin, and the seeds in each."""

from __future__ import annotations

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.garden.garden import Garden
from evenpick.garden.record import Record
from evenpick.garden.tin import Tinned, tin


def tin_now(garden: Garden, record: Record) -> tuple[Tinned, ...]:
    """The packets of the garden file and of the diary, less what the diary sowed of them."""
    per_g = {crop.key: crop.spacing.seeds_per_g for crop in load_catalogue().crops}
    return tin(garden.packets, record.entries, per_g)


def seeds_in(crop: Crop, one: Tinned) -> float | None:
    """Seeds in a packet of the crop, by its weight where they are not counted; None where neither is told."""
    if one.seeds is not None or one.grams is None or not crop.spacing.seeds_per_g:
        return one.seeds
    return one.grams * crop.spacing.seeds_per_g
