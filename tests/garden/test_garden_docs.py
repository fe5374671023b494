"""docs/formats/garden-toml.md: its example is a garden, and it explains every key that is read."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from evenpick.garden import beds, hours, reading, season, wishes
from evenpick.garden.garden import Garden

PAGE = Path(__file__).resolve().parents[2] / "docs" / "formats" / "garden-toml.md"


def test_the_example_reads(read: Callable[[str], Garden]) -> None:
    (example,) = re.findall(r"```toml\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)
    assert [wish.item for wish in read(example).wishes] == ["leeks", "lettuce"]


def test_every_key_is_explained() -> None:
    text = PAGE.read_text(encoding="utf-8")
    tables = (reading.SITE, reading.PLAN, wishes.WISH, wishes.SEED, season.ANYWAY, beds.BEDS,
              ("never", "invented"), hours.HOURS, season.AWAY, season.REST, season.ROTATION, reading.TIN,
              reading.OUTLET, reading.WORDS)
    for key in (key for keys in tables for key in keys):
        assert f"`{key}`" in text
    for heading in set(reading.TOP) - {"never", "invented"}:
        assert re.search(rf"\[{heading}\]", text)
