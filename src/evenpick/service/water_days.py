"""A season's balance read off as advice, day by day: what is due, what may be left, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.language import tell, tell_n
from evenpick.base.trade import WayName
from evenpick.service.by_hand import Pot
from evenpick.service.water_answer import Advice, LeftDry, Phase, WaterDay
from evenpick.soil.seedbed import DEADLY, LEAST_WATERING, Bed, Drill
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
    """that falls; a bed in a tunnel was soaked by hand"""
    et0: Floats
    begin: Ints
    """sown or planted"""
    up: Ints
    """up, or planted"""
    rooted: Ints
    """the initial stage is over"""
    end: Ints
    never: int
    """the day that stands for one that does not come"""
    bed: Bed
    drill: Drill
    balance: Balance
    asked: Floats
    """mm that what stands and its ground would use had it water enough (ETc)"""
    watered: bool
    """else nobody waters it"""
    dried: float
    """share of years in which its drill is lost to drought, nobody watering"""
    leaving: Ints
    """days running, from the one after each day, on which nobody is there; (days,)"""
    pot: Pot | None = None
    """what it stands in; None in a bed"""

    def short(self, at: int) -> tuple[float, float, float]:
        """Share of the water that it and its ground could have used up to day `at` that it went without: in
        the wet year, the middle one and the dry; noughts where nothing stands yet."""
        asked, used = (every[:, : at + 1].sum(axis=1) for every in (self.asked, self._used))
        share = 1.0 - np.divide(used, asked, out=np.ones_like(asked), where=asked > 0)
        low, middle, high = np.quantile(np.clip(share, 0.0, 1.0), (0.1, 0.5, 0.9))
        return float(low), float(middle), float(high)

    @property
    def _used(self) -> Floats:
        used = self.balance.transpiration + self.balance.evaporation
        return np.asarray(np.where(self.asked > 0, used, 0.0))


@dataclass(frozen=True, slots=True)
class Strips:
    """What a metre or a plant is watered on: band and row in m, plant in m² (None in a row)."""

    band: float
    row: float
    plant: float | None

    @property
    def share(self) -> float:
        """Of the ground, in its drills' strips."""
        return self.band / self.row


def due_days(
    course: Course, recorded: Bools, first: int, count: int, day: date, strips: Strips
) -> tuple[WaterDay, ...]:
    """`count` days of advice from axis day `first`, which is the calendar's `day`."""
    return tuple(
        _day(course, bool(recorded[first + ahead]), first + ahead, day + timedelta(days=ahead), strips)
        for ahead in range(count)
    )


def _day(course: Course, recorded: bool, at: int, when: date, strips: Strips) -> WaterDay:
    wanted = course.drill.watered[:, at] + course.balance.wanted[:, at]
    due = wanted >= LEAST_WATERING
    share = float(due.mean())
    phase = phase_at(course, at)
    reach = 1.0 if course.pot is None else course.pot.share
    mm = reach * float(np.median(wanted[due])) if due.any() else 0.0
    stands = phase in ("rooting", "growing")
    gone = float(np.median(course.balance.root[:, at - 1])) if stands else None
    easy = float(np.median(course.balance.readily[:, at])) if stands else None
    slowed = gone is not None and easy is not None and gone > easy
    advice: Advice = "water" if share >= LIKELY else "perhaps" if share >= POSSIBLE else "leave"
    return WaterDay(
        when, recorded, phase, float(course.rain[:, at].mean()), float(course.et0[:, at].mean()), advice,
        share, mm, mm * (strips.row if stands else strips.band),
        mm * strips.plant if stands and strips.plant is not None else None,
        _why(course, phase, advice, at, mm > course.bed.upper, slowed), gone, easy,
    )


def left_dry(course: Course, at: int) -> LeftDry | None:
    """What it costs up to day `at`, and its drill from there on, that nobody waters; None where somebody
    does."""
    return None if course.watered else LeftDry(course.dried, course.short(at))


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


