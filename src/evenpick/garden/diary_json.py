"""Entries as plain JSON objects and back: {"id", "day", "kind", the fact's own fields, "note", "by"}.

Fields at their default are left out. Reading is strict: an unknown kind or field, a wrong type or a number
out of bounds is a fault with its field, for a file may come from anywhere. What the own book holds was read
strictly before it was kept, and comes back by `trusted_entry` without the checks.
"""

from __future__ import annotations

import math
import re
import sys
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, Field, fields
from datetime import date
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, TypeAlias, Union, get_args, get_origin, get_type_hints

from evenpick.base.days import EPOCH, day_date, parse_date
from evenpick.base.errors import BadDiary, BadRequest, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.garden import diary
from evenpick.garden.diary import Corrected, Entry, Fact, Sowed, Undid

KINDS: Mapping[str, type[Any]] = {fact.kind: fact for fact in get_args(diary.Fact)}
SHARES = ("share", "germination")
DAYS = ("day", "until", "sow")
COUNTS = ("area", "seeds", "grams", "kg", "pieces", "litres", "rain", "tried", "came", "days")
Json: TypeAlias = dict[str, Any]
OWN_NAMES = {"by": "lost_to"}
"""field of a fact → its name here, where the entry's own would hide it"""
_CALLED = {float: "a number", int: "a whole number", str: "text", bool: "true or false"}
_EPOCH = EPOCH.toordinal()
_ID = re.compile(r"[0-9a-f]{32}")


def fact_json(fact: Fact) -> Json:
    """The fact's kind and every field that is not at its default."""
    shape: Json = {"kind": fact.kind}
    for field in fields(fact):
        value = getattr(fact, field.name)
        if field.default is not MISSING and value == field.default:
            continue
        shape[OWN_NAMES.get(field.name, field.name)] = _plain(field.name, value)
    return shape


def _plain(name: str, value: Any) -> Any:
    if name == "fact":
        return fact_json(value)
    return day_date(value).isoformat() if name in DAYS else value


def entry_json(entry: Entry) -> Json:
    shape: Json = {"id": entry.id, "day": day_date(entry.day).isoformat(), **_body(entry)}
    shape |= {name: text for name, text in (("note", entry.note), ("by", entry.by)) if text}
    return shape


def _body(entry: Entry) -> Json:
    """A correction's own day would hide the entry's, so its fact stands whole under one name."""
    if isinstance(entry.fact, Corrected):
        own = fact_json(entry.fact)
        return {"kind": own.pop("kind"), "correction": own}
    return fact_json(entry.fact)


def read_entry(shape: object) -> Entry:
    """An entry from a JSON object; BadDiary with every fault's field."""
    if not isinstance(shape, dict):
        raise BadDiary(Problem(tell("an entry is not a JSON object."),
                               tell('It has "id", "day" and "kind".')))
    body = dict(shape)
    identity, day = body.pop("id", None), body.pop("day", None)
    note, by = body.pop("note", ""), body.pop("by", "")
    if not isinstance(identity, str) or not _ID.fullmatch(identity):
        raise BadDiary(Problem(tell("{identity!r} is no id.",
                                    identity=identity), tell("An id is 32 hexadecimal digits."), field="id"))
    for name, text in (("note", note), ("by", by)):
        if not isinstance(text, str):
            raise BadDiary(Problem(tell("{name} is no text.", name=name), tell("Put it in quotes."),
                                   field=name))
        _writable(name, text)
    return Entry(identity, _day(day, "day"), _fact_of_body(body), note, by)


def trusted_entry(shape: Json) -> Entry:
    """An entry from a JSON object that `entry_json` made of a checked one; any other exception but BadDiary
    tells that it was not."""
    identity, day = shape.pop("id"), date.fromisoformat(shape.pop("day")).toordinal() - _EPOCH
    note, by = shape.pop("note", ""), shape.pop("by", "")
    kind = shape.pop("kind")
    return Entry(identity, day, _trusted_fact(kind, shape.pop("correction", shape)), note, by)


def _trusted_fact(kind: str, values: Json) -> Fact:
    if "lost_to" in values:
        values["by"] = values.pop("lost_to")
    for name in DAYS:
        if name in values and values[name] is not None:
            values[name] = date.fromisoformat(values[name]).toordinal() - _EPOCH
    if "fact" in values:
        inner = values["fact"]
        values["fact"] = _trusted_fact(inner.pop("kind"), inner)
    fact: Fact = KINDS[kind](**values)
    return fact


def _fact_of_body(body: Json) -> Fact:
    if body.get("kind") == Corrected.kind and isinstance(body.get("correction"), dict):
        return read_fact({"kind": Corrected.kind, **body["correction"]})
    return read_fact(body)


def read_fact(shape: Mapping[str, Any]) -> Fact:
    """A fact from its JSON fields; BadDiary with every fault's field."""
    kind = shape.get("kind")
    if not isinstance(kind, str) or kind not in KINDS:
        hint = did_you_mean(str(kind), KINDS) or tell("It may come from a newer version of evenpick.")
        raise BadDiary(Problem(tell("the kind {kind!r} is not known.", kind=kind), hint, field="kind"))
    made = KINDS[kind]
    known = {OWN_NAMES.get(field.name, field.name): field for field in fields(made)}
    problems = [
        Problem(tell("'{kind}' has no field '{name}'.", kind=kind,
                     name=name), did_you_mean(name, known), field=name)
        for name in shape if name != "kind" and name not in known
    ]
    values: Json = {}
    for name, field in known.items():
        try:
            values |= _value(name, field, made, shape)
        except BadDiary as error:
            problems += [problem.at(field=name) for problem in error.problems]
    if problems:
        raise BadDiary(problems)
    fact: Fact = made(**values)
    _refuse_bought_seed(fact)
    return fact


