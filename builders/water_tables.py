"""FAO-56's water tables, from the transcription of published figures to packaged CSV.

    python builders/water_tables.py SHARED_DIR

Reads sections 1.3 to 1.5 of REFERENCES.md (allen1998, tables 11, 12, 17, 19, 22) and writes
src/evenpick/data/water/stages.csv, crops.csv and soils.csv; every row carries its tables and a mark
(read = seen in the source that the section names, memory = recalled). Units as printed: days, m, m³ m⁻³, mm.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

TARGET = Path(__file__).resolve().parents[1] / "src" / "evenpick" / "data" / "water"
CROP = ("row", "kc_ini", "kc_mid", "kc_end", "height", "kcb_ini", "kcb_mid", "kcb_end", "roots",
        "roots_deep", "p")
STAGES = ("row", "initial", "development", "middle", "late", "total", "planted", "region")
SOIL = ("texture", "fc_low", "fc_high", "wp_low", "wp_high", "rew_low", "rew_high", "tew_low", "tew_high")
PERENNIAL = ("artichokes", "asparagus", "mint", "strawberries")
"""perennials that the catalogue has no crop for"""


def section(text: str, number: str) -> list[list[str]]:
    """The cells of a section's table, without its head."""
    body = text.split(f"### {number} ", 1)[1].split("\n### ", 1)[0].split("\n## ", 1)[0]
    lines = [line for line in body.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def write(name: str, head: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    with (TARGET / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(head)
        writer.writerows(rows)


def soil_row(cells: Sequence[str]) -> list[str]:
    texture, fc, wp, _, rew, tew = cells
    return [texture, *fc.split("-"), *wp.split("-"), *rew.split("-"), *tew.split("-"), "allen1998 table 19",
            "read; tew memory"]


def main(shared: Path) -> None:
    text = (shared / "REFERENCES.md").read_text(encoding="utf-8")
    TARGET.mkdir(exist_ok=True)
    write("stages", (*STAGES, "source", "mark"),
          ([*cells, "allen1998 table 11", "read"] for cells in section(text, "1.3")))
    write("crops", (*CROP, "source", "mark"),
          ([*cells, "allen1998 tables 12, 17, 22", "read"] for cells in section(text, "1.4")
           if cells[0] not in PERENNIAL))
    write("soils", (*SOIL, "source", "mark"), map(soil_row, section(text, "1.5")))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
