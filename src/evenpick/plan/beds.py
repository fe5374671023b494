"""What is to be laid into beds, and how it lies (docs/design/beds.md).

A bed is a length. Metres along it count from its beginning; in a bed whose width nobody told they are m².
Days are day numbers, spans half open.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import floor

from evenpick.base.trade import GroundCover
from evenpick.crops.families import years_away
from evenpick.plan.stretches import Stretch

HALF_YEAR = 182


@dataclass(frozen=True, slots=True)
class Strip:
    """A bed to lay sowings into."""

    name: str
    cover: GroundCover
    """open or tunnel"""
    length: float
    width: float | None
    """m; None: one metre of it is one m²"""
    grew: frozenset[tuple[int, str]] = frozenset()
    """season and botanical family"""


@dataclass(frozen=True, slots=True)
class Held:
    """A stretch of a bed where a sowing lay when it was last told."""

    bed: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Stay:
    """A sowing, planned or standing, from the day it takes its ground to the day that is free again."""

    id: str
    family: str
    cover: GroundCover
    area: float
    """m²"""
    start: int
    end: int
    season: int
    beds: frozenset[str] | None = None
    """where it stands already; None: any bed of its cover"""
    least: float = 0.0
    """m² of the smallest piece that can be sown of it; no more than `area`"""
    shortest: float = 0.0
    """m of a bed, the shortest piece that is worth laying of it where it does not all lie in one"""
    salad: bool = False
    """whether it may follow a salad of its own family within a season"""
    years: int | None = None
    """until its family may come back, where the grower said it; None: the usual ones"""
    held: tuple[Held, ...] = ()
    """where it lay when that was last told; none: it is new"""
    firm: float = 1.0
    """how much it counts that it stays there"""
    stands: bool = False
    """whether it is in the ground, and nothing moves it"""
    raised: bool = False
    """whether its plants are raised already and wait for their ground"""

    @property
    def away(self) -> int:
        """Years until its family may come back."""
        return years_away(self.family) if self.years is None else self.years


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of a bed that a stay takes; both by number."""

    stay: int
    bed: int
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Breach:
    """Metres on which a family comes back too soon."""

    piece: Piece
    stretch: Stretch
    last: int
    """season in which it grew there"""
    after: int | None
    """the stay it comes after; None: what the bed's history tells"""


@dataclass(frozen=True, slots=True)
class Layout:
    pieces: tuple[Piece, ...]
    """by stay, then bed and metres"""
    unplaced: Mapping[int, float]
    """m² by stay for which there was no room"""
    breaches: tuple[Breach, ...]
    extra_pieces: int
    """more than the sizes of the beds call for"""


def season_of(start: int, end: int, south: bool) -> int:
    """The growing season of a stay: that in which its middle lies (beds.md, 4).

    It is the calendar year; south of the equator the year in whose July it begins.
    """
    from evenpick.base.days import day_date

    return day_date((start + end) // 2 - (HALF_YEAR if south else 0)).year


def rows_across(width: float, row: float) -> int:
    """Whole rows that lie across a bed, half a row's distance from its edges: the number that brings them
    nearest to `row` metres apart; at least one."""
    return max(1, floor(width / row + 0.5))


def length_per_area(bed: Strip) -> float:
    """Metres of a bed that are one m² (beds.md, 2)."""
    return 1.0 if bed.width is None else 1.0 / bed.width


def least_piece(stay: Stay, bed: Strip) -> float:
    """The smallest piece of a stay that is laid in a bed, m² (beds.md, 3): all of it, or all of the bed,
    where that is less. Where a bed's shape is not told nobody knows how long a piece would be."""
    along = 0.0 if bed.width is None else min(stay.shortest, bed.length) * bed.width
    return min(stay.area, max(stay.least, along))
