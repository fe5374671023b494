"""evenpick weather, and what it says of a fetch (docs/interface.md)."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from evenpick.base.days import day_number
from evenpick.base.errors import BadWeatherFile, Problem
from evenpick.cli.main import main
from evenpick.climate.fetched import Fetched
from evenpick.climate.series import DailySeries
from evenpick.service import fetching

GARDEN = """
[site]
at = "53.43, -6.24"
weather = "dublin-airport"
[[ground]]
name = "bed"
cover = "open"
area = "20 m²"
[[wish]]
item = "radish"
each_week = "100 g"
"""


@pytest.fixture
def garden(tmp_path: Path) -> str:
    path = tmp_path / "garden.toml"
    path.write_text(GARDEN, encoding="utf-8")
    return str(path)


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[Any, str, str]:
    with pytest.raises(SystemExit) as left:
        main(["weather", *arguments])
    told = capsys.readouterr()
    return left.value.code, told.out, told.err


def test_json(garden: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "--garden", garden, "--on", "2020-06-01", "--json")
    answer = json.loads(out)
    assert code == 0
    assert (answer["own"], answer["fetched"], len(answer["weeks"])) == (None, None, 53)
    assert set(answer["weeks"][0]) == {"week", "mean", "rain", "frost", "this_mean", "this_rain", "measured"}
    assert answer["weeks"][10]["measured"] == 7


def test_a_fetch_that_fails_is_told_and_changes_nothing(
    garden: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise BadWeatherFile(Problem("NASA POWER can't be reached.", "Nothing was changed."))

    monkeypatch.setattr(fetching, "get_season", fails)
    code, out, err = run(capsys, "--garden", garden, "--fetch", "nasa-power")
    assert (code, out, err) == (2, "", "evenpick: NASA POWER can't be reached. Nothing was changed.\n")


def test_what_a_service_would_not_tell_is_said(
    garden: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    day = np.full(3, 8.0)
    none = np.full(3, np.nan)
    series = DailySeries(day_number(date(2020, 5, 28)), day, day + 9, day * 0, none, none, none, none)
    found = Fetched("NASA POWER", "open", (53.43, -6.24), datetime(2020, 6, 1, tzinfo=UTC), None, series,
                    ("dew", "wind"))
    monkeypatch.setattr(fetching, "get_season", lambda *_: found)
    code, _, err = run(capsys, "--garden", garden, "--fetch", "nasa-power", "--on", "2020-06-01")
    assert code == 0
    assert "asked once more without: dew point, wind." in err


def test_without_fetch_the_network_is_not_even_loaded(garden: str) -> None:
    """F1: in a new process, for this one has the module by other tests."""
    import subprocess
    import sys

    program = ("import sys; from evenpick.cli.main import main\n"
               f"try: main(['weather', '--garden', {garden!r}, '--on', '2020-06-01'])\n"
               "except SystemExit: print('asking', 'evenpick.climate.asking' in sys.modules)")
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.endswith("asking False\n")
