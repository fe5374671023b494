"""Frozen records of plain values as JSON and back, by their own type hints.

pydantic does the same, but needs longer to come up than a whole answer may take.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

Reader = Callable[[Any], Any]
_KINDS: Mapping[Any, tuple[type, ...]] = {float: (int, float), int: (int,), str: (str,), bool: (bool,)}


def plain(value: Any) -> Any:
    """A record as objects, lists, text, numbers and null; dates as year-month-day."""
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple | list):
        return [plain(part) for part in value]
    if isinstance(value, dict):
        return {key: plain(part) for key, part in value.items()}
    return value.isoformat() if isinstance(value, date) else value


def read_plain(made: Any, shape: Any) -> Any:
    """The record that `plain` made the shape of; ValueError, TypeError or KeyError where it is of another."""
    return _reader(made)(shape)


@cache
def _reader(hint: Any) -> Reader:
    origin, parts = get_origin(hint), get_args(hint)
    if is_dataclass(hint) and isinstance(hint, type):
        return _record(hint)
    if origin is tuple:
        return _tuple(parts)
    if origin in (Union, UnionType):
        return _either(parts)
    if origin in (dict, Mapping):
        value_of = _reader(parts[1])
        return lambda shape: {key: value_of(part) for key, part in shape.items()}
    if hint is date:
        return date.fromisoformat
    if origin is Literal or hint in _KINDS:
        return _simple(parts if origin is Literal else (), hint)
    raise NotImplementedError(f"no way to read {hint}")


def _record(made: type[Any]) -> Reader:
    hints = get_type_hints(made, vars(sys.modules[made.__module__]))
    readers = [(field.name, _reader(hints[field.name])) for field in fields(made)]

    def read(shape: Any) -> Any:
        return made(**{name: part(shape[name]) for name, part in readers if name in shape})

    return read


def _tuple(parts: tuple[Any, ...]) -> Reader:
    if len(parts) == 2 and parts[1] is Ellipsis:
        each = _reader(parts[0])
        return lambda shape: tuple([each(part) for part in shape])
    readers = [_reader(part) for part in parts]
    return lambda shape: tuple(read(part) for read, part in zip(readers, shape, strict=True))


def _either(parts: tuple[Any, ...]) -> Reader:
    """A value or null; of several kinds the first that the shape fits."""
    readers = [_reader(part) for part in parts if part is not NoneType]

    def read(shape: Any) -> Any:
        if shape is None and NoneType in parts:
            return None
        for reader in readers[:-1]:
            try:
                return reader(shape)
            except (ValueError, TypeError, KeyError):
                continue
        return readers[-1](shape)

    return read


def _simple(words: tuple[Any, ...], kind: Any) -> Reader:
    def read(shape: Any) -> Any:
        if words:
            if shape not in words:
                raise ValueError(shape)
        elif not isinstance(shape, _KINDS[kind]) or (kind is not bool and isinstance(shape, bool)):
            raise TypeError(shape)
        return float(shape) if kind is float else shape

    return read
