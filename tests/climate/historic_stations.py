"""The Met Office's historic stations: monthly normals that are in no CLIMAT report."""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path

import numpy as np

from evenpick.climate.site import Site


def historic(shared: Path) -> list[tuple[Site, dict[str, np.ndarray]]]:
    """Each station, and its months of 1991 to 2020 (OGL v3): tmin_c, tmax_c and rain_mm."""
    table: dict[str, list[dict[str, str]]] = defaultdict(list)
    with (shared / "weather/normals/metoffice_station_normals_1991_2020.csv").open(newline="") as file:
        for row in csv.DictReader(file):
            table[row["station"]].append(row)
    return [
        (Site(name, float(rows[0]["lat"]), float(rows[0]["lon"]), float(rows[0]["elev_m"])),
         {c: np.array([float(row[c]) for row in rows]) for c in ("tmin_c", "tmax_c", "rain_mm")})
        for name, rows in table.items()
    ]
