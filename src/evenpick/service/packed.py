"""Entries of a supply as text, to be kept with a plan and read in a moment."""

from __future__ import annotations

import zlib
from base64 import b64decode, b64encode
from collections.abc import Sequence

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.plan.horizon import COUNTED_WEEKS, WEEKS
from evenpick.plan.request import Supply

ENTRY = np.dtype([("year", "<u2"), ("ripe", "u1"), ("last", "u1"), ("kg", "<f4")])
"""any week of the horizon goes into a byte"""


def packed(year: Ints, ripe: Ints, last: Ints, kg: Floats) -> str:
    """What ripens in the weeks that are told; empty where that is nothing."""
    told = ripe < COUNTED_WEEKS
    made = np.zeros(int(told.sum()), ENTRY)
    made["year"], made["ripe"], made["kg"] = year[told], ripe[told], kg[told]
    made["last"] = np.minimum(last[told], WEEKS - 1)
    return b64encode(zlib.compress(made.tobytes())).decode() if made.size else ""


def unpacked(several: Sequence[str]) -> Supply:
    """As the supply of candidates, one for each text, of which a square metre is all there is."""
    parts = [np.frombuffer(zlib.decompress(b64decode(each)), ENTRY) for each in several]
    every = np.concatenate(parts)
    whose = np.repeat(np.arange(len(parts)), [part.size for part in parts])
    year, ripe, last = (every[name].astype(np.int64) for name in ("year", "ripe", "last"))
    return Supply(whose, year, ripe, last, every["kg"].astype(np.float64))
