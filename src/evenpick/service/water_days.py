"""A season's balance read off as advice, day by day: what is due, what may be left, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.trade import WayName
from evenpick.service.water_answer import Advice, Phase, WaterDay
from evenpick.soil.seedbed import LEAST_WATERING, Bed, Drill
from evenpick.soil.water_balance import Balance

LIKELY, POSSIBLE = 0.5, 0.1
"""shares of years from which water is due, and from which it may be"""
WET = 2.0
"""mm of rain that is worth naming as the reason"""


@dataclass(frozen=True, slots=True)
class Course:
    """One sowing's season in every year; arrays (years, days), days of events (years,)."""

    way: WayName
    rain: Floats
    et0: Floats
    begin: Ints
    """sown or planted"""
    up: Ints
    """up, or planted"""
    rooted: Ints
    """the initial stage is over"""
    end: Ints
    bed: Bed
    drill: Drill
    balance: Balance


def due_days(
    course: Course, recorded: Bools, first: int, count: int, day: date, band: float, row: float
) -> tuple[WaterDay, ...]:
    """`count` days of advice from axis day `first`, which is the calendar's `day`; band and row in m."""
    return tuple(
        _day(course, bool(recorded[first + ahead]), first + ahead, day + timedelta(days=ahead), band, row)
        for ahead in range(count)
    )


def _day(course: Course, recorded: bool, at: int, when: date, band: float, row: float) -> WaterDay:
    given = course.balance.watered[:, at]
    due = given >= LEAST_WATERING
    share = float(due.mean())
    phase = phase_at(course, at)
    litres = float(np.median(given[due])) if due.any() else 0.0
    strip = min(band, row) if phase in ("not sown", "sow", "seedbed", "up") else row
    advice: Advice = "water" if share >= LIKELY else "perhaps" if share >= POSSIBLE else "leave"
    return WaterDay(
        when, recorded, phase, float(course.rain[:, at].mean()), float(course.et0[:, at].mean()), advice, share,
        litres, litres * strip, _why(course, phase, advice, at),
    )


def phase_at(course: Course, at: int) -> Phase:
    """The phase that most years are in."""
    middle = {name: float(np.median(getattr(course, name))) for name in ("begin", "up", "rooted", "end")}
    if at < middle["begin"]:
        return "not sown"
    if at == middle["begin"]:
        return "sow"
    if at < middle["up"]:
        return "seedbed"
    if at == round(middle["up"]):
        return "up"
    if at > middle["end"]:
        return "over"
    return "rooting" if at <= middle["rooted"] else "growing"


def _why(course: Course, phase: Phase, advice: Advice, at: int) -> str:
    if phase == "not sown":
        return "not planted out yet"
    if phase == "over":
        return "its picking is over"
    if phase == "sow":
        return _sow_words(course, advice)
    rain = float(np.median(course.rain[:, at]))
    if advice != "water" and rain >= WET:
        return f"rain of {rain:.0f} mm does it"
    return _seed_words(course, phase, advice, at) if phase in ("seedbed", "up") else _bed_words(
        course, phase, advice, at)


def _sow_words(course: Course, advice: Advice) -> str:
    planted = course.way != "direct"
    if advice == "leave":
        return "moist already: " + ("plant and firm" if planted else "open the drill, sow, cover")
    if planted:
        return "soak the ground it goes into, then plant"
    return "water the open drill, then sow and cover with dry soil"


def _seed_words(course: Course, phase: Phase, advice: Advice, at: int) -> str:
    if phase == "up":
        return {"water": "up: one more watering, then hold back", "perhaps": "up: one more if the drill is dry",
                "leave": "up, and moist enough: begin to hold back"}[advice]
    left = float(np.median(course.drill.held[:, at])) / course.bed.upper
    if advice == "leave":
        return f"moist at the seed: {left:.0%} of what its layer holds is left by evening"
    return "the seed's layer would be dry by evening" + ("" if advice == "water" else " in some years")


def _bed_words(course: Course, phase: Phase, advice: Advice, at: int) -> str:
    lost, easy = (float(np.median(getattr(course.balance, name)[:, at])) for name in ("root", "readily"))
    if advice == "water":
        return "it has lost all that it gives easily: water deep, then leave it"
    reason = f"it has lost {lost:.0f} of the {easy:.0f} mm that it gives easily"
    return f"{reason}; roots go down for the rest" if phase == "rooting" else reason
