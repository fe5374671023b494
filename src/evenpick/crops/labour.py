"""Minutes of work that a sowing asks (data/hours.csv; every figure from memory)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from evenpick.base.trade import WayName
from evenpick.crops.crop import Crop
from evenpick.crops.kinds import kinds
from evenpick.crops.table import rows


@dataclass(frozen=True, slots=True)
class Labour:
    """Minutes of one crop and way."""

    sow: float
    """a square metre"""
    plant_out: float
    """a square metre; nought where it is not raised"""
    tend: float
    """a square metre and week"""
    pick: float
    """a kilogram"""


@cache
def _hours() -> tuple[dict[str, str], ...]:
    return tuple(rows("hours.csv"))


def labour(crop: Crop, way: WayName) -> Labour:
    sow, out, tend, pick = (_minutes(crop, way, job) for job in ("sow", "plant out", "tend", "pick"))
    return Labour(sow, out, tend, pick)


def _minutes(crop: Crop, way: WayName, job: str) -> float:
    """Of a square metre, a square metre and week, or a kilogram; nought for a job it does not ask."""
    ours = {"way": way, "layout": crop.spacing.layout, "profile": crop.harvest.profile,
            "kind": kinds().get(crop.key, "any")}
    for row in _hours():
        if row["job"] == job and all(row[name] in ("any", value) for name, value in ours.items()):
            return float(row["minutes"]) * _each(crop, row["per"])
    return 0.0


def _each(crop: Crop, per: str) -> float:
    """How many of the unit there are on a square metre; 1 for what is not counted by ground."""
    space = crop.spacing
    return {"m": 1.0 / space.row, "plant": 1.0 / (space.in_row * space.row)}.get(per, 1.0)
