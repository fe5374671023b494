"""The table of outcomes: what becomes of each sowing in each weather year."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from evenpick.base.arrays import Ints
from evenpick.base.trade import CoverName
from evenpick.crops.crop import Crop, Purpose, Way

LEAST_SHARE = 0.4  # of a full harvest, or a full crop, that is worth the name (growth H4)
LONGEST_WAIT_FOR_CROP = 420  # days from sowing; what takes longer is not a crop of this sowing


class Fate(IntEnum):
    """What became of a sowing; the first that happens counts."""

    GOOD = 0
    FROSTED = 1
    BOLTED = 2
    HEAT = 3
    TOO_LATE = 4
    TOO_COLD = 5
    TOO_HOT = 6
    DRIED = 7
    PARCHED = 8


FATE_WORDS = {
    Fate.GOOD: "good",
    Fate.FROSTED: "frosted",
    Fate.BOLTED: "bolted",
    Fate.HEAT: "spoilt by heat",
    Fate.TOO_LATE: "too late",
    Fate.TOO_COLD: "too cold to start",
    Fate.TOO_HOT: "too hot to start",
    Fate.DRIED: "dried out in the drill",
    Fate.PARCHED: "too little rain",
}

CHILLED = "killed by cold"
"""what becomes of a plant that dies of nights without any frost"""
NO_FROST = 2.0  # °C at the screen: in colder nights there is frost at the grass (frostlists)
HARD_FREEZE = -2.2  # °C at the screen (hardfreeze)


def fate_word(crop: Crop, fate: Fate) -> str:
    """A fate in words; basil dies of cold, not of frost."""
    chilled = fate == Fate.FROSTED and crop.limits.kill_seedling > NO_FROST
    return CHILLED if chilled else FATE_WORDS[fate]


@dataclass(frozen=True, slots=True)
class Outcome:
    """One crop, cover, way and purpose: arrays (years, n) over n sow days.

    Days are indices on the weather's axis; `never` (the axis's length) means not on it.
    """

    crop: Crop
    cover: CoverName
    way: Way
    purpose: Purpose
    never: int
    sow: Ints
    """(n,)"""
    up: NDArray[np.int16]
    place: NDArray[np.int16]
    """planted out, or the day after it came up"""
    first: NDArray[np.int16]
    """first picking, whether or not the sowing lives to it"""
    grown: NDArray[np.int16]
    """full grown; after `first` where it is picked sooner, at the size it has"""
    last: NDArray[np.int16]
    """last picking or end of standing; equals first where nothing is picked"""
    fate: NDArray[np.int8]
    share: NDArray[np.float32]
    """share of a full harvest, 0 to 1, without heat; nought where the sowing is lost before picking"""
    quality: NDArray[np.float32]
    """what heat leaves of its quality, 0 to 1"""
    emerged: NDArray[np.float32]
    """share of viable seed that comes up"""

    def at(self, rows: Ints) -> Outcome:
        """The same outcome on some of its sow days."""
        return Outcome(
            self.crop, self.cover, self.way, self.purpose, self.never, self.sow[rows],
            *(getattr(self, name)[:, rows] for name in
              ("up", "place", "first", "grown", "last", "fate", "share", "quality", "emerged")),
        )
