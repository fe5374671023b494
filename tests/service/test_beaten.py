"""A plan that the simple rule beats says so, and what would mend it."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from evenpick.report.plan import plan_page
from evenpick.report.plan_json import plan_shape
from evenpick.report.terminal import render
from evenpick.service.beaten import beaten
from evenpick.service.pickings_answer import Measured
from evenpick.service.plan_answer import GroundUse

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))
from invented import BRITISH, PLAN

OURS, RULE = Measured(0.27, 0.17, 30.0, 0.39), Measured(0.12, 0.42, 14.0, 0.21)
FREE = (GroundUse("open", 36.0, (2.0, 6.2)), GroundUse("tunnel", 6.0, (0.0, 3.9)))


def test_it_is_said_with_what_would_mend_it() -> None:
    said = beaten(2.0, OURS, RULE, FREE)
    assert said.startswith("The interval rule leaves less bare than this plan and lets more go over, while")
    assert "less than 2 portions: where less is said to be worth a sowing in the garden file" in said
    assert "less than 1 portion:" in beaten(1.0, OURS, RULE, FREE)
    assert "worth a sowing" not in beaten(0.5, OURS, RULE, FREE)
    assert "go over" not in beaten(2.0, OURS, replace(RULE, spare=0.1), FREE)


@pytest.mark.parametrize(("rule", "ground"), [
    (replace(RULE, bare=0.25), FREE),  # hardly less bare
    (RULE, (*FREE[:1], GroundUse("tunnel", 6.0, (5.0,)))),  # no ground is free
    (RULE, ()),
])
def test_it_is_not_said_where_it_is_not_so(rule: Measured, ground: tuple[GroundUse, ...]) -> None:
    assert beaten(2.0, OURS, rule, ground) == ""


def test_it_stands_with_the_measures_and_among_the_notes() -> None:
    plan = replace(PLAN, beaten="The rule is better.")
    page = render(plan_page(plan, (), BRITISH))
    assert page.index("HOW GOOD IT IS") < page.index("The rule is better.") < page.index("WHAT CAN'T BE HAD")
    assert plan_shape(plan, BRITISH)["notes"][0] == "The rule is better."
    assert "" not in plan_shape(PLAN, BRITISH)["notes"]
