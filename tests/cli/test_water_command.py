"""What `evenpick water` asks of its service and shows; once against the real one."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from invented_water import WATER

from evenpick.base.chance import DEFAULT_SEED
from evenpick.garden.garden import WeatherChoice

Run = Callable[..., tuple[int, str, str]]
ASK = ("water", "--crop", "rocket", "--sow", "2027-05-01")
DOCS = (Path(__file__).resolve().parents[2] / "docs" / "interface.md").read_text(encoding="utf-8")


@pytest.fixture
def asked_for(monkeypatch: pytest.MonkeyPatch, calls: Any) -> list[Any]:
    made: list[Any] = []
    module = ModuleType("evenpick.service.water")

    def answer(*arguments: Any) -> Any:
        made.extend(arguments)
        return WATER

    module.water = answer  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, module.__name__, module)
    return made


def test_water_with_defaults(run: Run, asked_for: list[Any]) -> None:
    code, out, err = run(*ASK, "--at", "51.5,-1.25")
    assert (code, err) == (0, "")
    assert asked_for[1:] == [WeatherChoice(), "rocket", date(2027, 5, 1), None, "loam", "open", None, {},
                             DEFAULT_SEED, True]
    assert "Water: 2.7 litres on a metre of drill" in out


def test_water_with_everything(run: Run, asked_for: list[Any]) -> None:
    typed = ("--on", "2027-05-03", "--soil", "sand", "--cover", "tunnel", "--way", "raised", "--seed", "5",
             "--rain", "2027-05-02=4.5", "--rain", "2027-05-03=0mm", "--weather", "mine.csv")
    assert run(*ASK, "--at", "51.5,-1.25", *typed)[0] == 0
    gauge = {date(2027, 5, 2): 4.5, date(2027, 5, 3): 0.0}
    assert asked_for[1:] == [WeatherChoice(record=Path("mine.csv")), "rocket", date(2027, 5, 1),
                             date(2027, 5, 3), "sand", "tunnel", "raised", gauge, 5, True]


@pytest.mark.parametrize("typed", ["2027-05-02", "2027-05-02=lots"])
def test_rain_without_an_amount_is_told(run: Run, asked_for: list[Any], typed: str) -> None:
    code, _, err = run(*ASK, "--at", "51.5,-1.25", "--rain", typed)
    assert code == 2
    assert "has no amount" in err


def test_json_is_strict_and_told(run: Run, asked_for: list[Any]) -> None:
    shape = json.loads(run(*ASK, "--at", "51.5,-1.25", "--json")[1])
    assert shape["days"][0]["litres_per_m2"] == 18.0
    assert set(keys(shape)) <= set(re.findall(r"`([a-z_0-9]+)`", DOCS))


def test_a_wet_may_end_to_end(run: Run) -> None:
    """De Bilt, May 1983 (packaged daily record): the answer is to leave it."""
    code, out, _ = run("water", "--crop", "carrot", "--sow", "1983-05-16", "--on", "1983-05-16", "--at",
                       "52.10,5.18", "--record", "de_bilt", "--json")
    assert code == 0
    assert {one["advice"] for one in json.loads(out)["days"]} == {"leave"}


def test_what_is_wrong_is_told_in_a_line(run: Run) -> None:
    for typed, said in ((("--soil", "lome"), "Did you mean 'loam'"), (("--on", "2020-01-01"), "Ask about")):
        code, out, err = run(*ASK, "--at", "51.5,-1.25", *typed)
        assert (code, out) == (2, "")
        assert said in err


def keys(shape: Any) -> Iterator[str]:
    if isinstance(shape, dict):
        for key, value in shape.items():
            yield key
            yield from keys(value)
    elif isinstance(shape, list):
        for value in shape:
            yield from keys(value)
