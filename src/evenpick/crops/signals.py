"""What day length and cold set off in a crop: bolting, heads, bulbs (growth D5, D6)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class LongDay:
    """Bolting by day length (growth D5): EDD × clip((P − low)/(high − low), floor, 1) reaches `total`."""

    low: float
    high: float
    floor: float
    total: float


@dataclass(frozen=True, slots=True)
class Cold:
    """Bolting after cold (growth D5): past `juvenile` EDD, days weighted clip((below + 3 − T)/4, 0, 1)
    reach `days`; then `then` EDD more."""

    below: float
    days: float
    juvenile: float
    then: float


@dataclass(frozen=True, slots=True)
class ColdHeading:
    """Sprouting broccoli (growth D6): `days` of cold at or below `below` after `juvenile` EDD,
    then the thermal time to picking."""

    below: float
    days: float
    juvenile: float


@dataclass(frozen=True, slots=True)
class Bulbing:
    """Bulbs start when the day is within `offset` hours of the longest, `least_leaf` has been grown, and
    `cold_days` days below `cold` have been had; the thermal time runs from there (growth D6).

    Types that are grown alike at many latitudes start at a day of `hours` instead (docs/design/types.md).
    """

    offset: float
    leaf: float
    """EDD of leaf that a full-sized bulb has behind it by the longest day"""
    hours: float | None = None
    """day length from which bulbs start, in place of `offset`"""
    low_hours: float | None = None
    """the same of the kinds grown at low latitudes, where days hardly come to `keeping_hours`"""
    keeping_hours: float | None = None
    """day length that kinds which keep ask for: where days hardly come to it those of a type with `hours` are
    grown in their stead"""
    least_leaf: float | None = None
    """EDD of leaf before bulbs can start; 0.3 of `leaf` where None"""
    most_leaf: float | None = None
    """EDD of leaf on the usually coldest day past which it runs to seed in spring; None where it does not"""
    cold: float = 0.0
    cold_days: float = 0.0