def _refuse_bought_seed(fact: Fact) -> None:
    if isinstance(fact, Sowed) and fact.bought and fact.way != "raised":
        raise BadDiary(Problem(
            tell("plants that were bought were raised, not {way}.", way=tell(fact.way)),
            tell("Give the way as raised; seed, sets, cloves and tubers that were bought are sown or planted "
                 "as usual."),
            field="bought",
        ))


def _value(name: str, field: Field[Any], made: type[Any], shape: Mapping[str, Any]) -> Json:
    if name not in shape:
        if field.default is MISSING:
            raise BadDiary(Problem(tell("'{kind}' needs '{name}'.", kind=made.kind,
                                        name=name), tell("Add it."), field=name))
        return {}
    value = shape[name]
    if field.name == "fact":
        return {field.name: _corrected_fact(value)}
    if field.name in DAYS:
        return {field.name: None if value is None and field.name != "day" else _day(value, field.name)}
    if value == "" and field.default is MISSING:
        raise BadDiary(Problem(tell("'{name}' is empty.", name=name),
                               tell("'{kind}' needs it.", kind=made.kind), field=name))
    return {field.name: _checked(name, value, allowed(made.kind)[field.name])}


def _corrected_fact(shape: object) -> Fact:
    if not isinstance(shape, dict):
        raise BadDiary(Problem(tell("the corrected fact is no JSON object."),
                               tell("Write its kind and fields.")))
    if shape.get("kind") in (Corrected.kind, Undid.kind):
        what = tell("what is corrected can't become '{shape}'.", shape=shape["kind"])
        raise BadDiary(Problem(what, tell("Correct the first entry itself, or undo it.")))
    return read_fact(shape)


def _day(value: object, name: str) -> int:
    if not isinstance(value, str):
        raise BadDiary(Problem(tell("{name} is no date.", name=name), tell("Write it such as 2027-03-14."),
                               field=name))
    try:
        return parse_date(value, name)
    except BadRequest as error:
        raise BadDiary(problem.at(field=name) for problem in error.problems) from error


@cache
def allowed(kind: str) -> Mapping[str, tuple[Any, ...]]:
    """The types or words that each field of a kind takes."""
    hints = get_type_hints(KINDS[kind], vars(diary))
    return {name: tuple(_flat(hint)) for name, hint in hints.items()}


def _flat(hint: Any) -> Iterator[Any]:
    origin = get_origin(hint)
    if origin in (Union, UnionType):
        for part in get_args(hint):
            yield from _flat(part)
    elif origin is Literal:
        yield from get_args(hint)
    else:
        yield hint


def _checked(name: str, value: Any, allowed: tuple[Any, ...]) -> Any:
    words = [word for word in allowed if isinstance(word, str)]
    types = {kind for kind in allowed if isinstance(kind, type)}
    if value is None and NoneType in types:
        return None
    if words and isinstance(value, str):
        if value in words:
            return value
        hint = did_you_mean(value, words) or tell("It is one of {words}.", words=", ".join(words))
        raise BadDiary(Problem(tell("{name} can't be '{value}'.", name=name, value=value), hint))
    if isinstance(value, bool):
        if bool in types:
            return value
    elif isinstance(value, (int, float)) and types & {int, float}:
        return _number(name, value, float in types)
    elif isinstance(value, str) and str in types:
        return _text(name, value, NoneType in types)
    wanted = sorted({_CALLED[kind] for kind in types if kind is not NoneType} or set(words))
    raise BadDiary(Problem(tell("{name} can't be {value!r}.", name=name,
                                value=value), tell("Give {wanted}.", wanted=" or ".join(wanted))))


def _text(name: str, text: str, may_be_none: bool) -> str | None:
    """What may be left unsaid and is empty was left unsaid."""
    return None if may_be_none and not text else _writable(name, text)


def _writable(name: str, text: str) -> str:
    """Half a surrogate pair comes through JSON's escapes, but no UTF-8 can hold it."""
    try:
        text.encode()
    except UnicodeEncodeError as error:
        what = tell("{name} holds a sign that is no letter (U+{ord:04X}).", name=name,
                    ord=ord(text[error.start]))
        raise BadDiary(Problem(what, tell("Take it out."), field=name)) from error
    return text


def _number(name: str, value: float, whole_or_not: bool) -> float:
    low = 0.0 if name in (*SHARES, *COUNTS) else -math.inf
    high = 1.0 if name in SHARES else math.inf
    if not low <= value <= high or abs(value) > sys.float_info.max:
        raise BadDiary(Problem(tell("{name} can't be {value}.", name=name,
                                    value=value), tell("Give a number from {low:g} to {high:g}.",
                                                                 low=low, high=high)))
    if whole_or_not:
        return float(value)
    if value != int(value):
        raise BadDiary(Problem(tell("{name} can't be {value}.", name=name,
                                    value=value), tell("Give a whole number.")))
    return int(value)
