"""The commands run against INVENTED services, so that only the face is tried."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "report"))

import invented

from evenpick.cli.main import main
from evenpick.garden.garden import WeatherChoice

GARDENS = WeatherChoice(packaged="dublin_airport", diary=Path("garden.book"))
"""the weather of the invented garden"""
Run = Callable[..., tuple[int, str, str]]


class Calls(list[tuple[str, tuple[Any, ...]]]):
    """What the services were asked, in order."""

    def of(self, name: str) -> tuple[Any, ...]:
        return next(arguments for called, arguments in self if called == name)


@pytest.fixture(autouse=True)
def late_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """The days of the tests are past by the clock, whenever they are run."""
    monkeypatch.setattr("evenpick.cli.to_come.clock", lambda: date(2028, 1, 1))


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Iterator[Calls]:
    """Services that write down what they are asked and give invented answers."""
    made = Calls()

    def answering(name: str, answer: Any) -> Callable[..., Any]:
        def service(*arguments: Any) -> Any:
            made.append((name, arguments))
            return answer

        return service

    services: dict[str, dict[str, Any]] = {
        "where": {"site_for": invented.SITE, "garden_site": (invented.SITE, GARDENS)},
        "windows": {"windows": invented.WINDOWS}, "month": {"month": invented.MONTH},
        "outlook": {"outlook": invented.OUTLOOK}, "why": {"why": invented.WHY},
        "today": {"today": invented.TODAY, "first_week": invented.TODAY.jobs},
        "ground": {"ground": invented.GROUND},
        "planning": {
            "make_plan": invented.PLAN, "demo_plan": invented.PLAN,
            "save_plan": Path("kept.json"),
        },
        "store_plan": {
            "saved_plan": invented.PLAN, "kept_plan": invented.PLAN, "last_plan": invented.PLAN,
            "better_kept": None,
        },
        "less_lost": {"plan_now": invented.PLAN},
    }
    for name, functions in services.items():
        module = ModuleType(f"evenpick.service.{name}")
        for function, answer in functions.items():
            setattr(module, function, answering(function, answer))
        monkeypatch.setitem(sys.modules, module.__name__, module)
    before = set(sys.modules)
    yield made
    for name in set(sys.modules) - before:  # what was loaded meanwhile holds the invented services for good
        if name.startswith("evenpick."):
            del sys.modules[name]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the program: its exit code, what it says, what it says on standard error."""

    def go(*arguments: str) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as left:
            main(list(arguments))
        said = capsys.readouterr()
        assert isinstance(left.value.code, int)
        return left.value.code, said.out, said.err

    return go


@pytest.fixture
def garden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A small invented garden, in a folder that is the current one."""
    text = ('[site]\nat = "51.5, -1.25"\n[words]\nenglish = "american"\nunits = "imperial"\n'
            '[[ground]]\nname = "bed"\ncover = "open"\narea = "20 m²"\n'
            '[[wish]]\nitem = "leeks"\neach_week = "2 portions"\n')
    path = tmp_path / "garden.toml"
    path.write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return path
