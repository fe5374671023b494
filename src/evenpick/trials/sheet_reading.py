"""Reading a record sheet; every fault is told with its line and field (docs/formats/trial-csv.md)."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from math import isfinite

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.errors import BadTrial, Problem, did_you_mean
from evenpick.base.language import tell, tell_n
from evenpick.trials.layout import Plot, name_of
from evenpick.trials.sheet import NEEDED, PLACE, WORDS, Measure, Row, Sheet, measure_of

TOLD = ("trial", "standard", "seed", "guard_m")
SHOWN = 20
"""faults written out"""
SCORES = (1.0, 5.0)
LARGEST = 1e6


def read_sheet(text: str, file: str) -> Sheet:
    """The sheet of a CSV text. BadTrial with its faults by file, line and field; twenty written out."""
    faults = Faults(file)
    head, names, lines = _split(text.removeprefix("\ufeff"), faults)
    measures = _measures(names, faults)
    faults.raise_any()
    rows = tuple(_rows(names[1], measures, lines, faults))
    told = _told(head)
    standard = name_of(told["standard"]) if told.get("standard") else None
    _check_rows(rows, standard, faults)
    faults.raise_any()
    seed = told.get("seed", "")
    return Sheet(
        told.get("trial") or file.removesuffix(".csv"),
        standard,
        int(seed) if seed.isdecimal() else DEFAULT_SEED,
        rows,
        measures,
        head,
    )


class Faults:
    """Every problem found in one sheet."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []

    def add(self, what: str, mend: str, line: int | None = None, field: str | None = None) -> None:
        self.problems.append(Problem(what, mend, self.file, line, field))

    def raise_any(self) -> None:
        more = len(self.problems) - SHOWN
        if self.problems:
            shown = self.problems[:SHOWN]
            rest = [Problem(tell("and {more} more like these.",
                                 more=more), tell("Mend the first ones and look again."), self.file)]
            raise BadTrial([*shown, *(rest if more > 0 else [])])


def _split(
    text: str, faults: Faults
) -> tuple[tuple[str, ...], tuple[int, tuple[str, ...]], list[tuple[int, list[str]]]]:
    """(comment lines, (line of the header, its names), [(line, cells)])."""
    lines = text.splitlines()
    head = tuple(line for line in lines if line.startswith("#"))
    reader = csv.reader(["" if line.startswith("#") else line for line in lines], strict=True)
    cells: list[tuple[int, list[str]]] = []
    try:
        cells.extend(
            (reader.line_num, [cell.strip() for cell in row])
            for row in reader
            if any(cell.strip() for cell in row)
        )
    except csv.Error as error:
        faults.add(tell("this line can't be read as CSV ({error}).",
                        error=error), tell("Close the quotes."), reader.line_num)
        faults.raise_any()
    if not cells:
        faults.add(tell("the sheet is empty."), tell("Write one with: evenpick trial lay"))
        faults.raise_any()
    line, names = cells[0]
    if len(names) == 1 and (";" in names[0] or "\t" in names[0]):
        faults.add(
            tell("the columns are not separated by commas."),
            tell("Separate them by commas and write numbers with a decimal point."),
            line,
        )
        faults.raise_any()
    return head, (line, tuple(name.lower() for name in names)), cells[1:]


def _told(head: Iterable[str]) -> dict[str, str]:
    pairs = (line.lstrip("# ").partition(":") for line in head)
    return {key.strip(): value.strip() for key, _, value in pairs if key.strip() in TOLD}


def _measures(head: tuple[int, tuple[str, ...]], faults: Faults) -> tuple[Measure, ...]:
    line, names = head
    for name in NEEDED:
        if name not in names:
            faults.add(tell("there is no column {name}.", name=name), tell("The header begins {place}.",
                                                           place=",".join(PLACE)), line)
    found: list[Measure] = []
    for name in names:
        if names.count(name) > 1 and name not in [measure.column for measure in found]:
            faults.add(tell("the column '{name}' stands twice.",
                            name=name[:40]), tell("Keep one of them."), line)
        if name not in (*PLACE, *WORDS):
            try:
                found.append(measure_of(name))
            except BadTrial as error:
                faults.problems += [
                    problem.at(faults.file, line, name or "a column without a name")
                    for problem in error.problems
                ]
    if ("came_up" in names) != ("sown" in names):
        faults.add(tell("came_up and sown stand together."), tell("Add the other column: so many of so many "
                                                            "sown."), line)
    return tuple(found)


def _rows(
    names: Sequence[str], measures: Sequence[Measure], lines: Sequence[tuple[int, list[str]]], faults: Faults
) -> Iterator[Row]:
    for line, cells in lines:
        if len(cells) != len(names):
            faults.add(
                tell_n("{n} cell stands under {names} columns.",
                       "{n} cells stand under {names} columns.", len(cells), names=len(names)),
                tell("Give every column its cell; a decimal comma makes two of one."),
                line,
            )
            continue
        row = _Cells(dict(zip(names, cells, strict=True)), line, faults)
        plot = Plot(
            row.whole("plot"),
            row.words("block"),
            name_of(row.words("variety")),
            row.cells.get("bed") or None,
            row.number("from_m", 0),
            row.number("to_m", 0),
        )
        values = {measure.column: _value(row, measure) for measure in measures}
        _check_lost(row, values)
        _check_came_up(row, values)
        yield Row(plot, values, row.cells.get("lost", ""), row.cells.get("note", ""), line)


