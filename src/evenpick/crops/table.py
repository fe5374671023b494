"""A packaged table of the trade."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from importlib.resources import files


def rows(name: str) -> Iterator[dict[str, str]]:
    """Rows of a CSV file of data/, by column; lines that begin with # are remarks."""
    text = files("evenpick").joinpath("data", name).read_text(encoding="utf-8")
    yield from csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
