"""What a cooperative is answered, as frozen records of plain values."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from evenpick.service.ground_answer import GroundAnswer
from evenpick.service.pickings_answer import ItemPickings, Measured
from evenpick.service.plan_answer import GivenUp, Holding, PlanAnswer
from evenpick.service.shares_answer import ShortShare, Takings
from evenpick.service.today_answer import TodayAnswer


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
class FarmToday:
    name: str
    file: str
    today: TodayAnswer


@dataclass(frozen=True, slots=True)
class FarmGround:
    name: str
    file: str
    ground: GroundAnswer
