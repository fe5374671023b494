"""A small INVENTED garden with a kept INVENTED plan, served to a client in the same process."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from fastapi import FastAPI
from fastapi.testclient import TestClient

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))

import invented

from evenpick.base.days import day_number
from evenpick.garden.diary import Cleared, Entry, Lost, Picked, Sowed, new_id
from evenpick.service.book import keep
from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.store_plan import garden_digest

GARDEN = """\
[site]
name = "Testham"
at = "51.5, -1.25"
[[ground]]
name = "bed"
cover = "open"
area = "60 m²"
[[ground]]
name = "tunnel"
cover = "tunnel"
area = "8 m²"
[[outlet]]
name = "kitchen"
kind = "kitchen"
[[outlet]]
name = "boxes"
kind = "boxes"
shares = 4
[[wish]]
item = "salad leaves"
crops = ["rocket", "leaf-lettuce"]
outlet = "kitchen"
each_week = "0.6 kg"
[[wish]]
item = "salad leaves"
crops = ["rocket", "leaf-lettuce"]
outlet = "boxes"
each_week = "100 g"
[[wish]]
item = "runner beans and others"
crops = ["runner-bean"]
outlet = "boxes"
each_week = "500 g"
from = "07-05"
until = "10-03"
"""
DAY = date(2027, 2, 3)
HERE = "http://127.0.0.1:8430"


@dataclass(frozen=True)
class Place:
    """A served garden: its file, its application, a client on it."""

    garden: Path
    app: FastAPI
    client: TestClient

    @property
    def token(self) -> str:
        found: str = self.client.get("/token").json()["token"]
        return found


LOST, DRILL, TAUGHT = (f"{1_800_000_000_000 + n:012x}{n:020x}" for n in range(3))
"""ids of the sowings that `grown_diary` writes"""


def grown_diary(garden: Path) -> None:
    """INVENTED: rocket of which half was lost, lettuce in its drill, a sowing of last year that teaches."""
    def number(day: date) -> int:
        return day_number(day)

    keep(garden, [
        Entry(TAUGHT, number(date(2026, 4, 18)), Sowed("rocket", "direct", "open", 3.0)),
        Entry(new_id(), number(date(2026, 6, 20)), Picked("rocket", TAUGHT, kg=9.0)),
        Entry(new_id(), number(date(2026, 7, 1)), Cleared(TAUGHT)),
        Entry(LOST, number(date(2027, 1, 20)), Sowed("rocket", "direct", "tunnel", 3.0, ground="tunnel")),
        Entry(DRILL, number(date(2027, 1, 30)),
              Sowed("leaf-lettuce", "direct", "tunnel", 2.0, ground="tunnel")),
        Entry(new_id(), number(DAY), Lost(LOST, "eaten", 0.5, "slugs")),
    ])


def plan_for(text: str) -> PlanAnswer:
    return replace(invented.PLAN, made_from=replace(invented.PLAN.made_from, garden=garden_digest(text)))
