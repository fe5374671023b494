"""An entry of the diary in a line of words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evenpick.base.days import day_date
from evenpick.base.language import tell
from evenpick.garden.diary import Corrected, Entry, Fact, SetUp, Sowed, Undid, written
from evenpick.garden.diary_json import fact_json
from evenpick.report.days import full_day

UNITS = {"area": "m²", "kg": "kg", "grams": "g", "litres": "l", "tmin": "°C", "tmax": "°C", "rain": "mm"}
ABOUT = ("sowing", "packet", "entry", "trial", "after")
SHARES = ("share", "germination")


def entry_words(entry: Entry, known: Mapping[str, Entry]) -> str:
    """What was written, by whom and when; entries that it speaks of are named if they are known."""
    by = tell(" by {by}", by=entry.by) if entry.by else ""
    note = f' "{entry.note}"' if entry.note else ""
    when = tell("written {id:%Y-%m-%d %H:%M} UTC{by}", id=written(entry.id), by=by)
    return f"{_of(entry.day, entry.fact, known)}{note} ({when})"


def _of(day: int, fact: Fact, known: Mapping[str, Entry]) -> str:
    match fact:
        case Undid():
            return tell("undid: {entry}", entry=_named(fact.entry, known))
        case Corrected():
            return tell("corrected to: {day}", day=_of(fact.day, fact.fact, known))
        case SetUp():
            return tell("{day} the garden's set-up", day=full_day(day_date(day)))
    parts = [_part(name, value, known) for name, value in fact_json(fact).items() if name != "kind"]
    return f"{full_day(day_date(day))} {tell(fact.kind)}" + (f": {', '.join(parts)}" if parts else "")


def _part(name: str, value: Any, known: Mapping[str, Entry]) -> str:
    if name in ABOUT and isinstance(value, str):
        return f"{tell(name)} {_named(value, known)}"
    if name in SHARES and isinstance(value, int | float):
        return f"{tell(name)} {value:.0%}"
    if isinstance(value, bool):
        return tell(name) if value else tell("not {name}", name=tell(name))
    shown = f"{value:g}" if isinstance(value, float) else str(value)
    return f"{tell(name.replace('_', ' '))} {shown} {UNITS.get(name, '')}".strip()


def _named(identity: str, known: Mapping[str, Entry]) -> str:
    entry = known.get(identity)
    if entry is None:
        return tell("entry {identity}, which is not here", identity=identity[:8])
    if isinstance(entry.fact, Sowed) and entry.fact.bought:
        return tell("{crop} bought and planted {day}", crop=entry.fact.crop,
                    day=full_day(day_date(entry.day)))
    if isinstance(entry.fact, Sowed):
        return tell("{crop} sown {day}", crop=entry.fact.crop, day=full_day(day_date(entry.day)))
    return _of(entry.day, entry.fact, {})
