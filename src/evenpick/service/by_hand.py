"""What a garden says of the hand that waters: the days on which nobody is there, and what stands in pots
(docs/design/water.md, 26 and 27)."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from math import pi

import numpy as np

from evenpick.base.trade import CoverName, ground_under
from evenpick.crops.crop import Spacing
from evenpick.garden.areas import LARGEST_POT, pot_litres
from evenpick.garden.garden import Bed, Garden, Ground
from evenpick.soil.water_balance import Away, away_on

LITRES = 1000.0  # in a m³
DEEPEST_POT = 0.4
"""m of compost at most (own choice)"""


@dataclass(frozen=True, slots=True)
class Pot:
    """What a sowing stands in that has no ground below it."""

    depth: float
    """m"""
    share: float
    """of the ground that its plants have in a bed: leaves reach over the rim"""
    count: int
    """pots that it stands in"""


@dataclass(frozen=True, slots=True)
class ByHand:
    """Nobody away and no ground in pots, if nothing is said."""

    away: tuple[tuple[int, int], ...] = ()
    """first and last day number of each span on which nobody waters"""
    grounds: tuple[Ground, ...] = ()

    def gone(self, start: int, days: int) -> Away:
        """When nobody waters, of the `days` from day number `start`."""
        every = np.arange(start, start + days)
        found = np.zeros(days, dtype=bool)
        for first, last in self.away:
            found |= (first <= every) & (every <= last)
        return away_on(found)

    def pot(self, ground: str | None, cover: CoverName, area: float, spacing: Spacing) -> Pot | None:
        """What so many m² of a sowing under a cover stand in, by the place that the diary or the plan tells;
        None in a bed. Where no pot is named they are taken to be of the kind that there is, each with a
        plant or sown whole."""
        here = [bed for one in self.grounds if one.cover == ground_under(cover) for bed in one.beds]
        named = _named(here, ground or "")
        beds = named or ([] if ground and not self._whole(ground) else here)
        if not beds or any(bed.area > LARGEST_POT for bed in beds) or area <= 0:
            return None
        depth = min(min(map(_deep, beds)), DEEPEST_POT)
        if named:
            return Pot(depth, min(sum(bed.area for bed in named) / area, 1.0), len(named))
        each = max(bed.area for bed in beds)
        plant = spacing.row * spacing.in_row if spacing.layout == "station" else each
        share = min(each / plant, 1.0)
        return Pot(depth, share, min(max(1, round(area * share / each)), len(beds)))

    def reaches(self, told: str | None, ground: str | None, cover: CoverName) -> bool:
        """Whether water of which the diary tells a place, or none, reaches what stands in a ground or bed, or
        is not told where, under a cover: water of no place is on everything, that of a ground on its beds."""
        if told is None or told == ground:
            return True
        whole = next((one for one in self.grounds if one.name == told), None)
        if whole is None:
            return False
        if ground is not None:
            return any(bed.name == ground for bed in whole.beds)
        return [one.name for one in self.grounds if one.cover == ground_under(cover)] == [told]

    def _whole(self, name: str) -> bool:
        return any(one.name.casefold() == name.casefold() for one in self.grounds)


USUAL = ByHand()
"""where nothing is said of it"""


def by_hand(garden: Garden) -> ByHand:
    """Of a garden."""
    spans = (span for span in garden.limits.away if span.nobody and not span.watered)
    return ByHand(tuple((span.first, span.last) for span in spans), garden.grounds)


def _named(beds: Iterable[Bed], place: str) -> list[Bed]:
    """The beds that a place names: 'pots 1, pots 2 and pots 12'."""
    return [bed for bed in beds
            if re.search(rf"(?<!\w){re.escape(bed.name)}(?!\w)", place, re.IGNORECASE)]


def _deep(bed: Bed) -> float:
    """m that the soil of a pot as wide would stand in straight sides: a plan reckons with the same litres."""
    top = bed.area if bed.width is None else pi / 4.0 * bed.width**2
    return pot_litres(top) / LITRES / top
