"""Whose names and units a country's growers use, where they do not say; common practice, no source."""

from __future__ import annotations

from typing import Literal

English = Literal["british", "american"]
ENGLISH: tuple[English, ...] = ("british", "american")
Units = Literal["metric", "imperial"]
UNITS: tuple[Units, ...] = ("metric", "imperial")

AMERICAN_NAMES = frozenset(("US", "CA"))
"""countries of the zucchini and the eggplant"""
IMPERIAL = frozenset(("US",))


def english_of(country: str) -> English:
    """Of a country by its two letters; British for any other and for none."""
    return "american" if country in AMERICAN_NAMES else ENGLISH[0]


def units_of(country: str) -> Units:
    return "imperial" if country in IMPERIAL else UNITS[0]
