"""A diary as one CSV table and back (docs/formats/diary-csv.md): one row an entry, one column a field."""

from __future__ import annotations

import csv
import hashlib
import io
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import MISSING, fields
from types import NoneType
from typing import Any

from evenpick.base.errors import BadDiary, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.garden.diary import Corrected, Entry
from evenpick.garden.diary_bounds import Bounds, refuse_beyond
from evenpick.garden.diary_json import KINDS, OWN_NAMES, Json, allowed, entry_json, read_entry
from evenpick.garden.table_text import day_text, decimal, delimiter_of, read_day

ENTRY = ("id", "day", "kind", "note", "by")
CORRECTION = {"entry": "corrects", "after": "upon", "day": "corrected_day", "kind": "corrected_kind"}
"""field of a correction → its column; the corrected fact's own fields stand in theirs"""
DAYS = ("day", "until", "sow", "corrected_day")
ALSO_CALLED = {"date": "day", "notes": "note"}
DAY_MS = 86_400_000
LONGEST = 2**24
"""characters of a cell: a garden file or a layout is one"""


def _fact_columns() -> Mapping[str, tuple[Any, ...]]:
    """Column → the types or words that it takes; a name means the same in every kind that has it."""
    found: dict[str, tuple[Any, ...]] = {}
    for kind, made in KINDS.items():
        if made is not Corrected:
            takes = {name: words for name, words in allowed(kind).items() if name != "kind"}
            found |= {OWN_NAMES.get(name, name): words for name, words in takes.items()}
    return found


FACTS = _fact_columns()
COLUMNS = (*ENTRY, *FACTS, *CORRECTION.values())


def write_csv(entries: Iterable[Entry]) -> str:
    """The table of a diary: RFC 4180, all columns, a field not said left empty."""
    out = io.StringIO()
    rows = csv.DictWriter(out, COLUMNS, restval="", lineterminator="\r\n")
    rows.writeheader()
    for entry in entries:
        rows.writerow({name: _cell(value) for name, value in _flat(entry_json(entry)).items()})
    return out.getvalue()


def _flat(shape: Json) -> Json:
    correction = shape.pop("correction", None)
    if correction is None:
        return shape
    fact = correction.pop("fact")
    return {**shape, **{CORRECTION[name]: value for name, value in correction.items()},
            CORRECTION["kind"]: fact.pop("kind"), **fact}


def _cell(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return "" if value is None else repr(value) if isinstance(value, float) else str(value)


def read_csv(
    text: str, file: str, crops: Collection[str] | None = None, bounds: Bounds | None = None
) -> tuple[Entry, ...]:
    """The entries of a table; columns in any order, those not needed may be left out.

    A row without an id gets one made of its words, so that the same table read twice is the same entries.
    BadDiary with every fault's line and column; also for a crop that is none of `crops`, keys of the
    catalogue, where they are told, and for a day or an amount beyond `bounds`.
    """
    return read_rows(*_table(text, file), file, crops, bounds)


def read_rows(
    heads: Sequence[str], rows: Iterable[tuple[int, Sequence[str]]], file: str,
    crops: Collection[str] | None = None, bounds: Bounds | None = None,
) -> tuple[Entry, ...]:
    """As `read_csv`, of rows taken apart already, each with its line."""
    problems: list[Problem] = []
    entries: list[Entry] = []
    seen: Counter[str] = Counter()
    for line, cells in rows:
        try:
            if len(cells) > len(heads):
                raise BadDiary(Problem(tell("the row has more cells than there are headings."),
                                       tell("Mend its commas.")))
            row = {name: day_text(cell.strip()) if name in DAYS else
                   cell.strip() if name in ("id", "kind") else cell
                   for name, cell in zip(heads, cells, strict=False) if cell != ""}
            if "day" in row:
                read_day(row["day"])  # who keeps the table in a spreadsheet is told what that did to it
            entries.append(read_entry(_identified(_deep(row), seen)))
            refuse_unknown_crop(entries[-1], crops)
            if bounds is not None:
                refuse_beyond(entries[-1], bounds)
        except BadDiary as error:
            problems += [problem.at(file, line) for problem in error.problems]
    if problems:
        raise BadDiary(problems)
    return tuple(entries)


def refuse_unknown_crop(entry: Entry, crops: Collection[str] | None) -> None:
    """BadDiary for an entry, or a correction, of a crop that nobody here knows: every later answer would fail
    on it."""
    fact = entry.fact.fact if isinstance(entry.fact, Corrected) else entry.fact
    crop = getattr(fact, "crop", None)
    if crops is not None and crop is not None and crop not in crops:
        raise BadDiary(Problem(
            tell("'{name}' is not in the catalogue.", name=crop),
            did_you_mean(crop, crops) or tell("Crops go by their key here, such as early-carrot."),
            field="crop",
        ))


def _table(text: str, file: str) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """Headings, and the rows that are not empty with the line each begins on."""
    csv.field_size_limit(LONGEST)
    apart = delimiter_of(text)
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True, delimiter=apart)
    rows: list[tuple[int, list[str]]] = []
    begins = 1
    try:
        for cells in reader:
            if any(cells):
                rows.append((begins, cells))
            begins = reader.line_num + 1
    except csv.Error as error:
        mend = tell("Put cells with commas or quotation marks in quotation marks.")
        raise BadDiary(Problem(tell("this is no CSV ({error}).", error=error), mend, file, begins)) from error
    if not rows:
        raise BadDiary(Problem(tell("the table is empty."), tell("Its first line is {entry},...",
                                                           entry=",".join(ENTRY)), file, 1))
    heads = [_head(cell.strip()) for cell in rows[0][1]]
    refuse_heads(heads, file, rows[0][0])
    numbers = {at for at, head in enumerate(heads) if float in FACTS.get(head, ())}
    return heads, [(line, [decimal(cell, apart) if at in numbers else cell for at, cell in enumerate(cells)])
                   for line, cells in rows[1:]]


