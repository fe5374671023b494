"""Bodies of entries read strictly."""

from __future__ import annotations

import json

from evenpick.base.errors import EvenpickError
from evenpick.garden.diary import Entry
from evenpick.garden.diary_json import read_entry


def readable(body: str) -> Entry | None:
    """The entry that a body is by all the rules; None where it is none."""
    try:
        return read_entry(json.loads(body))
    except (ValueError, RecursionError, EvenpickError):
        return None
