"""Bodies of entries read strictly."""

from __future__ import annotations

import json

from evenpick.base.errors import EvenpickError
from evenpick.garden.diary import Entry
from evenpick.garden.diary_json import read_entry


def readable(body: object) -> Entry | None:
    """The entry that a body is by all the rules; None where it is none: a book that was cut off gives rows
    whose body is nothing at all."""
    if not isinstance(body, str):
        return None
    try:
        return read_entry(json.loads(body))
    except (ValueError, RecursionError, EvenpickError):
        return None


def of_first_form(body: str) -> str:
    """A body of the book's first form, which had one name for two fields, as it is kept now; what is no JSON
    object stays as it is."""
    try:
        shape = json.loads(body)
    except (ValueError, RecursionError):
        return body
    if isinstance(shape, dict) and shape.get("kind") == "lost" and "by" in shape:
        shape["lost_to"] = shape.pop("by")
    return json.dumps(shape)
