"""What it takes to save a crop's seed (data/seed_saving.csv)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from evenpick.crops.table import rows


@dataclass(frozen=True, slots=True)
class SavingSteps:
    weeks: int
    """from fit to eat to ripe seed; for what needs a winter, from spring"""
    flowers_while_picked: bool
    how: str


@cache
def _all() -> dict[str, SavingSteps]:
    return {row["crop"]: SavingSteps(int(row["weeks"]), row["flowers"] == "yes", row["how"])
            for row in rows("seed_saving.csv")}


def saving_steps(crop: str) -> SavingSteps | None:
    """None for what is kept by sets, cloves or tubers."""
    return _all().get(crop)
