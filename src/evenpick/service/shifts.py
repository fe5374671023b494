"""The climate beside today's: one and two degrees warmer, and the place's own trend carried on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from evenpick.climate.site import Site
from evenpick.climate.trend import found_trend
from evenpick.garden.garden import WeatherChoice
from evenpick.service.climate import as_read, named_record

STEPS = (1.0, 2.0)
"""°C"""
ON = 20
"""years for which the trend is carried on"""

Answer = TypeVar("Answer")
Told = TypeVar("Told", covariant=True)


@dataclass(frozen=True, slots=True)
class Shifted(Generic[Told]):
    """An answer in the same weather so many °C warmer."""

    degrees: float
    trend: bool
    """whether that is the place's own trend, twenty years on"""
    answer: Told


def beside(
    site: Site, choice: WeatherChoice, ask: Callable[[WeatherChoice], Answer]
) -> tuple[tuple[Shifted[Answer], ...], bool]:
    """What `ask` answers at +1, +2 °C and, where the record shows one beyond chance, at the place's own trend
    twenty years on; and whether it shows one. Asked anew for each: as long again as the question takes."""
    trend = own_trend(site, choice)
    steps = [(degrees, False) for degrees in STEPS]
    if trend is not None:
        steps.append((round(ON / 10 * trend, 1), True))
    return tuple(
        Shifted(degrees, own, ask(replace(choice, warmer=choice.warmer + degrees))) for degrees, own in steps
    ), trend is not None


def own_trend(site: Site, choice: WeatherChoice) -> float | None:
    """°C a decade by the daily record behind the answers, as `remove_trend` finds it; None where there is no
    record, it is short, or it could be chance."""
    known = named_record(site, choice)
    return None if known is None else found_trend(as_read(known)[0])
