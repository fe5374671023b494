"""Trials in the garden's book: a sheet taken into the diary, and written out of it again.

Rules: docs/design/trials.md, T26 to T28.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from evenpick.base.days import day_date, day_number
from evenpick.base.errors import BadTrial, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.garden.diary import Corrected, Entry, Fact, TrialLaid, TrialRecorded, Undid, new_id
from evenpick.garden.effective import counted, judged
from evenpick.service.book import keep
from evenpick.service.trials import read_trial, write_new
from evenpick.store.book import Book, book_path
from evenpick.trials.sheet import Row, Sheet, measure_of, write_rows
from evenpick.trials.sheet_reading import read_sheet

KINDS = frozenset((TrialLaid.kind, TrialRecorded.kind, Undid.kind, Corrected.kind))
LOST = "lost"


@dataclass(frozen=True, slots=True)
class KeptTrial:
    id: str
    """of the entry that laid it"""
    name: str
    laid: date
    """the day it was taken into the book"""
    plots: int
    recorded: int
    """figures, and plots called lost"""


@dataclass(frozen=True, slots=True)
class TakenIn:
    trial: KeptTrial
    new: int
    corrected: int


@dataclass(frozen=True, slots=True)
class _Kept:
    """What the book holds of one trial."""

    laid: Entry
    sheet: Sheet
    """its layout"""
    cells: Mapping[tuple[str, str], Entry]
    """by plot and column: the entry as it counts now"""
    heads: Mapping[str, str]
    """by entry: its last correction"""


def keep_trial(garden: Path, file: Path, day: date) -> TakenIn:
    """Take the sheet of a file into the book. BadTrial as in `take_in`, or where the file is no sheet."""
    return take_in(garden, read_trial(file), day, file)


def take_in(garden: Path, sheet: Sheet, day: date, file: Path) -> TakenIn:
    """Take a sheet into the book: its layout once, each figure once, changed ones as corrections.

    BadTrial, naming `file`, where the book has another layout of that name, or a figure of a plot that is
    lost here.
    """
    kept = next((one for one in _all(garden) if one.sheet.name == sheet.name), None)
    newest = Book(book_path(garden)).newest()
    laid = kept.laid if kept else _entry(
        newest, day, TrialLaid(sheet.name, write_rows(sheet.head, _bare(sheet), ())))
    if kept is not None:
        _check_same(kept, sheet, file)
    had = {} if kept is None else kept.cells
    heads = {} if kept is None else kept.heads
    new = [] if kept else [laid]
    for fact, why in _facts(sheet, laid.id):
        before = had.get((fact.plot, fact.measure))
        if before is None:
            new.append(_entry(newest, day, fact, why))
        elif before.fact != fact:
            new.append(_entry(newest, day, Corrected(before.id, before.day, fact, heads.get(before.id))))
    if new:
        keep(garden, new)
    corrected = sum(isinstance(entry.fact, Corrected) for entry in new)
    told = KeptTrial(
        laid.id,
        sheet.name,
        day_date(laid.day),
        len(sheet.rows),
        len(had) + len(new) - corrected - (kept is None),
    )
    return TakenIn(told, len(new) - corrected - (kept is None), corrected)


def kept_trials(garden: Path) -> tuple[KeptTrial, ...]:
    """Every trial of the book, the oldest first."""
    return tuple(_told(one) for one in _all(garden))


def write_out(garden: Path, name: str, file: Path) -> KeptTrial:
    """Writes the sheet of a kept trial to a new file. BadTrial where there is none, or the file is there."""
    found = _named(garden, name)
    sheet = _whole(found)
    write_new(file, write_rows(sheet.head, sheet.rows, [measure.column for measure in sheet.measures]))
    return _told(found)


def kept_sheet(garden: Path, name: str) -> Sheet:
    """The sheet of a kept trial with all that was recorded. BadTrial where the book has none of that name."""
    return _whole(_named(garden, name))


def _named(garden: Path, name: str) -> _Kept:
    every = _all(garden)
    found = next((one for one in every if one.sheet.name.casefold() == name.casefold()), None)
    if found is None:
        names = [one.sheet.name for one in every]
        mend = did_you_mean(name, names) or tell("It has {names}.",
                                                 names=", ".join(names) or tell("none yet"))
        raise BadTrial(Problem(tell("the book has no trial '{name}'.", name=name[:60]), mend))
    return found


def _whole(found: _Kept) -> Sheet:
    columns = [column for column in dict.fromkeys(column for _, column in found.cells) if column != LOST]
    rows = tuple(
        replace(
            row,
            values={column: _value(found, row.plot.number, column) for column in columns},
            lost=_lost(found, row.plot.number),
        )
        for row in found.sheet.rows
    )
    return replace(found.sheet, rows=rows, measures=tuple(measure_of(column) for column in columns))


def _value(kept: _Kept, plot: int, column: str) -> float | None:
    entry = kept.cells.get((str(plot), column))
    return entry.fact.value if entry is not None and isinstance(entry.fact, TrialRecorded) else None


def _lost(kept: _Kept, plot: int) -> str:
    entry = kept.cells.get((str(plot), LOST))
    return "" if entry is None else entry.note or LOST


def _all(garden: Path) -> list[_Kept]:
    diary = judged(Book(book_path(garden)).entries(KINDS))
    entries = counted(diary)
    heads = {entry: corrections[-1].id for entry, corrections in diary.heads.items()}
    return [
        _Kept(
            entry,
            read_sheet(entry.fact.layout, tell("{name}, in the book", name=entry.fact.name)),
            _cells(entries, entry.id),
            heads,
        )
        for entry in entries
        if isinstance(entry.fact, TrialLaid)
    ]


def _cells(entries: Iterable[Entry], trial: str) -> dict[tuple[str, str], Entry]:
    return {
        (entry.fact.plot, entry.fact.measure): entry
        for entry in sorted(entries, key=lambda one: one.id)
        if isinstance(entry.fact, TrialRecorded) and entry.fact.trial == trial
    }


def _facts(sheet: Sheet, trial: str) -> Iterable[tuple[TrialRecorded, str]]:
    """(what was recorded, in its own words) of every cell that holds something."""
    for row in sheet.rows:
        plot = str(row.plot.number)
        if row.lost:
            yield TrialRecorded(trial, plot, LOST, None), row.lost
        for measure in sheet.measures:
            value = row.values[measure.column]
            if value is not None:
                yield TrialRecorded(trial, plot, measure.column, value), ""


def _bare(sheet: Sheet) -> list[Row]:
    return [replace(row, values={}, lost="", note="") for row in sheet.rows]


def _check_same(kept: _Kept, sheet: Sheet, file: Path) -> None:
    if [row.plot for row in kept.sheet.rows] != [row.plot for row in sheet.rows]:
        raise BadTrial(
            Problem(
                tell("the book has a trial '{name}' with other plots.", name=sheet.name),
                tell("Give this one another name in its line '# trial:'."),
                str(file),
            )
        )
    for row in sheet.rows:
        plot = str(row.plot.number)
        held = [column for number, column in kept.cells if number == plot]
        clash = bool(row.lost) and any(column != LOST for column in held)
        clash = clash or (LOST in held and any(value is not None for value in row.values.values()))
        if clash:
            raise BadTrial(
                Problem(
                    tell("the plot is lost on one side and measured on the other, here and in the book."),
                    tell("Undo in the diary what was wrong."),
                    file.name,
                    row.line,
                    "lost",
                )
            )


def _told(kept: _Kept) -> KeptTrial:
    return KeptTrial(
        kept.laid.id, kept.sheet.name, day_date(kept.laid.day), len(kept.sheet.rows), len(kept.cells)
    )


def _entry(newest: str, day: date, fact: Fact, note: str = "") -> Entry:
    """After the `newest` of the book, whatever the clock says."""
    return Entry(new_id(after=newest), day_number(day), fact, note)
