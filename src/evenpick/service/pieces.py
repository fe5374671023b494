"""What an item is counted in at the table, and what one of them weighs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.crops.crop import Crop, Produce
from evenpick.plan.options import Option


def counted_in(options: Sequence[Option], areas: Floats, crops: Sequence[Crop]) -> tuple[Produce, ...]:
    """Each item's produce: its first crop's (`crops`), and one piece weighs what it does on the mean of
    what is sown (areas (n,), m²), so that kg come to as many heads as are cut. A type has pieces of its own
    weight; what is counted in other pieces than the first crop's is left out.
    """
    kg, pieces = np.zeros(len(crops)), np.zeros(len(crops))
    for option, area in zip(options, areas, strict=True):
        made = option.batch.crop.produce
        if area > 0 and made.piece == crops[option.item].produce.piece:
            kg[option.item] += area * made.kg_per_m2
            pieces[option.item] += area * made.kg_per_m2 / made.piece_kg
    return tuple(
        replace(crop.produce, piece_kg=float(kg[item] / pieces[item])) if pieces[item] > 0 else crop.produce
        for item, crop in enumerate(crops)
    )
