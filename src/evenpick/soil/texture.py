"""What each kind of ground holds (allen1998, table 19; packaged by builders/water_tables.py)."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from evenpick.base.errors import BadRequest, Problem, did_you_mean
from evenpick.base.language import tell

EVAPORATING = 0.10
"""m: Ze, the layer that dries by evaporation, 0.10 to 0.15 (allen1998, equation 73); table 19 takes 0.10"""


@dataclass(frozen=True, slots=True)
class Soil:
    """Water that a soil holds, m³ m⁻³, and REW, mm: what its surface gives before it begins to dry."""

    name: str
    field_capacity: float
    wilting_point: float
    readily_evaporable: float


def soil_named(name: str) -> Soil:
    """A soil by the texture names of table 19, at the middle of its printed ranges; BadRequest otherwise.

    The ranges are wide: a soil of one name may hold a quarter more or less than its middle.
    """
    found = soils().get(name.strip().casefold().replace("-", " "))
    if found is None:
        known = ", ".join(soils())
        hint = did_you_mean(name, soils())
        what = f"there is no soil '{name}'. {hint}".rstrip()
        raise BadRequest(Problem(what, tell("The soils are {known}.", known=known), field="soil"))
    return found


@cache
def soils() -> Mapping[str, Soil]:
    """All soils of table 19 by name, the lightest first."""
    return MappingProxyType({row["texture"]: _soil(row) for row in water_table("soils")})


def water_table(name: str) -> list[dict[str, str]]:
    """The rows of one of the packaged water tables."""
    text = (files("evenpick") / "data" / "water" / f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def _soil(row: Mapping[str, str]) -> Soil:
    fc, wp, rew = (_middle(row, what) for what in ("fc", "wp", "rew"))
    return Soil(row["texture"], fc, wp, rew)


def _middle(row: Mapping[str, str], what: str) -> float:
    return (float(row[f"{what}_low"]) + float(row[f"{what}_high"])) / 2
