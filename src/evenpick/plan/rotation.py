"""Rotation: how long a family stays away from the ground on which it grew (docs/design/beds.md, 4 and 5)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from evenpick.base.arrays import Bools, Ints
from evenpick.crops.families import NO_WAIT
from evenpick.plan.beds import Breach, Piece, Stay, Strip
from evenpick.plan.stretches import HAIR

REST = 56  # days after which a family is not said to follow itself straight; common practice, no source


def too_near(stay: Stay, other: int) -> bool:
    """Whether its family in another season lies nearer than it may."""
    return 0 < abs(stay.season - other) < stay.away


def barred(stay: Stay, bed: Strip) -> bool:
    """Whether the bed's history bars it."""
    return any(
        family == stay.family and season < stay.season and too_near(stay, season)
        for season, family in bed.grew
    )


class Kin:
    """Stays that keep each other off their ground, and beds whose history keeps a stay off; all by number."""

    def __init__(self, beds: Sequence[Strip], stays: Sequence[Stay]) -> None:
        self.beds, self.stays = beds, stays
        names = sorted({stay.family for stay in stays})
        self.family: Ints = np.array([names.index(stay.family) for stay in stays], dtype=np.int64)
        """(stays,)"""
        season = np.array([stay.season for stay in stays], dtype=np.int64)
        years = np.array([stay.away for stay in stays], dtype=np.int64)
        start, end = (np.array([getattr(stay, name) for stay in stays], dtype=np.int64)
                      for name in ("start", "end"))
        salad = np.array([stay.salad for stay in stays], dtype=bool)
        ahead, rest = season[:, None] - season, start[:, None] - end
        kin = self.family[:, None] == self.family
        straight = kin & (ahead == 0) & (years > NO_WAIT)[:, None] & (rest >= 0) & (rest < REST)
        straight &= ~(salad[:, None] & salad)
        """whether one takes up ground where its own family stood until then (beds.md, 5): within a season,
        with hardly a rest between; families that need not stay away may, and so may salads after salads"""
        near = kin & (np.abs(ahead) > 0) & (np.abs(ahead) < years[:, None])
        self.near: Bools = near | straight | straight.T
        """(stays, stays) that should not follow one another on a piece of ground"""
        self.elder: Bools = near & (ahead > 0) | straight
        """the same where the second comes first"""
        self.barred: Bools = np.array(
            [[barred(stay, bed) for bed in beds] for stay in stays], dtype=bool
        ).reshape(len(stays), len(beds))
        """(stays, beds)"""

    def breaches(self, b: int, pieces: Sequence[Piece]) -> Iterator[Breach]:
        """Every piece of a bed whose family came back too soon, and after what."""
        several = np.array([piece.stay for piece in pieces], dtype=np.int64)
        for piece in pieces:
            stay = self.stays[piece.stay]
            if self.barred[piece.stay, b]:
                earlier = [season for season, family in self.beds[b].grew if family == stay.family]
                last = max(season for season in earlier if season < stay.season)
                yield Breach(piece, (piece.low, piece.high), last, None)
            for other in (pieces[o] for o in np.flatnonzero(self.elder[piece.stay, several]).tolist()):
                low, high = max(piece.low, other.low), min(piece.high, other.high)
                if high - low > HAIR:
                    yield Breach(piece, (low, high), self.stays[other.stay].season, other.stay)
