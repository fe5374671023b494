"""What kind of produce each crop is at the table (data/kinds.csv)."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from importlib.resources import files

KINDS = ("leafy", "rooty", "onions", "herbs", "heads", "pods", "fruit")


@cache
def kinds() -> Mapping[str, str]:
    """Kind by catalogue key."""
    text = files("evenpick").joinpath("data", "kinds.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return {row["crop"]: row["kind"] for row in rows}
