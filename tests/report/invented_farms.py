"""INVENTED: two farms of a cooperative with a kept plan."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import invented

from evenpick.service.cooperative_answer import CooperativeAnswer, FarmPlan
from evenpick.service.cooperative_files import cooperative_of
from evenpick.service.store_plan import garden_digest

FARMS = """
[[farm]]
name = "valley"
garden = "valley.toml"
[[farm]]
name = "hill"
garden = "hill.toml"
"""
FILE = f"""
[cooperative]
name = "Two Rivers"
[words]
units = "imperial"
{FARMS}
[[wish]]
item = "leeks"
each_week = "2 portions"
"""
FARM = """
cooperative = "coop.toml"
[site]
at = "51.5, -1.25"
[[ground]]
name = "bed"
cover = "open"
area = "20 m²"
"""


def answer_of(file: Path) -> CooperativeAnswer:
    plan, digest, described = invented.PLAN, garden_digest(FARM), cooperative_of(file)
    farms = tuple(
        FarmPlan(farm.name, farm.file.name, replace(plan, made_from=replace(plan.made_from, garden=digest)))
        for farm in described.own.farms
    )
    return CooperativeAnswer(
        "Two Rivers", plan.begins, True, farms, plan.pickings, plan.plan, plan.interval_rule,
        plan.interval_rule_setting, plan.gap, plan.seconds, plan.stages, plan.cannot, (), (), (),
        ("They go together.",), described.digest,
    )


def written(folder: Path, file: str = FILE, farm: str = FARM) -> Path:
    """The cooperative's file and its farms', two alike, in a folder."""
    for name, text in (("coop", file), ("valley", farm), ("hill", farm)):
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return folder / "coop.toml"
