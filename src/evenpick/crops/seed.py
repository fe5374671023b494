"""What is known of a crop's seed, and how its viability falls (data/seed.csv, viability.csv; seed.md)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import log10
from statistics import NormalDist
from typing import Literal

from evenpick.crops.table import rows

Keeping = Literal["warm", "room", "cool", "cold"]
KEEPING: tuple[Keeping, ...] = ("warm", "room", "cool", "cold")
STORES: Mapping[Keeping, tuple[float, float]] = {
    "warm": (25.0, 9.0), "room": (19.0, 8.5), "cool": (10.0, 8.0), "cold": (5.0, 6.0),
}
"""°C and moisture of the seed in percent: a shed or tunnel, a drawer indoors, a cool dry place, a dry jar in
the fridge (memory)"""
REFERENCE: Keeping = "room"
"""what the tables of seed life mean by favourable storage at home (our reading)"""
FRESH, SPENT = 0.90, 0.50
"""germination at packing where nobody says, and at the end of the table's years (our reading; memory)"""
DAYS_IN_YEAR = 365.25
UNIVERSAL_CW = 4.5
"""moisture constant where the crop has none of its own: the middle of those in the table"""
UNIVERSAL_CH, UNIVERSAL_CQ = 0.0329, 0.000478

_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class Viability:
    """Constants of log10 σ = KE − CW log10 m − CH t − CQ t² (ellisroberts1980)."""

    ke: float
    cw: float
    ch: float
    cq: float

    def sigma(self, moisture: float, celsius: float) -> float:
        """Days in which germination falls by one probit; moisture 5 to 25 % of fresh weight, −20 to 90 °C."""
        return float(10 ** (self.ke - self.cw * log10(moisture) - self.ch * celsius - self.cq * celsius**2))


@dataclass(frozen=True, slots=True)
class Seed:
    crop: str
    years: float
    """of favourable storage at home"""
    minimum: float | None
    """least germination sold, share (cfr201); None where the table has none"""
    constants: str
    """row of viability.csv; empty where the crop has none"""
    species: str
    pollination: Literal["self", "insect", "wind", "clone"]
    isolation: float | None
    """m from others of its species in flower"""
    plants: int
    """the fewest for a healthy line"""
    cycle: Literal["annual", "biennial", "clone"]
    sources: Mapping[str, str]


@cache
def seed_of(crop: str) -> Seed:
    """What is known of a crop's seed, by catalogue key. KeyError for one that the table lacks."""
    return _seeds()[crop]


@cache
def _seeds() -> Mapping[str, Seed]:
    return {
        row["crop"]: Seed(
            row["crop"], float(row["years"]), float(row["minimum"]) / 100 if row["minimum"] else None,
            row["constants"], row["species"], row["pollination"],  # type: ignore[arg-type]
            float(row["isolation"]) if row["isolation"] else None, int(row["plants"]),
            row["cycle"],  # type: ignore[arg-type]
            {"years": row["years_source"], "crossing": row["crossing_source"], "cycle": row["cycle_source"]},
        )
        for row in rows("seed.csv")
    }


@cache
def viability(name: str) -> Viability:
    """Constants by their row's name."""
    found = {row["name"]: row for row in rows("viability.csv")}[name]
    return Viability(*(float(found[column]) for column in ("KE", "CW", "CH", "CQ")))


def longer(seed: Seed, keeping: Keeping) -> float:
    """How many times as long seed lives as in the reference storage, by its own constants if it has any."""
    known = viability(seed.constants) if seed.constants else Viability(
        0.0, UNIVERSAL_CW, UNIVERSAL_CH, UNIVERSAL_CQ)
    (celsius, moisture), (cool, dry) = STORES[keeping], STORES[REFERENCE]
    return known.sigma(moisture, celsius) / known.sigma(dry, cool)


def germination(seed: Seed, first: float, years: float, keeping: Keeping) -> float:
    """Share of seed that germinates after some years, from a share at their start.

    v = Ki − p/σ in probits (ellisroberts1980); σ such that seed at FRESH has fallen to SPENT after the years
    of the seed-life table in the reference storage, longer or shorter in another as the equation has it.
    Valid for dry seed of ordinary crops; lots differ widely: half a probit either way is usual (memory).
    """
    fall = (_NORMAL.inv_cdf(FRESH) - _NORMAL.inv_cdf(SPENT)) / (seed.years * longer(seed, keeping))
    start = _NORMAL.inv_cdf(min(max(first, 1e-4), 1 - 1e-4))
    return _NORMAL.cdf(start - fall * max(years, 0.0))
