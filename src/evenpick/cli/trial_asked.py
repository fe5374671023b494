"""What the trial command is told, read: lengths, beds, shares and names as they are typed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell

if TYPE_CHECKING:
    from evenpick.trials.layout import Bed


def length_of(text: str, option: str, least: float = 0.01) -> float:
    """Metres of '2 m' or '6 ft'; BadRequest with the remedy."""
    from evenpick.base.errors import BadGarden
    from evenpick.garden.amounts import LENGTHS, quantity

    mend = tell("Write {option} such as '2 m' or '6 ft'.", option=option)
    try:
        number, unit = quantity(text, mend)
    except BadGarden as error:
        raise BadRequest(error.problems) from error
    if unit not in LENGTHS:
        raise BadRequest(Problem(tell("'{text}' has no unit of length.", text=text[:40]), mend))
    metres = number * LENGTHS[unit]
    if not least <= metres <= 1000:
        raise BadRequest(Problem(tell("'{text}' can't be meant.", text=text[:40]), mend))
    return metres


def bed_of(text: str) -> Bed:
    from evenpick.trials.layout import Bed

    name, equals, length = text.rpartition("=")
    return Bed(one_line(name) if equals else "bed", length_of(length, "--bed NAME="))


def share_of(text: str, option: str) -> float:
    """A share of '20 %'; BadRequest unless above 0 and to 100 %."""
    from evenpick.base.errors import BadGarden
    from evenpick.garden.amounts import percent

    mend = tell("Write {option} such as '20 %'.", option=option)
    try:
        share = percent(text) / 100
    except BadGarden as error:
        raise BadRequest(Problem(tell("'{text}' is not a percentage.", text=text[:40]), mend)) from error
    if share < 0.005:
        raise BadRequest(Problem(tell("'{text}' is too little to reckon with.", text=text[:40]), mend))
    return share


def variation_of(text: str | None) -> float:
    from evenpick.trials.power import TYPICAL_CV

    return TYPICAL_CV if text is None else share_of(text, "--variation")


def one_line(text: str) -> str:
    """A name on one line."""
    name = " ".join(text.split())
    if not name:
        raise BadRequest(Problem(tell("a name is empty."), tell("Give it one.")))
    return name


def file_name(name: str) -> str:
    kept = "".join(letter if letter.isalnum() else "-" for letter in name.casefold())
    return "-".join(part for part in kept.split("-") if part) or "trial"
