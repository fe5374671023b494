"""Solve the thermal time of every crop from its anchors (growth D4).

    python builders/thermal_times.py

Each anchor ("sown here on this day, first picked after so many days") is pushed through the model in the
weather of its own place: the packaged daily record of that name, or the nearest station's normals through
the generator. Several anchors of one crop are solved together (outlook/anchors.py). Writes
src/evenpick/data/thermal_times.csv.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.anchor_climate import anchor_settings
from evenpick.outlook.anchors import solve_thermal_time, together

TARGET = Path(__file__).resolve().parents[1] / "src" / "evenpick" / "data" / "thermal_times.csv"


def main() -> None:
    settings = cache(anchor_settings)
    rows = []
    for crop in load_catalogue().crops:
        solved = [solve_thermal_time(crop, a, settings(a.place, a.lat, a.lon)) for a in crop.anchors]
        time, sd = together(solved)
        rows.append((crop.key, f"{time:.1f}", f"{sd:.3f}", len(solved)))
    with TARGET.open("w", newline="", encoding="utf-8") as handle:
        writer = csv.writer(handle, lineterminator="\n")
        writer.writerow(("crop", "thermal_time_edd", "sd_ln", "anchors"))
        writer.writerows(rows)


if __name__ == "__main__":
    main()