class _Cells:
    """The cells of one line by column; a fault is noted and gives its stand-in."""

    def __init__(self, cells: Mapping[str, str], line: int, faults: Faults) -> None:
        self.cells, self.line, self.faults = cells, line, faults

    def note(self, column: str, what: str, mend: str) -> None:
        self.faults.add(what, mend, self.line, column)

    def words(self, column: str) -> str:
        if not self.cells[column]:
            self.note(column, tell("the cell is empty."), tell("Every plot has a {column}.", column=column))
        return self.cells[column]

    def whole(self, column: str) -> int:
        if not (self.cells[column].isascii() and self.cells[column].isdigit()):
            self.note(
                column, tell("'{cells}' is not a whole number.",
                             cells=self.cells[column][:40]), tell("Number the plots from 1 on.")
            )
            return 0
        return int(self.cells[column][:9])

    def number(self, column: str, low: float, high: float = LARGEST) -> float | None:
        """None for a blank: not measured."""
        text = self.cells.get(column, "")
        if not text:
            return None
        try:
            value = float(text)
        except ValueError:
            mend = tell("Write the bare number, with a decimal point; leave the cell empty if it was not "
                        "measured.")
            self.note(column, tell("'{text}' is not a number.", text=text[:40]), mend)
            return None
        if not isfinite(value) or not low <= value <= high:
            self.note(column, tell("{text} is out of bounds.", text=text[:40]), tell(
                        "Write a number from {low:g} to {high:g}.", low=low, high=high))
            return None
        return value


def _value(row: _Cells, measure: Measure) -> float | None:
    low, high = SCORES if measure.kind == "score" else (0.0, LARGEST)
    value = row.number(measure.column, low, high)
    if value is not None and measure.kind in ("count", "came up") and value != int(value):
        row.note(measure.column, tell("{value:g} is not a whole number.",
                                      value=value), tell("Count whole ones."))
    return value


def _check_lost(row: _Cells, values: Mapping[str, float | None]) -> None:
    if not row.cells.get("lost"):
        return
    given = [column for column, value in values.items() if value is not None]
    if given:
        row.note(
            "lost",
            tell("the plot is lost and yet has {given}.", given=given[0]),
            tell("Leave the measures of a lost plot empty, or 'lost' if it was measured after all."),
        )


def _check_came_up(row: _Cells, values: Mapping[str, float | None]) -> None:
    came, sown = values.get("came_up"), values.get("sown")
    if came is not None and sown is None:
        row.note("sown", tell("so many came up, but not of how many."), tell("Write how many were sown."))
    if sown is not None and (sown == 0 or (came is not None and came > sown)):
        row.note("came_up", tell("{came:g} of {sown:g} can't come up.", came=came or 0,
                                 sown=sown), tell("Check both counts."))


def _check_rows(rows: Sequence[Row], standard: str | None, faults: Faults) -> None:
    numbers = [row.plot.number for row in rows]
    spelt: dict[str, str] = {}
    for row in rows:
        if numbers.count(row.plot.number) > 1 and numbers.index(row.plot.number) != rows.index(row):
            faults.add(
                tell("plot {number} stands on another line too.", number=row.plot.number),
                tell("Give each plot one line."),
                row.line,
                "plot",
            )
        first = spelt.setdefault(row.plot.variety.casefold(), row.plot.variety)
        if first != row.plot.variety:
            faults.add(
                tell("'{variety}' and '{first}' differ in capitals alone.", variety=row.plot.variety,
                     first=first),
                tell("Write it one way."),
                row.line,
                "variety",
            )
    if standard is not None and standard not in spelt.values():
        faults.add(
            tell("the standard '{standard}' is in no plot.", standard=standard),
            did_you_mean(standard, spelt.values()) or tell("Name one of the varieties after '# standard:'."),
        )
    if not rows and not faults.problems:
        faults.add(tell("no plot is on the sheet."), tell("Write one line a plot."))


def against(sheet: Sheet, standard: str | None) -> Sheet:
    """The sheet held against another standard; BadTrial if it is not in the trial."""
    if standard is None:
        return sheet
    found = next((name for name in sheet.varieties if name.casefold() == name_of(standard).casefold()), None)
    if found is None:
        raise BadTrial(
            Problem(
                tell("'{standard}' is not in the trial.", standard=standard),
                did_you_mean(standard, sheet.varieties) or tell("It has {varieties}.",
                                                                varieties=", ".join(sheet.varieties)),
            )
        )
    return replace(sheet, standard=found)
