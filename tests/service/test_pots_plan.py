"""A garden of three pots, planned and grown (docs/design/days.md, 10). Invented, real weather of Dublin."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Sowed
from evenpick.report.today import how
from evenpick.report.words import words_for
from evenpick.service.book import write
from evenpick.service.jobs import of_planned
from evenpick.service.planning import make_plan, save_plan

POT = 0.0707
TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
years = 4
worth_a_sowing = 0.5
[[ground]]
name = "pots"
cover = "tunnel"
area = "3 x 0.0707 m2"
[[wish]]
item = "tomatoes"
crops = ["tomato"]
each_week = "2 portions"
from = "07-20"
until = "10-15"
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce"]
each_week = "1 portion"
"""


def test_three_pots_grow_tomatoes_and_lettuce_and_are_told_in_plants(tmp_path: Path) -> None:
    path = tmp_path / "garden.toml"
    path.write_text(TEXT, encoding="utf-8")
    plan = make_plan(path, date(2027, 3, 1), seconds=1)
    save_plan(path, plan)
    tomato = next(one for one in plan.sowings if one.crop == "tomato")
    assert tomato.plants
    assert tomato.area_m2 == pytest.approx(tomato.plants * POT)
    words = words_for("british", "metric", load_catalogue())
    lettuce = [one for one in plan.sowings if one.crop == "leaf-lettuce"]
    assert all(one.plants and one.row_m is None for one in lettuce)
    for sowing in lettuce:
        if sowing.way == "direct":
            assert "rows" not in how(next(of_planned(sowing, made=False)), words)
    write(path, [(tomato.sow, Sowed("tomato", "raised", "tunnel", tomato.area_m2, planned=tomato.id), "")])
    (standing,) = make_plan(path, tomato.sow, seconds=1).standing
    assert 0.7 < standing.to_come.likely / tomato.plants < 2.0  # kg; by the ground alone 0.4
