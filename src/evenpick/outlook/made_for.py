"""What a sowing was made for, where the diary does not say (docs/design/types.md, 5)."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.crops.crop import Crop, Purpose, Way
from evenpick.outlook.grow import grow
from evenpick.outlook.outcome import Outcome
from evenpick.outlook.score import RELIABLE, succeeded
from evenpick.outlook.season import in_season
from evenpick.outlook.setting import Settings

MOST = 0.5  # of the years (our choice)


def as_sown(crop: Crop, way: Way, cover: CoverName, settings: Settings, sow: Ints) -> list[tuple[Crop, Ints]]:
    """A crop, and each of its types, with the places of the sow days (n,) that were for it: for the first
    purpose in whose season most years have them, for the crop's own varieties where none has. A type has that
    one purpose; of the crop the first is what it is followed as. Early kinds have what they alone give."""
    early = crop.early()
    some = _by_season if early is None else partial(_by_harvest, early)
    return [(kind, places) for kind, places in some(crop, way, cover, settings, sow) if places.size]


def _by_harvest(
    early: Crop, crop: Crop, way: Way, cover: CoverName, settings: Settings, sow: Ints
) -> Iterator[tuple[Crop, Ints]]:
    common, everyone = _harvests(crop, way, cover, settings, sow), np.arange(sow.size)
    sooner = np.flatnonzero(common < RELIABLE)
    if sooner.size:  # elsewhere nobody need grow them
        sooner = sooner[_harvests(early, way, cover, settings, sow[sooner]) > common[sooner]]
    yield crop, np.setdiff1d(everyone, sooner)
    yield early, sooner


def _by_season(
    crop: Crop, way: Way, cover: CoverName, settings: Settings, sow: Ints
) -> Iterator[tuple[Crop, Ints]]:
    left, kinds = np.arange(sow.size), crop.by_type()
    for kind in kinds if len(kinds) > 1 else ():
        for purpose in kind.whole_purposes:
            if purpose.type is None and left.size:
                outcome = _grown(kind, way, cover, settings, sow[left], purpose)
                fits = in_season(outcome, settings.cover(cover)).mean(axis=0) >= MOST
                yield kind, left[fits]
                left = left[~fits]
    yield crop, left


def _harvests(crop: Crop, way: Way, cover: CoverName, settings: Settings, sow: Ints) -> Floats:
    """The share of years with a harvest worth the name, of what a crop is followed as; (n,)."""
    return np.asarray(succeeded(_grown(crop, way, cover, settings, sow, crop.purposes[0])).mean(axis=0))


def _grown(
    crop: Crop, way: Way, cover: CoverName, settings: Settings, sow: Ints, purpose: Purpose
) -> Outcome:
    return grow(crop, way, cover, settings, sow, np.ones((settings.weather.years, 1)), purpose)
