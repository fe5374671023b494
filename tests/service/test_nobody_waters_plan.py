"""A plan for ground that nobody waters is made for the rain (docs/design/water.md, 20a)."""

from __future__ import annotations

import re

import pytest

from evenpick.service.plan_answer import PlanAnswer
from evenpick.service.planning import make_plan

GARDEN = """\
[site]
place = "Pune"
watered = false
[plan]
from = 2027-05-20
years = 4
[[ground]]
name = "field"
cover = "open"
area = "20 m²"
[[wish]]
item = "okra"
each_week = "2 portions"
[[wish]]
item = "onions"
crops = ["onion"]
each_week = "2 portions"
from = "01-08"
until = "05-05"
"""


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> PlanAnswer:
    path = tmp_path_factory.mktemp("field") / "garden.toml"
    path.write_text(GARDEN, encoding="utf-8")
    return make_plan(path, seconds=1)


def test_nothing_is_set_out_into_months_without_rain(plan: PlanAnswer) -> None:
    """From October to May Pune has next to none: okra was set out in December, onions in November."""
    assert plan.sowings
    into = [sowing.plant_out or sowing.sow for sowing in plan.sowings]
    assert not [day for day in into if day.month in (11, 12, 1, 2, 3)]
    assert {sowing.plant_out.month for sowing in plan.sowings if sowing.crop == "onion" and sowing.plant_out
            } <= {6, 7, 8, 9}, "onions of the rains alone"


def test_water_is_told_as_what_is_wanted_and_no_tunnel(plan: PlanAnswer) -> None:
    told = " ".join(plan.cannot)
    assert re.search(r"onions: nothing can be had in the weeks of [^;]*; with water something could\.", told)
    assert "tunnel" not in told


def test_what_it_rests_on_is_told(plan: PlanAnswer) -> None:
    assert any("Nobody can water the open ground" in note for note in plan.notes)
