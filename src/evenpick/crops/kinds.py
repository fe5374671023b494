"""What kind of produce each crop is at the table (data/kinds.csv)."""

from __future__ import annotations

from collections.abc import Mapping, Set
from functools import cache

from evenpick.crops.table import rows

KINDS = ("leafy", "rooty", "onions", "herbs", "heads", "pods", "fruit")


@cache
def kinds() -> Mapping[str, str]:
    """Kind by catalogue key."""
    return {row["crop"]: row["kind"] for row in rows("kinds.csv")}


@cache
def salads() -> Set[str]:
    """Catalogue keys of the salads, which follow each other on a bed within a season."""
    return {row["crop"] for row in rows("kinds.csv") if row["salad"] == "yes"}


def stands_in(key: str, other: str) -> bool:
    """Whether a crop is of the other's use at the table: of its kind, and a salad where that is one."""
    return kinds().get(key) == kinds().get(other) and (key in salads()) == (other in salads())
