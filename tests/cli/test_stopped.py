"""Ctrl-C in the plan of a cooperative, for real: the program and its helper process are sent SIGINT, as a
terminal sends it to all at once. Invented farms; real weather of Dublin Airport."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from invented_farms import FARMS, written

from evenpick.service.kept_together import kept_cooperative
from evenpick.service.store_plan import saved_plan

COOPERATIVE = f"""
invented = true
[cooperative]
name = "Two Rivers"
[plan]
from = 2027-02-01
years = 3
{FARMS}
[[wish]]
item = "radish"
each_week = "400 g"
from = "05-01"
until = "07-31"
[[wish]]
item = "lettuce"
crops = ["leaf-lettuce", "cos-lettuce"]
each_week = "800 g"
from = "06-01"
until = "08-31"
"""
FARM = """
invented = true
cooperative = "coop.toml"
[site]
at = "53.4, -6.2"
weather = "dublin-airport"
[[ground]]
name = "beds"
cover = "open"
area = "8 m2"
"""
PATIENCE = 120
pytestmark = pytest.mark.skipif(os.name == "nt", reason="breaks are sent in another way there")


@pytest.fixture
def coop(tmp_path: Path) -> Path:
    return written(tmp_path, COOPERATIVE, FARM)


def stopped(coop: Path, at: Sequence[str]) -> tuple[int, str]:
    """Exit code and standard error of a plan sent a break when each of some words is told, in turn."""
    program = subprocess.Popen(
        [sys.executable, "-m", "evenpick", "plan", "--garden", "coop.toml", "--on", "2027-02-01"],
        cwd=coop.parent, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, start_new_session=True,
    )
    assert program.stderr is not None
    said, waited = "", list(at)
    for line in program.stderr:
        said += line
        if waited and waited[0] in line:
            waited.pop(0)
            os.killpg(program.pid, signal.SIGINT)
    assert not waited, said
    return program.wait(PATIENCE), said


@pytest.mark.parametrize("when", ["growing every crop", "descent"])
def test_once_it_keeps_the_best_joint_plan_so_far(coop: Path, when: str) -> None:
    code, said = stopped(coop, [when])
    assert code == 0, said
    assert "Traceback" not in said
    assert ("Stopping: the best plan so far" if when == "descent" else "Stopping with the first plan") in said
    kept = kept_cooperative(coop)
    assert kept.gap is not None
    assert 0.0 < kept.gap < 1.0
    assert any(farm.plan.sowings for farm in kept.farms)
    for farm in kept.farms:
        saved = saved_plan(coop.parent / farm.file)
        assert saved is not None
        assert replace(saved, others=(), together="") == farm.plan  # and what the others bring


def test_twice_before_there_is_a_plan_it_says_so_and_keeps_none(coop: Path) -> None:
    before = sorted(coop.parent.iterdir())
    code, said = stopped(coop, ["growing every crop", "Stopping with the first plan"])
    assert code == 130
    assert said.splitlines()[-1].startswith("Stopped before there was a plan: none is kept.")
    assert "Traceback" not in said
    assert sorted(coop.parent.iterdir()) == before
