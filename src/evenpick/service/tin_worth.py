"""Whether a packet will grow, and what it is worth in seed as sold (docs/design/seed.md, 1 to 3, 5)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from math import ceil, sqrt
from statistics import NormalDist

from evenpick.base.days import day_number
from evenpick.crops.crop import Crop
from evenpick.crops.seed import DAYS_IN_YEAR, FRESH, Keeping, germination, seed_of
from evenpick.garden.tin import Tinned
from evenpick.service.outlook_answer import Band
from evenpick.service.packets import seeds_in

LOTS = 0.5
"""sd in probits by which lots of the same age differ (memory)"""
POOR, SPENT = 0.5, 0.2
"""likely germination below which it is tested first, and below which it is not worth sowing"""
WORTHLESS = "not worth sowing"


@dataclass(frozen=True, slots=True)
class Worth:
    """What a packet is worth on a day."""

    grows: Band
    """share that would germinate: 1 in 10 lots below, the middle, 1 in 10 above"""
    verdict: str
    """good, sow thicker, test first, not worth sowing"""
    thicker: float
    """times as much seed to sow as good seed would want"""


def worth(one: Tinned, kept: Keeping, day: date) -> Worth:
    grows = likely_germination(one, kept, day)
    return Worth(grows, _verdict(grows, bool(one.tests)), FRESH / max(grows.likely, 0.05))


def as_sold(crop: Crop, packets: Iterable[Tinned], kept: Keeping, day: date) -> float | None:
    """As many seeds as sold as the packets of a crop are worth, nought where none is worth sowing; None where
    none says how much is in it."""
    counts = []
    for one in packets:
        seeds, found = seeds_in(crop, one), worth(one, kept, day)
        if seeds is not None:
            counts.append(0.0 if found.verdict == WORTHLESS else seeds / max(found.thicker, 1.0))
    return sum(counts) if counts else None


def to_buy(wanted: int, have: float | None) -> int:
    """Whole seeds that the tin has not."""
    return max(0, ceil(wanted - (have or 0.0) - 1e-6))


def likely_germination(one: Tinned, kept: Keeping, day: date) -> Band:
    """From its last test, else the maker's figure, else a fresh packet's; less what age has taken since. Of a
    test whose day is not said that is anything from none to all of its age."""
    seed, normal = seed_of(one.crop), NormalDist()
    if one.tests:
        last = one.tests[-1]
        low, middle, high = counted(last.came, last.tried)
        since = (day_number(day) - last.day) / DAYS_IN_YEAR
        return Band(*(germination(seed, share, since, kept) for share in (low, middle, high)))
    packed = day_number(date(one.year if one.year is not None else day.year, 1, 1))
    age, tail = (day_number(day) - packed) / DAYS_IN_YEAR, LOTS * normal.inv_cdf(0.9)
    oldest, middle, newest = (age, age / 2, 0.0) if one.undated else (age, age, age)

    def after(years: float, beyond: float) -> float:
        now = germination(seed, one.germination or FRESH, years, kept)
        return normal.cdf(normal.inv_cdf(min(max(now, 1e-6), 1 - 1e-6)) + beyond)

    return Band(after(oldest, -tail), after(middle, 0.0), after(newest, tail))


def counted(came: int, tried: int) -> tuple[float, float, float]:
    """80 % interval and middle of a share from counts by Wilson's score (wilson1927), never quite 0 or 1."""
    z = NormalDist().inv_cdf(0.9)
    share, n = came / tried, tried + z**2
    centre = (came + z**2 / 2) / n
    half = z / n * sqrt(share * (1 - share) * tried + z**2 / 4)
    middle = (came + 0.5) / (tried + 1) if came in (0, tried) else share
    return max(centre - half, 1e-4), middle, min(centre + half, 1 - 1e-4)


def _verdict(grows: Band, tested: bool) -> str:
    if grows.high < SPENT or (tested and grows.likely < SPENT):
        return WORTHLESS
    if grows.likely < POOR:
        return "sow thicker" if tested else "test first"
    return "good" if grows.likely >= 0.7 else "sow thicker"