def _head(cell: str) -> str:
    """A heading as it is known: large letters are the spreadsheet's."""
    small = cell.casefold()
    return small if small in COLUMNS else ALSO_CALLED.get(small, cell)


def refuse_heads(heads: Sequence[str], file: str, line: int) -> None:
    problems = [
        Problem(tell("no column is called '{name}'.",
                     name=name), did_you_mean(name, COLUMNS) or tell("Take it out."), file, line)
        for name in heads if name not in COLUMNS
    ]
    problems += [Problem(tell("the column '{name}' is there twice.",
                              name=name), tell("Keep one."), file, line)
                 for name, times in Counter(heads).items() if times > 1]
    problems += [Problem(tell("the column '{name}' is missing.",
                              name=name), tell("Every entry needs it."), file, line)
                 for name in ("day", "kind") if name not in heads]
    if problems:
        raise BadDiary(problems)


def _deep(row: Mapping[str, str]) -> Json:
    """The JSON shape of a row."""
    kind = row.get("kind", "")
    if kind not in KINDS:
        return {**row, "kind": kind}
    shape: Json = {name: row[name] for name in ENTRY if name in row}
    if KINDS[kind] is not Corrected:
        return shape | _typed(kind, {name: cell for name, cell in row.items() if name not in ENTRY})
    own = {name: row[column] for name, column in CORRECTION.items() if column in row}
    fact = {"kind": own.pop("kind", "")}
    others = {name: cell for name, cell in row.items() if name in FACTS}
    fact |= _typed(fact["kind"], others) if fact["kind"] in KINDS else others
    return {**shape, "correction": {**own, "fact": fact}}


def _typed(kind: str, cells: Mapping[str, str]) -> Json:
    shape: Json = {name: _value(name, cell) for name, cell in cells.items()}
    return {**dict(_unsaid(kind)), **shape}


def _unsaid(kind: str) -> Iterator[tuple[str, None]]:
    """Needed fields that may be None: an empty cell says so."""
    for field in fields(KINDS[kind]):
        if field.default is MISSING and NoneType in allowed(kind)[field.name]:
            yield field.name, None


def _value(name: str, cell: str) -> Any:
    """A cell as its column's type; what does not fit is left as it is and refused by the strict reading."""
    takes = FACTS.get(name, (str,))
    if bool in takes:
        return {"true": True, "false": False}.get(cell.strip().casefold(), cell)
    if float in takes or (int in takes and name not in DAYS):
        try:
            number = float(cell)
        except ValueError:
            return cell
        return int(number) if float not in takes and number.is_integer() else number
    return cell


def _identified(shape: Json, seen: Counter[str]) -> Json:
    """The shape with an id: of its day and its words, and of how often the table has them."""
    if "id" in shape:
        return shape
    words = repr(sorted(shape.items(), key=lambda item: item[0]))
    seen[words] += 1
    entry = read_entry({**shape, "id": "0" * 32})
    moment = min(max(entry.day * DAY_MS, 0), 16**12 - 1)
    chance = hashlib.sha256(f"{words} {seen[words]}".encode()).hexdigest()[:20]
    return {**shape, "id": f"{moment:012x}{chance}"}


def table_schema(file: str) -> Json:
    """The table's description in the form of Table Schema (specs.frictionlessdata.io/table-schema)."""
    return {
        "name": file, "primaryKey": ["id"], "missingValues": [""],
        "fields": [_described(name) for name in COLUMNS],
    }


def _described(name: str) -> Json:
    takes = FACTS.get(name, (str,))
    words = [word for word in takes if isinstance(word, str)]
    kinds = list(KINDS)
    if name in ("kind", "corrected_kind"):
        words = kinds if name == "kind" else [kind for kind in kinds if kind not in ("corrected", "undid")]
    shape: Json = {"name": name, "type": _type(name, takes)}
    rules: Json = {"enum": words} if words else {}
    if name in ("id", "day", "kind"):
        rules["required"] = True
    return {**shape, "constraints": rules} if rules else shape


def _type(name: str, takes: tuple[Any, ...]) -> str:
    if name in DAYS:
        return "date"
    found = [word for kind, word in ((bool, "boolean"), (float, "number"), (int, "integer")) if kind in takes]
    return found[0] if found else "string"

