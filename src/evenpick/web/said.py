"""What was just kept or taken back, said on the page that follows, with its undoing beside it."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import Query

from evenpick.base.days import day_date
from evenpick.base.language import tell
from evenpick.garden.diary_names import Names
from evenpick.report.days import full_day
from evenpick.service.log_names import names_of
from evenpick.service.log_words import fact_words
from evenpick.service.undoing import undone_by
from evenpick.web.served import Served

JustWritten = Annotated[str, Query(pattern=r"^([0-9a-f]{32})?$")]
"""id of an entry that the page is to tell of; empty for none"""


def names(about: Served) -> Names:
    return about.latest.get("names", lambda: names_of(about.garden, about.record()))


def just_kept(about: Served, identity: str) -> dict[str, Any]:
    """`said`, and `kept` to undo it by; nothing where no such entry stands."""
    if not identity:
        return {}
    found = next((each for each in about.record().entries if each.id == identity), None)
    if found is None:
        return {}
    told = tell("Kept: {day}, {said}", day=full_day(day_date(found.day)),
                said=fact_words(found.fact, names(about)))
    return {"said": told, "kept": identity}


def just_undone(about: Served, identity: str) -> dict[str, Any]:
    """`said` of what the entries from this one on took back; nothing where they took back nothing."""
    gone = undone_by(about.garden, identity, names(about)) if identity else ()
    if not gone:
        return {}
    return {"said": tell("Undone: {entries}",
                         entries="; ".join(f"{full_day(each.day)}, {each.words}" for each in gone))}
