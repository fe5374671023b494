"""A file of lines, each read as if written on its date (docs/formats/diary-line.md)."""

from __future__ import annotations

import csv
import io
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.errors import BadDiary, Problem
from evenpick.base.language import tell, tell_n
from evenpick.garden.diary import Entry, Reading, following
from evenpick.garden.diary_asking import DOUBT, SO, Asked, Outcome, Refused, Understood
from evenpick.garden.diary_bounds import OLDEST
from evenpick.garden.diary_line import read_line
from evenpick.garden.diary_names import Names
from evenpick.garden.record import Sowings, fold, readings_over
from evenpick.garden.table_text import delimiter_of, read_day
from evenpick.service.book import keep, record_of
from evenpick.service.log import LogEntry, shown
from evenpick.service.log_doubts import still_to_come, told_twice
from evenpick.service.log_names import KINDS, names_after, names_in, names_of, told_of
from evenpick.service.log_words import reading_words
from evenpick.store.book import Book, book_path

SHOWN = 20
"""faults of one file that are told; of a file full of one fault the rest say nothing new"""


@dataclass(frozen=True, slots=True)
class Lines:
    """What a file of lines tells; nothing of it is written yet."""

    entries: tuple[Entry, ...]
    doubts: tuple[str, ...]
    """what was doubtful and taken as so, each with the number of its line"""


def read_lines(
    garden: Path, file: Path, until: date, by: str = "", sure: bool = False, now: date | None = None
) -> Lines:
    """Entries of a CSV file of `date,line` rows, each read as if written on its date, knowing those before;
    none is of a day after `until`.
    `sure`: what is only doubtful is so. `now` is the day by the clock, where `until` was typed.

    BadDiary with the rows that can't be read, by line, the first of many and how many more; nothing is
    written here.
    """
    problems: list[Problem] = []
    made: list[Entry] = []
    doubts: list[str] = []
    by_day: defaultdict[int, list[Entry]] = defaultdict(list)
    before = fold(_sorted_in(record_of(garden).entries, by_day))
    names, sowings = names_in(garden, told_of(garden), before), Sowings(before)
    first = Book(book_path(garden)).next_id()  # the others follow one by one: one act, undone as one
    for number, day, line in _rows(file, problems):
        if not until - OLDEST <= day <= until:
            problems.append(Problem(tell("{found} is no day of this diary.", found=day),
                                    tell("Give one from {first} to {last}.", first=until - OLDEST,
                                         last=until), str(file), number, "date"))
            continue
        asked = "" if now is None else still_to_come(garden, day, now)
        if asked and not sure:
            mend = tell("Mend the date, or say that it is so with --yes.")
            problems.append(Problem(asked, mend, str(file), number, "date"))
            continue
        answer, doubtful = _read_surely(line, day, names) if sure else (read_line(line, day, names), [])
        if isinstance(answer, Understood):
            mend = tell("Leave the row out, or say that it is so with --yes.")
            days = {day_number(each.day) for each in answer.facts}
            known = told_twice(
                answer.facts, [entry for each in sorted(days) for entry in by_day[each]], names)
            if sure:
                taken = (*filter(None, [asked]), *doubtful, *known)
                doubts += (tell("Line {number}: {doubt}", number=number, doubt=each) for each in taken)
            else:
                problems += (Problem(asked, mend, str(file), number, "line") for asked in known)
            new = [Entry(following(first, len(made) + at), day_number(each.day), each.fact, line, by)
                   for at, each in enumerate(answer.facts)]
            made += new
            if bears := _sorted_in(new, by_day):
                for each in bears:
                    sowings.add(each)
                names = names_after(names, sowings.there(), bears)
        else:
            problems.append(_problem(answer, line).at(str(file), number, "line"))
    if problems:
        raise BadDiary(_first_of(problems, file))
    return Lines(tuple(made), tuple(doubts))


def _sorted_in(entries: Iterable[Entry], by_day: defaultdict[int, list[Entry]]) -> list[Entry]:
    """Puts entries to those of their day; those that bear on what later lines may mean."""
    new = list(entries)
    for entry in new:
        by_day[entry.day].append(entry)
    return [entry for entry in new if entry.fact.kind in KINDS]


def _first_of(problems: Sequence[Problem], file: Path) -> list[Problem]:
    more = len(problems) - SHOWN
    if more <= 0:
        return list(problems)
    what = tell_n("there is {n} more problem.", "there are {n} more problems.", more)
    return [*problems[:SHOWN], Problem(what, tell("Mend those above, then read it again."), str(file))]


def _read_surely(line: str, day: date, names: Names) -> tuple[Outcome, list[str]]:
    """What the line tells, and what was doubtful in it and taken as so."""
    answers: dict[str, str] = {}
    doubts: list[str] = []
    outcome = read_line(line, day, names, answers)
    while isinstance(outcome, Asked) and outcome.question.about == DOUBT:
        doubts.append(outcome.question.text)
        answers[outcome.question.key] = SO
        outcome = read_line(line, day, names, answers)
    return outcome, doubts


def read_back(garden: Path, entries: Sequence[Entry]) -> Iterator[LogEntry]:
    """What `read_lines` made, each as a single line is read back before it counts."""
    before = record_of(garden)
    names = names_of(garden, fold([*before.entries, *entries]))
    readings = dict(before.readings)
    for entry in entries:
        told = shown(entry, names)
        if isinstance(entry.fact, Reading):
            had = readings.get(entry.day, Reading())
            told = replace(told, words=reading_words(entry.fact, had, names))
            readings |= readings_over({entry.day: had}, [entry])
        yield told


def commit_lines(garden: Path, entries: Sequence[Entry]) -> int:
    """Write what `read_lines` made, all or none; how many."""
    return len(keep(garden, entries))


def _rows(file: Path, problems: list[Problem]) -> list[tuple[int, date, str]]:
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        why = error.strerror if isinstance(error, OSError) else tell("it is not UTF-8")
        raise BadDiary(
            Problem(tell("the file can't be read ({why}).",
                         why=why), tell("Check its name; save it as UTF-8."), str(file))
        ) from error
    if not text.strip():
        raise BadDiary(Problem(tell("the file is empty."), tell("Write date,line."), str(file)))
    reader = csv.reader(io.StringIO(text), delimiter=delimiter_of(text))
    rows = []
    for cells in reader:
        number = reader.line_num
        if not any(cell.strip() for cell in cells) or (
            number == 1 and [c.strip().lower() for c in cells] == ["date", "line"]
        ):
            continue
        if len(cells) < 2:
            problems.append(
                Problem(tell("there is no line after the date."), tell("Write date,line."), str(file), number)
            )
            continue
        try:
            rows.append((number, read_day(cells[0]), ", ".join(cells[1:])))
        except BadDiary as error:
            problems += [problem.at(str(file), number, "date") for problem in error.problems]
    return rows


def _problem(outcome: Outcome, line: str) -> Problem:
    if isinstance(outcome, Asked):
        labels = "; ".join(choice.label for choice in outcome.question.choices)
        choices = tell(" It may be: {labels}.", labels=labels) if labels else ""
        return Problem(tell("'{line}' is not clear: {text}", line=line, text=outcome.question.text), tell(
                        "Write it so that it is.{choices}", choices=choices))
    assert isinstance(outcome, Refused)
    return Problem(f"'{line}': {outcome.why}", outcome.mend)
