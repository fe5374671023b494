"""docs/interface.md names every command, option and key of the JSON that there is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import invented
import pytest
from invented import BRITISH

from evenpick.cli.exits import EXITS
from evenpick.cli.main import COMMANDS, command
from evenpick.report import plan_json, when_json

DOCS = (Path(__file__).resolve().parents[2] / "docs" / "interface.md").read_text(encoding="utf-8")
SHAPES = {
    "windows": when_json.windows_shape(invented.WINDOWS, BRITISH),
    "month": when_json.month_shape(invented.MONTH, BRITISH),
    "outlook": when_json.outlook_shape(invented.OUTLOOK, BRITISH),
    "why": when_json.why_shape(invented.WHY, BRITISH),
    "plan": plan_json.plan_shape(invented.PLAN, BRITISH),
    "pickings": plan_json.pickings_shape(invented.PLAN, invented.PLAN.pickings, BRITISH,
                                       lambda week: invented.SHARES),
    "ground": plan_json.ground_shape(invented.GROUND, BRITISH),
    "today": plan_json.today_shape(invented.TODAY),
}
IN_WORDS = ("fates", "stages", "hazards", "sources")  # objects whose keys are words of the answer itself


def keys(shape: Any) -> Iterator[str]:
    if isinstance(shape, dict):
        for key, value in shape.items():
            yield key
            if key not in IN_WORDS:
                yield from keys(value)
    elif isinstance(shape, list | tuple):
        for value in shape:
            yield from keys(value)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_is_told(name: str) -> None:
    assert f"### {name}\n" in DOCS
    for parameter in command(name).params:
        for option in parameter.opts:
            assert f"`{option}" in DOCS or option == parameter.name


@pytest.mark.parametrize("name", SHAPES)
def test_every_key_is_told(name: str) -> None:
    written = set(re.findall(r"`([a-z_0-9]+)`", DOCS))
    assert set(keys(SHAPES[name])) <= written


def test_every_exit_code_is_told() -> None:
    for _, code in EXITS:
        assert f"| {code} |" in DOCS
