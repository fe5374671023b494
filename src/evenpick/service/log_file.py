"""A file of lines, each read as if written on its date (docs/formats/diary-line.md)."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from evenpick.base.days import day_number
from evenpick.base.errors import BadDiary, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Entry, following
from evenpick.garden.diary_asking import DOUBT, SO, Asked, Outcome, Refused, Understood
from evenpick.garden.diary_bounds import OLDEST
from evenpick.garden.diary_line import read_line
from evenpick.garden.diary_names import Names
from evenpick.garden.record import fold
from evenpick.garden.table_text import delimiter_of, read_day
from evenpick.service.book import keep, record_of
from evenpick.service.log_doubts import still_to_come, told_twice
from evenpick.service.log_names import names_of
from evenpick.store.book import Book, book_path


def read_lines(
    garden: Path, file: Path, until: date, by: str = "", sure: bool = False, now: date | None = None
) -> tuple[Entry, ...]:
    """Entries of a CSV file of `date,line` rows, each read as if written on its date, knowing those before;
    none is of a day after `until`.
    `sure`: what is only doubtful is so. `now` is the day by the clock, where `until` was typed.

    BadDiary with every row that can't be read, by line; nothing is written here.
    """
    problems: list[Problem] = []
    made: list[Entry] = []
    before = record_of(garden)
    names = names_of(garden, before)
    first = Book(book_path(garden)).next_id()  # the others follow one by one: one act, undone as one
    for number, day, line in _rows(file, problems):
        if not until - OLDEST <= day <= until:
            problems.append(Problem(tell("{found} is no day of this diary.", found=day),
                                    tell("Give one from {first} to {last}.", first=until - OLDEST,
                                         last=until), str(file), number, "date"))
            continue
        if now is not None and not sure and (asked := still_to_come(garden, day, now)):
            mend = tell("Mend the date, or say that it is so with --yes.")
            problems.append(Problem(asked, mend, str(file), number, "date"))
            continue
        answer = _read_surely(line, day, names) if sure else read_line(line, day, names)
        if isinstance(answer, Understood):
            mend = tell("Leave the row out, or say that it is so with --yes.")
            known = () if sure else told_twice(answer.facts, [*before.entries, *made], names)
            problems += (Problem(asked, mend, str(file), number, "line") for asked in known)
            made += [Entry(following(first, len(made) + at), day_number(each.day), each.fact, line, by)
                     for at, each in enumerate(answer.facts)]
            names = names_of(garden, fold([*before.entries, *made]))
        else:
            problems.append(_problem(answer, line).at(str(file), number, "line"))
    if problems:
        raise BadDiary(problems)
    return tuple(made)


def _read_surely(line: str, day: date, names: Names) -> Outcome:
    answers: dict[str, str] = {}
    outcome = read_line(line, day, names, answers)
    while isinstance(outcome, Asked) and outcome.question.about == DOUBT:
        answers[outcome.question.key] = SO
        outcome = read_line(line, day, names, answers)
    return outcome


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
        labels = ", ".join(choice.label for choice in outcome.question.choices)
        choices = tell(" It may be: {labels}.", labels=labels) if labels else ""
        return Problem(tell("'{line}' is not clear: {text}", line=line, text=outcome.question.text), tell(
                        "Write it so that it is.{choices}", choices=choices))
    assert isinstance(outcome, Refused)
    return Problem(f"'{line}': {outcome.why}", outcome.mend)
