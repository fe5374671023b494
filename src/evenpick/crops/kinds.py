"""What kind of produce each crop is at the table (data/kinds.csv)."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from evenpick.crops.table import rows

KINDS = ("leafy", "rooty", "onions", "herbs", "heads", "pods", "fruit")


@cache
def kinds() -> Mapping[str, str]:
    """Kind by catalogue key."""
    return {row["crop"]: row["kind"] for row in rows("kinds.csv")}
