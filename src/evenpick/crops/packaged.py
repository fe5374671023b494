"""The crop files that come with the program, and the thermal times solved for them."""

from __future__ import annotations

import csv
import json
from importlib.resources import files

from evenpick.crops.build import Solved, Table


def packaged_tables() -> dict[str, Table]:
    """The crop files as builders/crops.py put them together."""
    text = files("evenpick").joinpath("data", "crops.json").read_text(encoding="utf-8")
    tables: dict[str, Table] = json.loads(text)
    return tables


def packaged_files() -> tuple[tuple[str, str], ...]:
    """Name and text of each packaged crop file, by name."""
    folder = files("evenpick").joinpath("data", "crops")
    found = sorted((entry.name, entry) for entry in folder.iterdir() if entry.name.endswith(".toml"))
    return tuple((name, entry.read_text(encoding="utf-8")) for name, entry in found)


def packaged_thermal_times() -> dict[str, Solved]:
    """What the builder solved for each packaged crop; empty before its first run."""
    table = files("evenpick").joinpath("data", "thermal_times.csv")
    if not table.is_file():
        return {}
    lines = table.read_text(encoding="utf-8").splitlines()
    return {
        row["crop"]: Solved(float(row["thermal_time_edd"]), float(row["sd_ln"]))
        for row in csv.DictReader(lines)
    }


def crop_tables(document: Table) -> dict[str, Table]:
    """The crops of a file, each with the file's family where it has none of its own."""
    family = {"family": document["family"]} if "family" in document else {}
    return {key: {**family, **table} for key, table in document.items() if isinstance(table, dict)}
