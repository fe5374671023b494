"""What each crop's way of growing asks between sowing and picking (data/tending.csv)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

from evenpick.base.trade import WayName
from evenpick.crops.table import rows

Stage = Literal["raising", "growing"]


@dataclass(frozen=True, slots=True)
class Step:
    what: str
    """a word of garden.diary.Tending"""
    way: WayName | Literal["any"]
    stage: Stage
    share: float
    """of the stage's days, 0 to 1"""
    why: str


@cache
def _steps() -> dict[str, tuple[Step, ...]]:
    found: dict[str, tuple[Step, ...]] = {}
    for row in rows("tending.csv"):
        made = Step(row["what"], row["way"], row["stage"], float(row["share"]), row["why"])  # type: ignore[arg-type]
        found[row["crop"]] = (*found.get(row["crop"], ()), made)
    return found


def tending_steps(crop: str, way: WayName) -> tuple[Step, ...]:
    """The steps of a crop grown in a way, in the order of the table; none for what needs nothing."""
    return tuple(step for step in _steps().get(crop, ()) if step.way in ("any", way))
