"""Lines of the diary: understood, asked or refused, then written; corrected and undone.

The grammar: docs/formats/diary-line.md.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Any, Literal

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadDiary, BadRequest, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Corrected, Entry, Fact, Noted, Reading, SetUp, Sowed, new_id
from evenpick.garden.diary_asking import DOUBT, SO, Asked, Dated, Outcome, Question, Refused, Understood
from evenpick.garden.diary_json import fact_json
from evenpick.garden.diary_line import mere_words, read_line
from evenpick.garden.diary_names import Names
from evenpick.garden.record import Record
from evenpick.service.book import keep, record_of
from evenpick.service.log_doubts import doubtful
from evenpick.service.log_names import names_of
from evenpick.service.log_words import fact_words, reading_words
from evenpick.store.book import Book, book_path


@dataclass(frozen=True, slots=True)
class LogFact:
    day: date
    words: str
    """what was understood, as it is read back"""
    fact: Fact

    def shape(self) -> Mapping[str, Any]:
        """The fact's own fields, as in docs/formats/book.md."""
        return fact_json(self.fact)


@dataclass(frozen=True, slots=True)
class LogAnswer:
    """What came of a line; only one that is understood can be written."""

    outcome: Literal["understood", "asked", "refused"]
    line: str
    facts: tuple[LogFact, ...] = ()
    question: Question | None = None
    why: str = ""
    mend: str = ""


@dataclass(frozen=True, slots=True)
class LogEntry:
    """An entry that stands in the diary."""

    id: str
    day: date
    words: str
    note: str
    only_words: bool = False
    """whether it is kept for its note alone"""


def understand(
    garden: Path, line: str, today: date, answers: Mapping[str, str] | None = None, now: date | None = None,
    own: str = "",
) -> LogAnswer:
    """What a line written on a day tells; `answers` by the keys of the questions that were asked. `now` is
    the day by the clock, where the other may be ahead of it; `own` the id that the line's entry will have, or
    has where it is sent again.

    BadGarden or BadBook where the garden can't be read; the line itself never raises.
    """
    names = names_of(garden)
    outcome = _unless_doubtful(garden, read_line(line, today, names, answers), names, answers, now, own)
    answer = _answer(line, outcome, names)
    return _with_what_it_replaces(garden, answer, names)


def _unless_doubtful(
    garden: Path, outcome: Outcome, names: Names, answers: Mapping[str, str] | None, now: date | None,
    but: str = "",
) -> Outcome:
    """What was understood, or the question whether it can be."""
    if not isinstance(outcome, Understood):
        return outcome
    question = doubtful(garden, outcome.facts, names, answers or {}, now, but)
    return outcome if question is None else Asked(question)


def _with_what_it_replaces(garden: Path, answer: LogAnswer, names: Names) -> LogAnswer:
    """A reading of a day that has one takes its place, and so it says."""
    if not any(isinstance(each.fact, Reading) for each in answer.facts):
        return answer
    before = record_of(garden, (Reading.kind,)).readings
    return replace(answer, facts=tuple(
        replace(each, words=reading_words(each.fact, before.get(day_number(each.day), Reading()), names))
        if isinstance(each.fact, Reading) else each for each in answer.facts
    ))


def only_words(garden: Path, line: str) -> bool:
    """Whether a line that is not understood loses nothing by being kept as words."""
    return mere_words(line, names_of(garden))


def without_doubt(
    read: Callable[[], LogAnswer], answers: dict[str, str]
) -> tuple[LogAnswer, tuple[str, ...]]:
    """What a line tells where the grower has said beforehand that it is so, and what was doubtful in it;
    `read` knows the `answers`, to which those are added."""
    doubts: list[str] = []
    answer = read()
    while answer.question is not None and answer.question.about == DOUBT:
        doubts.append(answer.question.text)
        answers[answer.question.key] = SO
        answer = read()
    return answer, tuple(doubts)


def commit(garden: Path, answer: LogAnswer, by: str = "") -> tuple[Entry, ...]:
    """Write what was understood, all or none; BadDiary for an answer that was not understood."""
    if answer.outcome != "understood":
        raise BadDiary(
            Problem(tell("'{line}' is not understood yet.",
                         line=answer.line), tell("Answer its question, or write it anew."))
        )
    return keep(garden, line_entries(answer.facts, answer.line, by, Book(book_path(garden)).newest()))


