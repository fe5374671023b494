"""What a grower has little of: hours, days, ground that rests, families that wait, seed.

Days are day numbers.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from evenpick.base.trade import GroundCover


@dataclass(frozen=True, slots=True)
class Away:
    """Days on which nobody, or not everybody, works; both in it."""

    first: int
    last: int
    hours: float = 0.0
    """share of a week's hours that is left; nought: nobody is there, to work or to eat"""
    watered: bool = False
    """whether somebody waters all the same"""

    @property
    def nobody(self) -> bool:
        """Whether nobody is there."""
        return self.hours == 0


@dataclass(frozen=True, slots=True)
class Rest:
    """Ground not to be sown for a span, both days in it: green manure, fallow."""

    ground: str
    cover: GroundCover
    area: float
    """m²"""
    first: int
    last: int
    why: str
    """what grows on it or is waited for; empty if that is not told"""


@dataclass(frozen=True, slots=True)
class Buying:
    """What may be bought of seed this year."""

    no_more: tuple[str, ...] = ()
    """catalogue keys of which no more is bought than there is in the tin"""
    packets: int | None = None
    """crops for which seed may be bought; None: any number"""


@dataclass(frozen=True, slots=True)
class Limits:
    hours: float | None = None
    """h of work in a week; None: any number"""
    by_day: tuple[float, ...] | None = None
    """h of work on each day of the week, Monday first; None: not told by the day"""
    sowings_a_week: int | None = None
    """separate sowings that can be made in one week; None: any number"""
    away: tuple[Away, ...] = ()
    rests: tuple[Rest, ...] = ()
    rotation: Mapping[str, int] = field(default_factory=dict)
    """years after which a family may come back, by botanical family: it may stand on that part of the ground.
    Empty: no family is held to a part"""
    rotated_tunnel: bool = False
    """whether ground under the tunnel is rotated as well"""
    buying: Buying = Buying()

    def hours_on(self, day: int) -> float:
        """h of work on a day, less what days away take; nought where they are not told by the day."""
        if self.by_day is None:
            return 0.0
        share = next((span.hours for span in reversed(self.away) if span.first <= day <= span.last), 1.0)
        return self.by_day[(day + 3) % 7] * share


NO_LIMITS = Limits()
