"""The ground that a line of the diary may name."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from evenpick.base.trade import CoverName
from evenpick.garden.diary_scan import Scan, plain


@dataclass(frozen=True, slots=True)
class GroundName:
    name: str
    cover: CoverName
    area: float
    """m²"""
    part_of: str = ""
    """the ground whose bed it is; empty of a whole one"""


def words_of_ground(grounds: Sequence[GroundName]) -> Mapping[str, str]:
    """Plain names → names as written; 'long bed 3' is a bed of the ground 'long beds'."""
    exact = {plain(each.name): each.name for each in grounds}
    single = {re.sub(r"\bbeds\b", "bed", name): real for name, real in exact.items()}
    by_cover = _by_cover(grounds, "tunnel", UNDER_COVER) | _by_cover(grounds, "open", IN_THE_OPEN)
    return {**by_cover, **_numbered(exact), **single, **exact}


UNDER_COVER = ("tunnel", "polytunnel", "poly tunnel", "high tunnel", "hoophouse", "hoop house", "greenhouse",
               "glasshouse", "glass house")
"""what growers call the ground that the garden file calls a tunnel"""


IN_THE_OPEN = ("open ground", "the open ground", "the open", "outdoors", "out of doors", "open bed",
               "open beds")
"""and what is under none; 'outside' is often only near"""


def _by_cover(grounds: Sequence[GroundName], cover: CoverName, words: Sequence[str]) -> dict[str, str]:
    """What the one ground under a cover is called too, whatever its own name is: 'the greenhouse'."""
    whole = [each.name for each in grounds if each.cover == cover and not each.part_of]
    return dict.fromkeys(words, whole[0]) if len(whole) == 1 else {}


def _numbered(exact: Mapping[str, str]) -> Mapping[str, str]:
    """'bed 3' of 'garden 3', where the beds of one ground alone are numbered after it."""
    beds = {name: name.rpartition(" ") for name in exact if re.fullmatch(r".+ \d+", name)}
    if len({ground for ground, _, _ in beds.values()}) != 1:
        return {}
    return {f"bed {number}": exact[name] for name, (_, _, number) in beds.items()}


_NEAR = re.compile(
    r"\b(?:by|beside|next to|near|behind|outside|alongside|opposite|in front of) (?:the |my |our )?$"
)


def only_near(scan: Scan, before: str) -> bool:
    """Whether what was just struck out is only what it was near to: 'by the tunnel' is not in it. The words
    that say so are struck out too."""
    start = next(at for at, (a, b) in enumerate(zip(before, scan.left, strict=True)) if a != b)
    near = _NEAR.search(before[:start])
    if near is not None:
        scan.strike(*near.span())
    return near is not None
