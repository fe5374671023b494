"""A whole garden as one JSON document and back (docs/formats/garden-json.md)."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from evenpick.base.errors import BadDiary, Problem
from evenpick.base.language import tell
from evenpick.garden.diary import Entry
from evenpick.garden.diary_json import entry_json, read_entry

MARK, FORM = "evenpick garden", 3
PARTS = ("document", "form", "garden", "plan", "diary")


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """The plan kept with a garden, unread."""

    made: str
    """moment it was made, ISO 8601 in UTC with microseconds"""
    garden: str
    """digest of the garden file that it was made from"""
    body: str
    """the plan as JSON"""


@dataclass(frozen=True, slots=True)
class Document:
    garden: str | None
    """the garden file's text"""
    plan: KeptPlan | None
    diary: tuple[Entry, ...]


def write_document(document: Document) -> str:
    """The document as text, one entry a line; the same garden always gives the same bytes."""
    plan = document.plan
    kept = None if plan is None else {"made": plan.made, "garden": plan.garden, "plan": json.loads(plan.body)}
    diary = sorted(document.diary, key=lambda entry: entry.id)
    lines = ",\n".join(_text(entry_json(entry)) for entry in diary)
    return (
        f'{{"document": {_text(MARK)}, "form": {FORM},\n"garden": {_text(document.garden)},\n'
        f'"plan": {_text(kept)},\n"diary": [\n{lines}\n]}}\n'
    )


def _text(shape: Any) -> str:
    return json.dumps(shape, ensure_ascii=False, allow_nan=False)


def read_document(text: str, file: str) -> Document:
    """A document from text; BadDiary with every fault's line and field."""
    shape = _object(text, file)
    garden, plan, diary = shape.get("garden"), shape.get("plan"), shape.get("diary")
    if not isinstance(garden, str | None):
        raise BadDiary(Problem(tell("the garden is no text."), tell("It is the garden file's."), file,
                               field="garden"))
    if not isinstance(diary, list):
        raise BadDiary(Problem(tell("the diary is no list."), tell("It is a list of entries."), file,
                               field="diary"))
    problems: list[Problem] = []
    entries: dict[str, Entry] = {}
    for number, each in enumerate(diary, 1):
        try:
            entry = read_entry(each)
            if entries.setdefault(entry.id, entry) != entry:
                raise BadDiary(Problem(tell("another entry has this id."), tell("Give one a new id."),
                                       field="id"))
        except BadDiary as error:
            problems += _placed(error, text, file, number, each)
    if problems:
        raise BadDiary(problems)
    return Document(garden, _plan(plan, file), tuple(entries.values()))


def _placed(error: BadDiary, text: str, file: str, number: int, shape: object) -> Iterator[Problem]:
    identity = shape.get("id") if isinstance(shape, dict) else None
    at = text.find(f'"{identity}"') if isinstance(identity, str) and identity else -1
    line = text.count("\n", 0, at) + 1 if at >= 0 else None
    for problem in error.problems:
        parts = (f"entry {number} of the diary", problem.field)
        yield problem.at(file, line, ", ".join(part for part in parts if part))


def _object(text: str, file: str) -> dict[str, Any]:
    try:
        shape = json.loads(text.removeprefix("\ufeff"))
    except json.JSONDecodeError as error:
        raise BadDiary(Problem(tell("this is no JSON ({msg}).",
                                    msg=error.msg), tell("Take the file as it was written."), file,
                               error.lineno)) from error
    except RecursionError as error:
        raise BadDiary(Problem(tell("this JSON is nested without end."), tell("It is no garden's."),
                               file)) from error
    if not isinstance(shape, dict) or shape.get("document") != MARK:
        mend = f'It begins with {{"document": "{MARK}" and is written by: evenpick export'
        raise BadDiary(Problem(tell("this is no garden's document."), mend, file))
    form = shape.get("form")
    if not isinstance(form, int) or form > FORM:
        mend = tell("Bring this evenpick up to date.")
        raise BadDiary(Problem(tell("the form {form} is not known here ({form_2} is).", form=form,
                                    form_2=FORM), mend, file, field="form"))
    unknown: Iterable[str] = sorted(set(shape) - set(PARTS))
    if unknown:
        raise BadDiary(Problem(tell("nothing is called '{name}' here.",
                                    name=name), tell("Take it out."), file, field=name)
                       for name in unknown)
    return shape


def _plan(shape: object, file: str) -> KeptPlan | None:
    if shape is None:
        return None
    if isinstance(shape, dict) and isinstance(shape.get("plan"), dict):
        made, garden = shape.get("made"), shape.get("garden")
        if isinstance(made, str) and isinstance(garden, str):
            body = json.dumps(shape["plan"], ensure_ascii=False, separators=(",", ":"))
            return KeptPlan(made, garden, body)
    raise BadDiary(Problem(tell("the plan is not whole."), tell("Write null for it; make it again."), file,
                           field="plan"))
