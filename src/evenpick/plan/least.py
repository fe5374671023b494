"""The least and the most of one sowing, and the steps in which its area goes (days.md, 10): half metres of
row, whole plants, quarter square metres."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.trade import CoverName, GroundCover, ground_under
from evenpick.crops.crop import Crop
from evenpick.crops.sown import ROW_STEP, InPots
from evenpick.garden.garden import Garden
from evenpick.plan.stretches import HAIR

LEAST_ROW = 2.0  # m of row
LEAST_PLANTS = 3
LEAST_BED = 0.5  # m² broadcast
LEAST_LENGTH = 0.5  # m of a bed; common practice, no source
BED_STEP = 0.25  # m²
HALF = 0.5  # of what could be used, where that is less than the usual least (our choice)
OF_GROUND = 0.05  # of all the ground that is cropped: on a windowsill no row is two metres long (our choice)


def step(crop: Crop) -> float:
    """The least difference in area that a grower would make, m²."""
    space = crop.spacing
    if isinstance(space, InPots):
        return space.pot
    if space.layout == "station":
        return space.in_row * space.row
    return ROW_STEP * space.row if space.layout == "row" else BED_STEP


def worthwhile_length(crop: Crop) -> float:
    """The shortest piece of a bed, m, that a sowing is split into: half a metre, or three plants along the
    row where that is longer (common practice, no source)."""
    space = crop.spacing
    return LEAST_LENGTH if space.layout == "broadcast" else max(LEAST_LENGTH, LEAST_PLANTS * space.in_row)


def least_area(crop: Crop, ground: float) -> float:
    """The least worth sowing of one sowing, m²: a short row, a few plants, half a square metre; where that is
    less, a twentieth of all `ground` (m²) in whole steps."""
    space = crop.spacing
    plants, row = LEAST_PLANTS * space.in_row * space.row, LEAST_ROW * space.row
    usual = {"station": plants, "row": row, "broadcast": LEAST_BED}[space.layout]
    return min(usual, at_least_whole(OF_GROUND * ground, step(crop)))


def row_across(crop: Crop, cover: CoverName, garden: Garden) -> float:
    """m² of one row across the widest bed of a cover whose shape is told, no more than a short row takes: a
    hand can sow no less of a bed's length than that. Nought where no shape is told, or what is no row."""
    widths = [bed.width for bed in garden.beds(ground_under(cover)) if bed.width is not None]
    if crop.spacing.layout != "row" or not widths:
        return 0.0
    return min(max(widths), LEAST_ROW) * crop.spacing.row


def in_whole(beds: Sequence[float], size: float) -> float:
    """m² of beds that whole pots of one size fill."""
    return sum(floor(area / size + HAIR) * size for area in beds)


def most_area(crop: Crop, cover: CoverName, garden: Garden) -> float:
    """m² of a garden that can stand under one crop and cover: of beds that have room for the least of it, of
    pots in whole ones."""
    each = step(crop)
    beds = [bed.area for bed in garden.beds(ground_under(cover)) if bed.area >= each - HAIR]
    ground = in_whole(beds, each) if isinstance(crop.spacing, InPots) else sum(beds)
    movable = {"fleece": garden.fleece, "cloche": garden.cloche}
    return min(ground, movable.get(cover, ground))


def largest_bed(garden: Garden, cover: GroundCover) -> float:
    """m² of the largest bed under one cover; nought where there is no such ground."""
    return max((bed.area for bed in garden.beds(cover)), default=0.0)


def least_areas(
    crops: Sequence[Crop], useful: Floats, once: Floats, wanted: Floats, ground: float,
    across: Floats | None = None,
) -> tuple[Floats, Floats]:
    """Each candidate's least and most, m², the least over the most where it is not worth making; (n,) each.

    `useful` is the area of which a sowing's own weeks could use all, m², `once` that of which one year's
    could, and `wanted` the share of the usual wish that its weeks have. Where `once` is less than
    `least_area`, as of parsley for two or of radish for one, half of it is worth sowing, in whole steps and
    one at least, if half of the usual wish is wanted in its weeks; but no less than a row `across` a bed, m².
    """
    usual = np.array([least_area(crop, ground) for crop in crops])
    rows = np.minimum(np.zeros(len(crops)) if across is None else across, usual)
    fewest = np.array([at_least_whole(max(HALF * area, row), step(crop))
                       for area, row, crop in zip(once, rows, crops, strict=True)])
    small = (once > 0) & (once < usual) & (wanted >= HALF)
    return np.where(small, fewest, usual), np.where(small, np.maximum(useful, fewest), useful)


def at_least_whole(area: float, each: float) -> float:
    """At least so much in whole steps, and one at least."""
    return max(ceil(area / each - 1e-9), 1) * each
