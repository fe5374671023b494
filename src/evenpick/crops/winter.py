"""Where and when there is a winter in a grower's words: cautions of its poor light, uses named after it."""

from __future__ import annotations

from datetime import date, timedelta

from evenpick.base.language import later
from evenpick.crops.crop import Crop

FIRST_MONTH, LAST_MONTH = 10, 3
"""of picking, in the north: the winter of the limits for nitrate in lettuce, in the open and under cover
alike (eu12582011; its months from memory); half a year on in the south"""
TROPIC = 23.44
"""° of latitude: between the tropics the sun is high all the year"""
WEEK = timedelta(days=7)


WITHOUT = {
    "winter use": later("full grown"), "overwintering": later("overwintering (there is no winter here)"),
}
"""purposes named after the winter, as they are told where there is none"""
SHORT_DAYS = later("kinds for short days")
"""the kinds of bulb that winter elsewhere, where there is no winter: they are set out for the rains too"""


def has_winter(lat: float) -> bool:
    """Whether growers there speak of a winter, and light is poor in it."""
    return abs(lat) >= TROPIC


def use_here(purpose: str, lat: float, bulb: bool = False) -> str:
    """A purpose, of a bulb or another crop, in the words that fit the place, still to be told."""
    if has_winter(lat):
        return purpose
    return SHORT_DAYS if bulb and purpose == "overwintering" else WITHOUT.get(purpose, purpose)


def in_poor_light(lat: float, first: date, last: date) -> bool:
    """Whether any of the weeks from `first` to `last` has leaf grown in the poor light of winter."""
    if not has_winter(lat):
        return False
    weeks = range((last - first) // WEEK + 1)
    months = {((first + week * WEEK).month + (6 if lat < 0 else 0) - 1) % 12 + 1 for week in weeks}
    months.add((last.month + (6 if lat < 0 else 0) - 1) % 12 + 1)
    return any(month >= FIRST_MONTH or month <= LAST_MONTH for month in months)


def cautions_on(crop: Crop, lat: float, first: date, last: date) -> tuple[str, ...]:
    """What to take care of in a crop that is picked between two days."""
    dim = in_poor_light(lat, first, last)
    return tuple(said for said in crop.cautions if dim or said not in crop.in_poor_light)
