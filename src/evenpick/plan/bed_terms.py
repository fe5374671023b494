"""What stays and beds ask of each other, whatever lies where: made once for all layouts that are tried."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import numpy as np

from evenpick.plan.beds import Stay, Strip, least_piece, length_per_area
from evenpick.plan.rotation import Kin
from evenpick.plan.stretches import HAIR

RAISED = 4.0
"""how many m² of what is not sown yet are as bad without room as one whose plants are raised (our choice)"""
Lain: TypeAlias = tuple[int, float, float]
"""bed by number, from, to (m)"""


class Terms:
    """Stays and beds by number, none of it to be changed."""

    def __init__(self, beds: Sequence[Strip], stays: Sequence[Stay]) -> None:
        self.beds, self.stays, self.kin = beds, stays, Kin(beds, stays)
        self.able = [[b for b, bed in enumerate(beds) if _able(stay, bed)] for stay in stays]
        self.floor = np.array([[least_piece(stay, bed) for bed in beds] for stay in stays]).reshape(
            len(stays), len(beds)
        )
        """m² of the smallest piece of each stay in each bed"""
        numbers = {bed.name: b for b, bed in enumerate(beds)}
        self.held: list[list[Lain]] = [
            [(b, each.low, min(each.high, beds[b].length)) for each in stay.held
             if (b := numbers.get(each.bed, -1)) in able and each.low < beds[b].length - HAIR]
            for stay, able in zip(stays, self.able, strict=True)
        ]
        """where stays lay before, as far as they still may"""
        self.claims: list[list[tuple[int, float, float]]] = [[] for _ in beds]
        """by bed, who lay from where to where"""
        for s, held in enumerate(self.held):
            for b, low, high in held:
                self.claims[b].append((s, low, high))
        self.called_for = [max(self._least(s), len(held)) for s, held in enumerate(self.held)]
        """pieces that the sizes of the beds call for, or that it lay in before"""
        self.still = [stay.stands and bool(held) for stay, held in zip(stays, self.held, strict=True)]
        """what stands on metres that are known"""
        self.weight = np.array([RAISED if stay.raised else 1.0 for stay in stays])
        """of a m² of each without room"""
        self.length = np.array([bed.length for bed in beds])
        self.rate = np.array([length_per_area(bed) for bed in beds])
        self.start, self.end, self.season = (
            np.array([getattr(stay, name) for stay in stays], dtype=np.int64)
            for name in ("start", "end", "season")
        )

    def _least(self, s: int) -> int:
        """Pieces that the sizes of the beds call for."""
        stay = self.stays[s]
        able = [self.beds[b] for b in self.able[s]]
        sizes = sorted((bed.length / length_per_area(bed) for bed in able), reverse=True)
        left, pieces = stay.area, 0
        while left > HAIR and pieces < len(sizes):
            left -= sizes[pieces]
            pieces += 1
        return pieces


def _able(stay: Stay, bed: Strip) -> bool:
    return bed.name in stay.beds if stay.beds is not None else bed.cover == stay.cover
