"""One sowing of the diary: what was written of it, and what is to be expected."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.diary import Entry
from evenpick.garden.record import Sowing, State
from evenpick.service.book import record_of
from evenpick.service.expectation import Expected
from evenpick.service.setups import garden_of
from evenpick.service.store_plan import saved_plan
from evenpick.service.today import under_way_foreseen


@dataclass(frozen=True, slots=True)
class SownAnswer:
    sowing: Sowing
    name: str
    state: State
    entries: tuple[Entry, ...]
    """of the diary, about it, by day"""
    expected: Expected | None
    """None once it is cleared or lost, and before it is sown"""


def sown(garden: Path, sowing: str, day: date) -> SownAnswer:
    """A sowing by its id. BadRequest where the diary has none, BadGarden, BadBook, BadWeatherFile."""
    record = record_of(garden)
    found = record.sowings.get(sowing)
    if found is None:
        raise BadRequest(Problem(tell("the diary has no such sowing, or it was undone."),
                                 tell("See the diary."),
                                 field="sowing"))
    about = tuple(entry for entry in record.entries
                  if sowing in (entry.id, getattr(entry.fact, "sowing", None)))
    coming = under_way_foreseen(garden, garden_of(garden), saved_plan(garden), record, day)
    crop = load_catalogue().crop(found.fact.crop)
    return SownAnswer(found, found.named(crop.name), found.state(day_number(day)), about,
                      None if found.over(day_number(day)) else coming.get(sowing))
