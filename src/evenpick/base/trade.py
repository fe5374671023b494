"""The trade's words that more than one part uses: covers and ways of starting a crop."""

from __future__ import annotations

from typing import Literal

CoverName = Literal["open", "fleece", "cloche", "tunnel"]
COVERS: tuple[CoverName, ...] = ("open", "fleece", "cloche", "tunnel")
Judgement = Literal["worth", "possible", "not"]
"""of a sow day: worth sowing (in a window); possible, but not in its good time; not recommended"""
WayName = Literal["direct", "raised", "planted"]


def several(piece: str) -> str:
    """More than one of what is counted at the table, in English: bunches, heads."""
    return f"{piece}es" if piece.endswith("ch") else f"{piece}s"
