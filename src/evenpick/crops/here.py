"""A crop as it grows in one garden: the catalogue's, or as the diary taught."""

from __future__ import annotations

from collections.abc import Callable

from evenpick.base.trade import CoverName
from evenpick.crops.crop import Crop

AsHere = Callable[[Crop, CoverName], Crop]


def as_catalogued(crop: Crop, cover: CoverName) -> Crop:
    """The crop as it is in the catalogue."""
    return crop
