"""Botanical families: what growers call them and how long each stays away from the same ground
(data/families.csv; docs/design/beds.md, 4 and 5)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from evenpick.crops.table import rows

NO_WAIT = 1


@dataclass(frozen=True, slots=True)
class Family:
    botanical: str
    said: str
    """the word growers use"""
    also: tuple[str, ...]
    """other words for it"""
    years: int
    """from a year in which it grew to the next in which it may on the same ground; 1: no wait"""
    source: str


@cache
def families() -> Mapping[str, Family]:
    """Every family of the table by botanical name."""
    made = (
        Family(row["family"], row["said"], tuple(row["also"].split(";")), int(row["years"]), row["source"])
        for row in rows("families.csv")
    )
    return {family.botanical: family for family in made}


def family_called(words: str) -> str | None:
    """The botanical name of a family by any of its names; None if it is not known."""
    name = " ".join(words.split()).casefold()
    return _names().get(name)


@cache
def _names() -> Mapping[str, str]:
    return {
        name.casefold(): family.botanical
        for family in families().values() for name in (family.botanical, family.said, *family.also)
    }


def said(botanical: str) -> str:
    """What growers call a family; the botanical name where the table does not know it."""
    family = families().get(botanical)
    return family.said if family else botanical


def years_away(botanical: str) -> int:
    """Years until a family may come back; 1 (no wait) where the table does not know it."""
    family = families().get(botanical)
    return family.years if family else NO_WAIT
