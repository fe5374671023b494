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


def tired(stay: Stay, bed: Strip, stays: Sequence[Stay], pieces: Sequence[Piece]) -> list[Stretch]:
    """Where a stay would come too soon after its family, or its family too soon after it."""
    if barred(stay, bed):
        return [(0.0, bed.length)]
    others = ((stays[piece.stay], piece) for piece in pieces)
    return [
        (piece.low, piece.high) for other, piece in others
        if other.family == stay.family and too_near(stay.season, other.season, stay.family)
    ]


def breached_metres(bed: Strip, stays: Sequence[Stay], pieces: Sequence[Piece]) -> float:
    """Metres of a bed's pieces on which their family came back too soon."""
    found = 0.0
    for piece in pieces:
        stay = stays[piece.stay]
        if barred(stay, bed):
            found += piece.high - piece.low
            continue
        before = [(other.low, other.high) for other in _before(piece, stays, pieces)]
        found += metres(within(joined(before), piece.low, piece.high))
    return found


def breaches(bed: Strip, stays: Sequence[Stay], pieces: Sequence[Piece]) -> Iterator[Breach]:
    """Every piece of a bed whose family came back too soon, and after what."""
    for piece in pieces:
        stay = stays[piece.stay]
        if barred(stay, bed):
            earlier = [season for season, family in bed.grew if family == stay.family]
            last = max(season for season in earlier if season < stay.season)
            yield Breach(piece, (piece.low, piece.high), last, None)
        for other in _before(piece, stays, pieces):
            low, high = max(piece.low, other.low), min(piece.high, other.high)
            if high - low > HAIR:
                yield Breach(piece, (low, high), stays[other.stay].season, other.stay)


def _before(piece: Piece, stays: Sequence[Stay], pieces: Sequence[Piece]) -> list[Piece]:
    stay = stays[piece.stay]
    return [
        other for other in pieces
        if stays[other.stay].family == stay.family and stays[other.stay].season < stay.season
        and too_near(stay.season, stays[other.stay].season, stay.family)
    ]
