"""The planned sowing that a line carries out; of 'sowed the broad beans as planned' way, cover and amount are
the plan's (docs/formats/diary-line.md)."""

from __future__ import annotations

from datetime import date

from evenpick.base.days import day_number
from evenpick.base.trade import CoverName, WayName
from evenpick.garden.diary_clause import Clause
from evenpick.garden.diary_names import Names, PlannedName

NEAR_DAYS = 10
"""record.md, R8"""
LATE_DAYS = 21
"""a planned sowing may be made so late where none of its kind is nearer: as far as its name follows it
(season.md, 1)"""


def near(planned: PlannedName, day: date, names: Names, bought: bool = False) -> bool:
    """Whether a sowing of that day may carry it out, and no other has."""
    late = day_number(day) - due(planned, bought)
    return -NEAR_DAYS <= late <= LATE_DAYS and planned.id not in names.carried_out


def due(planned: PlannedName, bought: bool = False) -> int:
    """Bought plants come in where raised ones were to be planted out."""
    return planned.out if bought and planned.out is not None else planned.sow


def as_planned(clause: Clause, day: date, names: Names, way: WayName | None) -> PlannedName | None:
    """The planned sowing that a clause says it carries out as it was planned: the nearest of the crops it may
    be about. None where it does not say so, and where two are as near."""
    if not clause.as_planned:
        return None
    alike = [each for each in names.planned() if each.crop in clause.keys and way in (None, each.way)]
    fit = [each for each in alike if each.area > 0 and near(each, day, names)]
    distance = [abs(due(each) - day_number(day)) for each in fit]
    nearest = [each for each, days in zip(fit, distance, strict=True) if days == min(distance)]
    return nearest[0] if len(nearest) == 1 else None


def nearest(
    crop: str, way: WayName, cover: CoverName | None, day: date, names: Names, bought: bool
) -> PlannedName | None:
    """The planned sowing of a crop that one of that day carries out, of several the nearest and of those as
    near the first; where none is near, one that it makes late. `cover` None: nobody says of seed sown in
    modules what it will be planted out under, so it fits what is raised for a tunnel too, unless plants are
    raised for both."""
    fit = [each for each in names.planned() if (each.crop, each.way) == (crop, way)
           and cover in (None, each.cover) and near(each, day, names, bought)]
    fit = [each for each in fit if abs(due(each, bought) - day_number(day)) <= NEAR_DAYS] or fit
    if len({each.cover for each in fit}) > 1:
        return None
    return min(fit, key=lambda each: (abs(due(each, bought) - day_number(day)), each.sow, each.id),
               default=None)
