"""The names and spacings of the packaged crops alone, from a small table: a diary line can't wait for the
whole catalogue. builders/crop_words.py makes the table; a test holds it against the catalogue."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import cast

from evenpick.base.trade import WayName

TABLE = Path(__file__).resolve().parents[1] / "data" / "crop_words.csv"
"""importlib.resources would find it too, but takes longer to load than the table"""


@dataclass(frozen=True, slots=True)
class CropWords:
    """What a line of the diary needs of a crop; metres, kg."""

    key: str
    name: str
    american: str
    aliases: tuple[str, ...]
    ways: tuple[WayName, ...]
    in_row: float
    row: float
    layout: str
    piece: str
    kg_per_m2: float
    piece_kg: float


@lru_cache(maxsize=1)
def crop_words() -> Mapping[str, CropWords]:
    """By key, in the order of the catalogue."""
    text = TABLE.read_text(encoding="utf-8")
    return {row["key"]: _words(row) for row in csv.DictReader(text.splitlines())}


def _words(row: dict[str, str]) -> CropWords:
    ways = tuple(cast(WayName, way) for way in row["ways"].split("|"))
    aliases = tuple(alias for alias in row["aliases"].split("|") if alias)
    return CropWords(
        row["key"],
        row["name"],
        row["american"],
        aliases,
        ways,
        float(row["in_row_m"]),
        float(row["row_m"]),
        row["layout"],
        row["piece"],
        float(row["kg_per_m2"]),
        float(row["piece_kg"]),
    )
