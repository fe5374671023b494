"""What a line tells that is clear and yet hardly so, by what else the diary holds: it is asked about."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadPlan
from evenpick.base.language import tell
from evenpick.garden.diary import (
    CameUp,
    Cleared,
    Entry,
    Fact,
    Lost,
    Picked,
    PlantedOut,
    SetUp,
    Sowed,
    following,
)
from evenpick.garden.diary_asking import DOUBT, SO, Choice, Dated, Question
from evenpick.garden.diary_names import Names, day_words
from evenpick.service.book import record_of
from evenpick.service.log_words import fact_words
from evenpick.store.book import Book, book_path

ZONES = timedelta(days=1)
"""by which the day may be ahead of this machine's elsewhere on earth"""
TRIED = timedelta(days=92)
"""a garden that is tried ahead of the clock goes on by so much at a time (our choice)"""
ALL_BUT = 0.97
"""of a sowing: who loses so much has nothing left to pick"""
KEY = f"0:{DOUBT}"
LATEST = 4e9
"""seconds since 1970, in 2096: beyond it an id tells no moment"""
LINE = 100
"""entries that one line may make at the most"""
TWICE = (Sowed, Lost, Picked)
"""facts of which two are more than one (doubled.COUNTED), but for seed: two packets alike are often bought"""


def doubtful(
    garden: Path, facts: Sequence[Dated], names: Names, answers: Mapping[str, str], now: date | None,
    but: str = "",
) -> Question | None:
    """The first question of those that were not answered yet; `now` is the day by the clock, None where the
    day was not typed; `but` the id of the line's own first entry, or of the one that is being put right."""
    for about, text in (*_to_come(garden, facts, now), *_clock_behind(garden, now),
                        *_picked_since(garden, facts, names), *_twice(garden, facts, names, but)):
        if answers.get(f"{KEY}:{about}") != SO:
            return Question(f"{KEY}:{about}", DOUBT, text, (Choice(SO, tell("yes, it is so")),))
    return None


def _to_come(garden: Path, facts: Sequence[Dated], now: date | None) -> Iterator[tuple[str, str]]:
    last = max((each.day for each in facts), default=None)
    if now is not None and last is not None and (asked := still_to_come(garden, last, now)):
        yield "day", asked


def _clock_behind(garden: Path, now: date | None) -> Iterator[tuple[str, str]]:
    """That lines stand in the diary that were written after today, and of days after it: the clock was set
    back. A garden that is tried ahead of the clock has such days, but not so written."""
    clock, newest = now or date.today(), Book(book_path(garden)).newest()
    at = int(newest[:12], 16) / 1000 if newest else 0.0
    last = date.fromtimestamp(min(at, LATEST))
    there = _garden_day(garden) if last > clock + ZONES else None
    if there is not None and there > clock + ZONES:
        yield "clock", tell("It is {now} {now_year} by the clock here, and the last line was written on "
                            "{last} {last_year}. Is the clock right?", now=day_words(clock),
                            now_year=clock.year, last=day_words(last), last_year=last.year)


def still_to_come(garden: Path, day: date, now: date) -> str:
    """The question about a day that is still to come by the clock, unless the garden itself is ahead of it;
    empty where there is none."""
    if day <= now + ZONES:
        return ""
    there = _garden_day(garden)
    if there is not None and there > now + ZONES and day <= there + TRIED:
        return ""
    return tell("{day} {year} is still to come: it is {now} {now_year} today. Is that day meant?",
                day=day_words(day), year=day.year, now=day_words(now), now_year=now.year)


def _garden_day(garden: Path) -> date | None:
    """How far the garden has come: the first day of the plan kept, or the latest day of its diary."""
    entries = record_of(garden).entries
    days = [day_date(entry.day) for entry in entries if not isinstance(entry.fact, SetUp)]
    return max([*days, *_begun(garden)], default=None)


def _begun(garden: Path) -> Iterator[date]:
    """The first day of the plan kept; none of one that can't be read, which is told where it is asked for."""
    try:
        kept = Book(book_path(garden)).plan()
    except BadPlan:
        return
    begins = None if kept is None else json.loads(kept.body).get("begins")
    if isinstance(begins, str):
        yield date.fromisoformat(begins)


def _twice(garden: Path, facts: Sequence[Dated], names: Names, but: str) -> Iterator[tuple[str, str]]:
    told = [each for each in facts if isinstance(each.fact, TWICE)]
    if told:
        before = record_of(garden, tuple(fact.kind for fact in TWICE)).entries
        for at, text in enumerate(told_twice(told, _others(before, but), names)):
            yield f"twice{at}", text


def _others(entries: Iterable[Entry], but: str) -> list[Entry]:
    """Without that one and what was written with it."""
    own = {following(but, at) for at in range(LINE)} if but else set[str]()
    return [entry for entry in entries if entry.id not in own]


def told_twice(facts: Sequence[Dated], before: Sequence[Entry], names: Names) -> Iterator[str]:
    """The question about each sowing, loss, or picking that was weighed or counted, which the diary has of
    that day already: two of those are more than one."""
    for each in facts:
        same = [entry for entry in before if entry.day == day_number(each.day)
                and _counts(entry.fact) and _alike(entry.fact, each.fact)]
        if same:
            yield tell(
                "The diary has the same of {day} already: {fact}. Is this another one? If not, leave it. One "
                "that was written twice can be undone in the diary, or with: evenpick log --undo {entry}",
                day=day_words(each.day), fact=fact_words(each.fact, names), entry=same[-1].id[-6:])


def _counts(fact: Fact) -> bool:
    return isinstance(fact, TWICE) and not (
        isinstance(fact, Picked) and fact.kg is None and fact.pieces is None)


def _alike(one: Fact, other: Fact) -> bool:
    """Sowings whatever planned ones they carry out: the first of two has taken that."""
    if isinstance(one, Sowed) and isinstance(other, Sowed):
        return replace(one, planned=None, packet=None) == replace(other, planned=None, packet=None)
    return one == other


def _picked_since(garden: Path, facts: Sequence[Dated], names: Names) -> Iterator[tuple[str, str]]:
    """A loss of all that stood, of a sowing that was picked after that day."""
    lost = [(each.day, each.fact) for each in facts
            if isinstance(each.fact, Lost) and each.fact.share >= ALL_BUT]
    if not lost:
        return
    kinds = tuple(fact.kind for fact in (Sowed, CameUp, PlantedOut, Lost, Cleared, Picked))
    sowings = record_of(garden, kinds).sowings
    for day, fact in lost:
        sowing = sowings.get(fact.sowing)
        later = [] if sowing is None else [each for each in sowing.pickings if each.day > day_number(day)]
        if sowing is not None and later:
            yield "picked", tell("{sowing}, was picked on {picked}, after that. Was all of it lost on {day}?",
                                 sowing=names.told(sowing), picked=day_words(day_date(later[-1].day)),
                                 day=day_words(day))
