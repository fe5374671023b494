"""Rotation: how long a family stays away from the ground on which it grew (docs/design/beds.md, 4 and 5)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from evenpick.crops.families import years_away
from evenpick.plan.beds import Breach, Piece, Stay, Strip
from evenpick.plan.stretches import HAIR, Stretch, joined, metres, within


def too_near(season: int, other: int, family: str) -> bool:
    """Whether a family in two seasons lies nearer than it may; in one season it may follow itself."""
    return 0 < abs(season - other) < years_away(family)


def barred(stay: Stay, bed: Strip) -> bool:
    """Whether the bed's history bars it."""
    return any(
        family == stay.family and season < stay.season and too_near(stay.season, season, family)
        for season, family in bed.grew
    )


class Kin:
    """Stays that keep each other off their ground, and beds whose history keeps a stay off; all by number."""

    def __init__(self, beds: Sequence[Strip], stays: Sequence[Stay]) -> None:
        self.beds, self.stays = beds, stays
        family: dict[str, list[int]] = {}
        for s, stay in enumerate(stays):
            family.setdefault(stay.family, []).append(s)
        self._near = [
            frozenset(o for o in family[stay.family] if too_near(stay.season, stays[o].season, stay.family))
            for stay in stays
        ]
        self._elder = [
            frozenset(o for o in near if stays[o].season < stay.season)
            for stay, near in zip(stays, self._near, strict=True)
        ]
        self._barred: dict[tuple[int, int], bool] = {}

    def barred(self, s: int, b: int) -> bool:
        if (found := self._barred.get((s, b))) is None:
            found = self._barred[s, b] = barred(self.stays[s], self.beds[b])
        return found

    def tired(self, s: int, b: int, pieces: Sequence[Piece]) -> list[Stretch]:
        """Where a stay would come too soon after its family, or its family too soon after it."""
        if self.barred(s, b):
            return [(0.0, self.beds[b].length)]
        near = self._near[s]
        return [(piece.low, piece.high) for piece in pieces if piece.stay in near]

    def breached_metres(self, b: int, pieces: Sequence[Piece]) -> float:
        """Metres of a bed's pieces on which their family came back too soon."""
        found = 0.0
        for piece in pieces:
            if self.barred(piece.stay, b):
                found += piece.high - piece.low
            elif self._elder[piece.stay]:
                before = joined((other.low, other.high) for other in self._before(piece, pieces))
                found += metres(within(before, piece.low, piece.high))
        return found

    def breaches(self, b: int, pieces: Sequence[Piece]) -> Iterator[Breach]:
        """Every piece of a bed whose family came back too soon, and after what."""
        for piece in pieces:
            stay = self.stays[piece.stay]
            if self.barred(piece.stay, b):
                earlier = [season for season, family in self.beds[b].grew if family == stay.family]
                last = max(season for season in earlier if season < stay.season)
                yield Breach(piece, (piece.low, piece.high), last, None)
            for other in self._before(piece, pieces):
                low, high = max(piece.low, other.low), min(piece.high, other.high)
                if high - low > HAIR:
                    yield Breach(piece, (low, high), self.stays[other.stay].season, other.stay)

    def _before(self, piece: Piece, pieces: Sequence[Piece]) -> list[Piece]:
        elder = self._elder[piece.stay]
        return [other for other in pieces if other.stay in elder]
