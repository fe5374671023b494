"""How near the sea a place lies."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

CELL = 0.1  # degrees of latitude and longitude
ROWS, COLUMNS = 1800, 3600  # from the north, from 180° west
BAND_ROWS = 100
STEPS = 250  # of the share, sea throughout
KM = 20.0
"""the distance in which sea comes to count an e-th"""


def sea_share(lat: float, lon: float) -> float:
    """The share of sea round about a point in degrees: 1 at sea, about a half on a straight coast, 0 inland.

    Each km² within 150 km counts exp(−distance / 20 km). Between the cells of a grid of 0.1°, in steps of
    1/250, straight lines (builders/sea.py, from the GLOBE elevation model); within 0.02 of the share itself.
    Lakes are no sea. Defined everywhere, poles and date line included.
    """
    down, along = (90.0 - lat) / CELL - 0.5, (lon + 180.0) / CELL - 0.5
    top, left = int(np.floor(down)), int(np.floor(along))
    upper, lower = (_between(row, left, along - left) for row in (top, top + 1))
    return (upper + (lower - upper) * (down - top)) / STEPS


def _between(row: int, left: int, part: float) -> float:
    """A row's value that part of the way from one column to the next."""
    line = _band(min(max(row, 0), ROWS - 1) // BAND_ROWS)[min(max(row, 0), ROWS - 1) % BAND_ROWS]
    west, east = (float(line[column % COLUMNS]) for column in (left, left + 1))
    return west + (east - west) * part


@cache
def _band(number: int) -> NDArray[np.uint8]:
    """A hundred rows of the grid, of 250 steps; (100, 3600)."""
    with (files("evenpick") / "data" / "sea.npz").open("rb") as file, np.load(file) as packed:
        return np.asarray(packed[f"band_{number}"])
