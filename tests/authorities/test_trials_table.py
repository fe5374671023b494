"""The committed table of simulated trials holds what docs/design/trials.md promises."""

from __future__ import annotations

import re
from pathlib import Path

TABLE = (Path(__file__).resolve().parents[2] / "authorities" / "trials.md").read_text(encoding="utf-8")
SHARE = re.compile(r"([\d.]+)% ± ([\d.]+)%")


def rows(heading: str) -> list[list[tuple[float, float]]]:
    """The shares with their two errors, line by line, under a heading that begins so."""
    section = next(part for part in TABLE.split("\n## ") if part.startswith(heading))
    found = [[(float(a), float(b)) for a, b in SHARE.findall(line)] for line in section.splitlines()]
    return [line for line in found if line]


def test_equal_varieties_are_told_apart_in_one_trial_of_twenty_or_fewer() -> None:
    headings = ("Weights: all pairs", "Weights: against a standard", "Taste", "Came up")
    told = [line[0] for heading in headings for line in rows(heading)]
    assert len(told) >= 20
    for share, twice in told:
        assert share <= 5.0 + twice


def test_ranges_hold_as_often_as_they_say() -> None:
    held = [line[0] for line in rows("Ranges")] + [line[1] for line in rows("Came up")]
    for share, twice in held:
        assert share >= 95.0 - twice


def test_differences_are_seen_as_often_as_the_formula_says() -> None:
    """Within 5 points, on fields that were really grown too (docs/design/trials.md, T8)."""
    section = TABLE.split("\n## True differences")[1]
    pairs = re.findall(r"\| ([\d.]+)% ± [\d.]+% \| ([\d.]+)% \|", section)
    assert len(pairs) >= 6
    for seen, formula in pairs:
        assert abs(float(seen) - float(formula)) <= 5.0
