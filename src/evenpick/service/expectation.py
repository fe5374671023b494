"""What is expected of one sowing under way, as a plain record."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

Dates = tuple[date, date, date]


@dataclass(frozen=True, slots=True)
class Expected:
    """Of one sowing: one year in ten by the first date, half of them by the second, nine by the third."""

    up: Dates | None
    out: Dates | None
    """planted out; raised only"""
    first: Dates | None
    last: Dates | None
    success: float
    """share of years in which it gives a harvest"""
    killed_below: float
    """°C: what kills it as it now stands, under its cover"""
    frost: float
    """share of years in which the coming three nights bring that, under its cover"""
    thirst: float
    """share of years in which it wants water today"""
    litres: float
    """on a metre of drill, where it does; nought once it is up"""
    per_m2: float
    """litres on a square metre of its ground, where that wants it; nought while its drill alone does"""
    thirst_why: str
    """in the words of the water told for that day"""
    dried: float
    """share of years in which, nobody watering, its seed had sprouted and dried by today"""