def _why(course: Course, phase: Phase, advice: Advice, at: int, deep: bool, slowed: bool) -> str:
    """`deep`: more is due than the seed's layer holds; `slowed`: more is gone than it gives easily."""
    match phase:
        case "not sown":
            return tell("not planted out yet")
        case "over" if advice == "leave" or not course.watered:
            return tell("its picking is over")
        case "over":
            return tell("its picking is over in most years: water what you still pick")
    if not course.watered:
        return _untouched_words(course, phase, at, slowed)
    wet = advice != "water" and float(np.median(course.rain[:, at])) >= WET
    if phase == "sow":
        return _sow_words(course, advice, wet)
    if phase in ("rooting", "growing"):
        spared = course.balance.spared[:, at].mean() + (course.balance.wanted[:, at] > 0.0).mean() >= LIKELY
        if wet and spared:
            return tell("the day's rain does it")
        if advice == "water" and course.leaving[at]:
            return tell_n("nobody is there for the {n} day after: fill it up",
                          "nobody is there for the {n} days after: fill it up", int(course.leaving[at]))
        return _bed_words(phase, advice, slowed) if course.pot is None else _pot_words(course, advice, at)
    if wet:
        return tell("the day's rain does it")
    return _seed_words(course, phase, advice, at, deep)


def _untouched_words(course: Course, phase: Phase, at: int, slowed: bool) -> str:
    """Of ground that nobody waters."""
    if phase in ("rooting", "growing"):
        return tell("growth slows for want of rain") if slowed else tell("enough in the ground")
    held = float(np.median(course.drill.held[:, at]))
    if phase == "sow":
        dry = held <= course.bed.dry
        if course.way == "direct":
            return tell("dry: sow before rain") if dry else tell("moist already: sow, cover")
        return tell("dry: plant before rain") if dry else tell("moist already: plant and firm")
    if course.way == "planted":
        return _seed_words(course, phase, "leave", at, deep=False)
    if held <= DEADLY * course.bed.dry:
        return tell("too dry for seed: it waits, and what has sprouted dies")
    if held <= course.bed.dry:
        return tell("dry at the seed by evening")
    return tell("moist at the seed: {left:.0%} left by evening", left=held / course.bed.upper)


def _sow_words(course: Course, advice: Advice, wet: bool) -> str:
    if advice == "leave" and wet:
        return (tell("the day's rain does it: sow, cover") if course.way == "direct"
                else tell("the day's rain does it: plant and firm"))
    if course.way != "direct":
        return (tell("moist already: plant and firm") if advice == "leave"
                else tell("soak the ground, then plant"))
    return {"water": tell("water the open drill, sow, cover"),
            "perhaps": tell("water the open drill if it is dry, sow"),
            "leave": tell("moist already: sow, cover")}[advice]


def _seed_words(course: Course, phase: Phase, advice: Advice, at: int, deep: bool) -> str:
    dry = bool(np.median(course.drill.dry[:, at]))
    if course.way == "planted" and advice == "leave" and dry:
        return (tell("enough in the ground") if phase == "up"
                else tell("dry above: what is planted has water of its own"))
    if phase == "up":
        return {"water": tell("up: one more, then hold back"), "perhaps": tell("up: one more if it is dry"),
                "leave": tell("up, and moist enough: hold back")}[advice]
    if advice == "leave" and course.way == "planted":
        return tell("enough in the ground")
    if advice == "leave":
        left = float(np.median(course.drill.held[:, at])) / course.bed.upper
        return tell("moist at the seed: {left:.0%} left by evening", left=left)
    if course.way == "planted":  # slips; other plants' sets hold water of their own
        return tell("dry at the roots by evening") if advice == "water" else tell(
            "dry at the roots by evening in some years")
    if advice == "water":
        return tell("a little won't last: soak it") if deep else tell("dry at the seed by evening")
    return tell("dry at the seed by evening in some years")


def _pot_words(course: Course, advice: Advice, at: int) -> str:
    if advice == "leave":
        return tell("enough in the pot")
    if advice == "perhaps":
        return tell("nearly gone in some years: look")
    if float(np.median(course.asked[:, at] - course.balance.readily[:, at])) > 0:
        return tell("a day draws more than a pot gives easily: half in the morning, half in the evening")
    return tell("a pot holds little: water until it runs through")


def _bed_words(phase: Phase, advice: Advice, slowed: bool) -> str:
    if advice == "water":
        return tell("what its roots draw easily is gone: water deep")
    if advice == "perhaps":
        return tell("nearly gone in some years: look")
    if phase == "rooting":
        return tell("growth slows, let it root") if slowed else tell("hold back, let it root")
    return tell("enough in the ground")
