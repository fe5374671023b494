"""What a sowing was made for, where the diary does not say (docs/design/types.md, 5)."""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Ints
from evenpick.base.trade import CoverName
from evenpick.crops.crop import Crop, Way
from evenpick.outlook.grow import grow
from evenpick.outlook.season import in_season
from evenpick.outlook.setting import Settings

MOST = 0.5  # of the years (our choice)


def as_sown(crop: Crop, way: Way, cover: CoverName, settings: Settings, sow: Ints) -> list[tuple[Crop, Ints]]:
    """A crop, and each of its types, with the places of the sow days (n,) that were for it: for the first
    purpose in whose season most years have them, for the crop's own varieties where none has. A type has that
    one purpose; of the crop the first is what it is followed as."""
    left, found = np.arange(sow.size), []
    kinds, factor = crop.by_type(), np.ones((settings.weather.years, 1))
    for kind in kinds if len(kinds) > 1 else ():
        for purpose in kind.whole_purposes:
            if purpose.type is None and left.size:
                outcome = grow(kind, way, cover, settings, sow[left], factor, purpose)
                fits = in_season(outcome, settings.cover(cover)).mean(axis=0) >= MOST
                found.append((kind, left[fits]))
                left = left[~fits]
    return [(kind, places) for kind, places in (*found, (crop, left)) if places.size]
