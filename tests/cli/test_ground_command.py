"""`evenpick ground`, its service invented."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

Run = Callable[..., tuple[int, str, str]]


def test_the_beds_are_shown(run: Run, calls: Any, garden: Path) -> None:
    code, out, _ = run("ground", "--on", "2027-02-01")
    assert code == 0
    assert "gate" in out
    assert "BACK TOO SOON" in out


def test_one_bed_and_some_weeks_as_json(run: Run, calls: Any, garden: Path) -> None:
    _, out, _ = run("ground", "--bed", "Gate", "--on", "2027-03-29", "--weeks", "3", "--json")
    (bed,) = json.loads(out)["beds"]
    assert [span["number"] for span in bed["spans"]] == [2]


def test_a_bed_that_is_not_there_is_told_with_those_that_are(run: Run, calls: Any, garden: Path) -> None:
    code, _, err = run("ground", "--bed", "gates")
    assert code == 2
    assert "gate" in err
