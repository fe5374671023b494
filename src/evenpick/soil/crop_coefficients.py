"""How thirsty a crop is as it grows: Kcb, height, cover and roots by stage (allen1998, chapters 6 and 7).

A crop's season is cut into FAO-56's four stages by the shares that table 11 gives them, and the curve runs
straight between (equation 66). Crops missing from the tables take the row of their nearest kind
(data/water/crop_rows.csv says which).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.soil.texture import Soil, water_table

KCB_BARE = 0.0
SHORTEST = 0.05
"""m: height of what is just up (own choice; the coefficients hardly feel it)"""
KY = 1.0
"""of crops that FAO has no Ky of: in the middle of those it has of vegetables, 0.7 to 1.25 (own choice)"""
POTTED = 0.25
"""m³ of water that plants can take from a cubic metre of potting compost (from memory: easily available water
of 0.20 to 0.30 is what is asked of a good one)"""
LEAST_ROOTS = 0.30
"""m: ground that is managed from the first, so that roots are drawn down: the least Zr of the vegetables in
table 22, though a seedling's own roots are shallower (0.15 to 0.20 m, memory)"""


@dataclass(frozen=True, slots=True)
class CropWater:
    """One row of tables 12, 17 and 22, and the shares of its season that the stages take (table 11)."""

    row: str
    kcb_ini: float
    kcb_mid: float
    kcb_end: float
    height: float
    """m, full grown"""
    roots: float
    """m: the lesser of table 22's two depths, which is the one meant for watering"""
    roots_deep: float
    """m: the greater of them, meant for ground left to the rain and for want of water; or as measured"""
    p: float
    """share of the water that is taken easily, at ETc 5 mm d⁻¹"""
    stages: tuple[float, float, float, float]
    """initial, development, middle, late; they sum to 1"""
    season: float
    """days from sowing or planting to the end, mean of the same entries"""
    response: float
    """Ky: by how much of its yield a crop falls short for each share of ETc that it goes without"""
    stand_in: bool
    """the tables do not have this crop: the row of the nearest kind"""


@dataclass(frozen=True, slots=True)
class Growing:
    """A crop's coefficients by day; every array has shape (years, days). Height and roots in m."""

    kcb: Floats
    height: Floats
    roots: Floats


@cache
def crop_water(crop: str) -> CropWater:
    """The water values of a crop by catalogue key; a crop without a row is a bug and raises KeyError."""
    chosen = {row["crop"]: row for row in water_table("crop_rows")}[crop]
    row = {row["row"]: row for row in water_table("crops")}[chosen["row"]]
    kcb = (float(row["kcb_ini"]), float(row["kcb_mid"]), float(row["kcb_end"]))
    entries = _stage_entries(row["row"])
    season = float(np.mean([float(entry["total"]) for entry in entries]))
    depths = (float(row["roots"]), _deep_roots(row))
    response = {each["row"]: float(each["ky"]) for each in water_table("yield_response")}
    return CropWater(row["row"], *kcb, float(row["height"]), *depths, float(row["p"]),
                     _stage_shares(entries), season, response.get(row["row"], KY), bool(chosen["why"]))


def _deep_roots(row: Mapping[str, str]) -> float:
    """The greater depth of table 22, or one measured where that is known."""
    measured = {each["row"]: float(each["roots_deep"]) for each in water_table("roots")}
    return measured.get(row["row"], float(row["roots_deep"]))


def growing(
    crop: CropWater, begin: Ints, there: Ints, end: Ints, days: int, kcb_mid: Floats, kcb_end: Floats
) -> Growing:
    """Kcb, height and roots over `days` days for seasons from `begin` to `end`; begin, there, end (years,).

    Stages count from `begin` (sown or planted); until `there` (up or planted) and after `end` the ground is
    bare. kcb_mid and kcb_end (years,) are as `adjusted_kcb` gives them. Kcb runs as equation 66 has it;
    height and roots follow it up to the middle of the season and stay (roots as in annex 8, memory).
    """
    at = np.arange(days)[None, :]
    share = (at - begin[:, None]) / np.maximum(end - begin, 1.0)[:, None]
    kcb, grown = curve(crop, share, kcb_mid[:, None], kcb_end[:, None])
    grows = (at >= there[:, None]) & (at <= end[:, None])
    deep = max(crop.roots, LEAST_ROOTS)
    return Growing(
        np.where(grows, kcb, KCB_BARE),
        np.where(grows, SHORTEST + (crop.height - SHORTEST) * grown, SHORTEST),
        LEAST_ROOTS + (deep - LEAST_ROOTS) * np.where(at >= there[:, None], grown, 0.0),
    )


def in_pot(crop: Growing, depth: float, share: float, soil: Soil) -> Growing:
    """The same with its roots in a pot, on a square metre of pots: what its leaves draw over `share` of the
    ground that they have in a bed is drawn from the pot alone, and roots fill it from the first. `depth` m.
    The compost gives `POTTED` of its room to plants, whatever the soil outside."""
    held = POTTED / (soil.field_capacity - soil.wilting_point)
    return Growing(crop.kcb / share, crop.height, np.full_like(crop.roots, depth * held))


def curve(
    crop: CropWater, share: Floats, kcb_mid: Floats | float, kcb_end: Floats | float
) -> tuple[Floats, Floats]:
    """Kcb (equation 66) and how far the crop is grown up, 0 to 1, once a share of its season is gone."""
    initial, development, _, late = crop.stages
    grown = np.clip((share - initial) / development, 0.0, 1.0)
    aged = np.clip((share - (1.0 - late)) / late, 0.0, 1.0)
    return np.asarray(crop.kcb_ini + (kcb_mid - crop.kcb_ini) * grown + (kcb_end - kcb_mid) * aged), grown


def _stage_entries(row: str) -> Sequence[Mapping[str, str]]:
    """The row's entries in table 11; those of all its vegetables where it has none."""
    entries = water_table("stages")
    return [entry for entry in entries if row.startswith(entry["row"])] or entries


def _stage_shares(entries: Sequence[Mapping[str, str]]) -> tuple[float, float, float, float]:
    names = ("initial", "development", "middle", "late")
    lengths = np.array([[float(entry[name]) for name in names] for entry in entries])
    shares = (lengths / lengths.sum(axis=1, keepdims=True)).mean(axis=0)
    first, second, third, fourth = (float(share) for share in shares)
    return first, second, third, fourth
