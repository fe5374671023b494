"""`evenpick losses` on an invented garden with real weather."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

from evenpick.garden.diary import Lost, Sowed
from evenpick.service.book import write

TEXT = """
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[plan]
years = 8
[[ground]]
name = "beds"
cover = "open"
area = "12 m2"
[[wish]]
item = "radish"
each_week = "250 g"
from = "05-01"
until = "09-30"
"""


def test_a_loss_is_listed_and_its_weeks_can_be_filled(run: Any, tmp_path: Path, monkeypatch: Any) -> None:
    garden = tmp_path / "garden.toml"
    garden.write_text(TEXT, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert "Nothing was lost" in run("losses", "--on", "2027-06-23")[1]
    (sowing,) = write(garden, [(date(2027, 6, 5), Sowed("radish", "direct", "open", 2.0), "")])
    write(garden, [(date(2027, 6, 20), Lost(sowing.id, "eaten", 1.0, "slugs"), "")])
    (row,) = json.loads(run("losses", "--on", "2027-06-23", "--json")[1])["losses"]
    assert (row["name"], row["cover"], row["by"], row["lost"]) == ("Radish", "open", "slugs", 1.0)
    listed = run("losses", "--on", "2027-06-23")[1].splitlines()
    assert any("Radish" in line and "open" in line for line in listed)
    code, out, _ = run("losses", row["tag"], "--on", "2027-06-23")
    assert code == 0
    assert "CAN STILL FILL THEM" in out
    answer = json.loads(run("losses", row["tag"], "--on", "2027-06-23", "--json")[1])
    assert answer["fillings"][0]["crop"] == "radish"
    assert run("losses", "none")[0] == 2
