"""What a cooperative is answered, as frozen records of plain values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Generic, TypeVar

from evenpick.service.ground_answer import GroundAnswer
from evenpick.service.pickings_answer import ItemPickings, Measured
from evenpick.service.plan_answer import GivenUp, Holding, PlanAnswer
from evenpick.service.shares_answer import ShortShare, Takings
from evenpick.service.today_answer import TodayAnswer

Answer = TypeVar("Answer")
Other = TypeVar("Other")


@dataclass(frozen=True, slots=True)
class FarmPlan:
    """One farm's part of the plan."""

    name: str
    file: str
    """of the farm's garden, as seen from the cooperative's folder"""
    plan: PlanAnswer
    """its own sowings and ground; what it measures is of all farms together. Its pickings are its own:
    `wanted` is its part of what is wanted (service/farm_pickings.py)"""


@dataclass(frozen=True, slots=True)
class CooperativeAnswer:
    """The plan of all farms together."""

    name: str
    begins: date
    invented: bool
    farms: tuple[FarmPlan, ...]
    pickings: tuple[ItemPickings, ...]
    """of all farms"""
    plan: Measured
    interval_rule: Measured
    interval_rule_setting: str
    gap: float | None
    seconds: float
    stages: tuple[tuple[str, float], ...]
    cannot: tuple[str, ...]
    short_of: tuple[str, ...]
    holding: tuple[Holding, ...]
    given_up: tuple[GivenUp, ...]
    notes: tuple[str, ...]
    made_from: str
    """digest of the cooperative's file and the farms'"""
    money: str = ""
    short_shares: tuple[ShortShare, ...] = ()
    takings: tuple[Takings, ...] = ()
    uncounted: float | None = None
    """as of `PlanAnswer`, of all farms together"""
    beaten: str = ""
    """as of `PlanAnswer`, of all farms together"""
    loss_note: str = ""
    """as of `PlanAnswer`, farm by farm; empty in the plan as it is kept"""
    take_in: str = ""


@dataclass(frozen=True, slots=True)
class FarmTold(Generic[Answer]):
    """What one farm answers, or why it can't."""

    name: str
    file: str
    """of the farm's garden, as seen from the cooperative's folder"""
    path: Path
    """the same file, as it is found from here"""
    answer: Answer | None
    problem: str = ""
    """what is wrong with its files and how to mend it; empty where there is an answer"""

    def having(self, answer: Other | None) -> FarmTold[Other]:
        """The same farm with another answer."""
        return FarmTold(self.name, self.file, self.path, answer, self.problem)


FarmToday = FarmTold[TodayAnswer]
FarmGround = FarmTold[GroundAnswer]