def correct(
    garden: Path, which: str, line: str, today: date, answers: Mapping[str, str] | None = None,
    now: date | None = None,
) -> tuple[LogAnswer, str]:
    """What a line would make of an entry, and the entry's whole id; a line of several facts is refused."""
    names, entry = names_of(garden), find_entry(record_of(garden), which)
    outcome = _of_the_same_plan(read_line(line, today, names, answers), entry.fact)
    outcome = _unless_doubtful(garden, outcome, names, answers, now, entry.id)
    answer = _answer(line, outcome, names)
    if len(answer.facts) > 1:
        why = tell("an entry holds one fact, and this line tells several.")
        return LogAnswer("refused", line, why=why, mend=tell("Write the line of that entry alone.")), entry.id
    return answer, entry.id


def commit_correction(garden: Path, entry: str, answer: LogAnswer, by: str = "") -> tuple[Entry, ...]:
    """Write the correction of an entry, upon the correction that stands."""
    if answer.outcome != "understood" or len(answer.facts) != 1:
        raise BadDiary(
            Problem(tell("'{line}' is not understood yet.",
                         line=answer.line), tell("Answer its question, or write it anew."))
        )
    (told,) = answer.facts
    return keep(garden, [correction(garden, entry, Dated(told.day, told.fact), answer.line, by)])


def correction(
    garden: Path, entry: str, told: Dated, line: str, by: str = "", identity: str | None = None
) -> Entry:
    """That an entry should have told this, upon the correction of it that stands."""
    book = Book(book_path(garden))
    before = [
        each.id
        for each in book.entries((Corrected.kind,))
        if isinstance(each.fact, Corrected) and each.fact.entry == entry
    ]
    day = day_number(told.day)
    fact = Corrected(entry, day, told.fact, max(before, default=None))
    return Entry(identity or book.next_id(), day, fact, line, by)


def latest(garden: Path, count: int = 10) -> tuple[LogEntry, ...]:
    """The entries written last that count, the last one last."""
    record = record_of(garden)
    names = names_of(garden, record)
    own = sorted(
        (each for each in record.entries if not isinstance(each.fact, SetUp)), key=lambda each: each.id
    )
    return tuple(shown(each, names) for each in own[-count:])


def as_it_stands(garden: Path, which: str) -> LogEntry:
    """The entry of an id, or the end of one, as it is read back; BadRequest as `find_entry`."""
    record = record_of(garden)
    return shown(find_entry(record, which), names_of(garden, record))


def find_entry(record: Record, which: str) -> Entry:
    """An entry that counts, by its id or the end of it; BadRequest where none or several fit."""
    found = [
        each for each in record.entries if each.id == which or (len(which) >= 4 and each.id.endswith(which))
    ]
    if len(found) != 1:
        what = tell("no entry") if not found else tell("more than one entry")
        raise BadRequest(
            Problem(tell("{what} goes by '{which}'.", what=what,
                         which=which), tell("See the last ones, with their ids: evenpick log"))
        )
    return found[0]


def line_entries(facts: Sequence[LogFact | Dated], line: str, by: str, after: str) -> list[Entry]:
    """Entries of one line, whose ids sort as the line tells them, after the id `after`."""
    ids = sorted(new_id(after=after) for _ in facts)
    return [
        Entry(identity, day_number(each.day), each.fact, line, by)
        for identity, each in zip(ids, facts, strict=True)
    ]


def _answer(line: str, outcome: Outcome, names: Names) -> LogAnswer:
    match outcome:
        case Understood(facts):
            return LogAnswer("understood", line, tuple(_told(each, names) for each in facts))
        case Asked(question):
            return LogAnswer("asked", line, question=question)
        case Refused(why, mend):
            return LogAnswer("refused", line, why=why, mend=mend)


def _of_the_same_plan(outcome: Outcome, before: Fact) -> Outcome:
    """A sowing corrected still carries out the planned one, which it took itself and so is no longer free."""
    match outcome, before:
        case Understood((Dated(day, Sowed(planned=None) as fact),)), Sowed() if (
            (fact.crop, fact.way) == (before.crop, before.way)
        ):
            return Understood((Dated(day, replace(fact, planned=before.planned)),))
        case _:
            return outcome


def _told(dated: Dated, names: Names) -> LogFact:
    return LogFact(dated.day, fact_words(dated.fact, names), dated.fact)


def shown(entry: Entry, names: Names) -> LogEntry:
    """An entry as it is read back."""
    return LogEntry(entry.id, day_date(entry.day), fact_words(entry.fact, names), entry.note,
                    isinstance(entry.fact, Noted))
