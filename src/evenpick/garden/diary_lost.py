"""What was lost, and how much of what stood: told as a share, or as plants, metres or m² of it."""

from __future__ import annotations

from datetime import date

from evenpick.base.days import day_number
from evenpick.base.language import later, tell
from evenpick.crops.crop_words import CropWords
from evenpick.garden.diary import Cause, Fact, Lost
from evenpick.garden.diary_amounts import Amounts, take_amounts
from evenpick.garden.diary_asking import Asker, refuse
from evenpick.garden.diary_clause import Clause
from evenpick.garden.diary_names import Names
from evenpick.garden.diary_scan import Scan, normalised
from evenpick.garden.diary_sowing import crop_of, one, sowings_of, under_way
from evenpick.garden.diary_verbs import CAUSES

SHARES = (
    ("1", later("all of it")),
    ("0.75", later("three quarters")),
    ("0.5", later("half")),
    ("0.25", later("a quarter")),
    ("0.1", later("a tenth")),
)
ALL_OF_IT = 0.97
"""of what stood: as counted or measured by eye, no less than all"""
OVER = 1.1
"""times what stood that may be told lost of it, as all; beyond, it is asked"""


def lost(clause: Clause, day: date, names: Names, asker: Asker) -> tuple[Fact, ...]:
    assert clause.verb is not None
    fitting = under_way(names, clause, "came up" if clause.verb.what == "not up" else "lost",
                        day_number(day))
    crop = crop_of(names, clause, asker, fitting)
    sowing = one(sowings_of(names, clause, asker, fitting, crop, "lost", False, False))
    pest = clause.pest[0] if clause.pest and clause.verb.what != "bolted" else ""  # run to seed, by the heat
    cause: Cause = pest or clause.verb.what or "other"  # type: ignore[assignment]
    share = _told(clause, crop, sowing, day, names, asker)
    if not 0 < share <= 1:
        refuse(tell("{share:.0%} of it can't be.", share=share), tell("Write a share up to all of it."))
    if not clause.pest and not clause.verb.what:
        cause = asker.ask("cause", tell("What took it?"),
                          [(each, tell(each)) for each in CAUSES])  # type: ignore[assignment]
    return (Lost(sowing, cause, share, clause.pest[1] if clause.pest else ""),)


def _told(clause: Clause, crop: str, sowing: str, day: date, names: Names, asker: Asker) -> float:
    """The share told, or what was counted of what stood on that day; else asked."""
    amounts, words = clause.amounts, names.crops[crop]
    if amounts.share is not None:
        return amounts.share
    ground = _ground(amounts, words, clause.single)
    there = names.sowing(sowing)
    stood = 0.0 if there is None else there.area * there.left_on(day_number(day))
    part = ground / stood if ground is not None and stood else None
    if ground is None and not amounts.some and clause.verb is not None and clause.verb.what == "not up":
        return 1.0
    if part is not None and part <= OVER and _of_ground(amounts, words, clause.single):
        return 1.0 if part >= ALL_OF_IT else part
    return _asked(names.name(crop), part, asker)


def _ground(amounts: Amounts, crop: CropWords, single: bool) -> float | None:
    """m² of what was told lost, plants each at the crop's spacing; None where nothing was counted."""
    if amounts.area is not None or amounts.row is not None:
        return amounts.area if amounts.row is None else amounts.row * crop.row
    counted = amounts.plants or amounts.pieces or (amounts.counts[0] if len(amounts.counts) == 1 else None)
    counted = 1.0 if counted is None and single else counted
    return None if counted is None else counted * crop.in_row * crop.row


def _of_ground(amounts: Amounts, crop: CropWords, single: bool) -> bool:
    """Whether what was counted can be nothing but plants: tomatoes lost may be fruit."""
    if any(each is not None for each in (amounts.area, amounts.row, amounts.plants)):
        return True
    return crop.layout == "station" and crop.piece in ("head", "root", "bulb", "bunch")


def _asked(name: str, part: float | None, asker: Asker) -> float:
    shares = [(value, tell(said)) for value, said in SHARES]
    if part is not None and part < 1:
        shares.insert(0, (f"{part:.3g}", tell("so many plants, {share:.0%} of what stood", share=part)))
    given = asker.ask("share", tell("How much of the {crop} was lost?", crop=name), shares, "30 %")
    if given in dict(shares):
        return float(given)
    share = take_amounts(Scan(normalised(given).lower())).share
    if share is None:
        refuse(tell("'{given}' is no share.", given=given), tell("Write it such as half or 30 %."))
    return share
