"""Writes src/evenpick/data/crop_words.csv from the catalogue: `python builders/crop_words.py`."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from evenpick.crops.catalogue import load_catalogue

TARGET = Path(__file__).resolve().parents[1] / "src/evenpick/data/crop_words.csv"
COLUMNS = ("key", "name", "american", "aliases", "ways", "in_row_m", "row_m", "layout", "piece", "kg_per_m2",
           "piece_kg")


def table() -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for crop in load_catalogue().crops:
        ways, spacing = "|".join(way.name for way in crop.ways), crop.spacing
        writer.writerow(
            (
                crop.key,
                crop.name,
                crop.american,
                "|".join(crop.aliases),
                ways,
                spacing.in_row,
                spacing.row,
                spacing.layout,
                crop.produce.piece,
                crop.produce.kg_per_m2,
                crop.produce.piece_kg,
            )
        )
    return out.getvalue()


if __name__ == "__main__":
    TARGET.write_text(table(), encoding="utf-8")
