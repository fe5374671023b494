"""The trade's words that more than one part uses: covers and ways of starting a crop."""

from __future__ import annotations

from typing import Literal

CoverName = Literal["open", "fleece", "cloche", "tunnel"]
COVERS: tuple[CoverName, ...] = ("open", "fleece", "cloche", "tunnel")
GroundCover = Literal["open", "tunnel"]
"""what ground lies under by itself; fleece and cloches are laid over open ground"""
Judgement = Literal["worth", "possible", "not"]
"""of a sow day: worth sowing (in a window); possible, but not in its good time; not recommended"""
WayName = Literal["direct", "raised", "planted"]


def ground_under(cover: CoverName) -> GroundCover:
    """The ground of what grows under a cover."""
    return "tunnel" if cover == "tunnel" else "open"


ALSO_CALLED = {"bulb": ("head",), "ear": ("cob",), "head": ("heart",)}
"""other words of the trade for what is counted at the table"""


def several(piece: str) -> str:
    """More than one of what is counted at the table, in English: bunches, heads."""
    return f"{piece}es" if piece.endswith("ch") else f"{piece}s"
