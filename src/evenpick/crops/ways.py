"""How a grower started a crop, where the catalogue may not know that way."""

from __future__ import annotations

from evenpick.base.trade import WayName
from evenpick.crops.crop import Crop, Way

PLUG_SHARE = 0.3
"""of its thermal time that a plant set out has behind it: the middle of the catalogue's own raised ways"""
COOL, WARM = 5.0, 16.0
"""°C: benches that hardy and tender crops of the catalogue are raised on"""


def way_of(crop: Crop, name: WayName) -> Way:
    """The crop's own way of the name. Where the catalogue sows it in place alone, plants of it that were
    raised all the same, as those a nursery sells, are taken to be set out at the usual size of raised plants.
    """
    known = next((way for way in crop.ways if way.name == name), None)
    if known is not None:
        return known
    if name != "raised":
        return Way(name)
    return Way(name, WARM if crop.tender else COOL, PLUG_SHARE * crop.thermal_time)
