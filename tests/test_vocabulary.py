"""data/vocabulary.toml against the records, both ways."""

from __future__ import annotations

import dataclasses
import re
from types import ModuleType

import numpy as np
import pytest

from evenpick.climate import origin, series, site, weather
from evenpick.crops import crop, signals
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.schema import vocabulary

SI = {"text", "record", "1", "°", "°C", "°C d", "1/d", "1/g", "d", "h", "m", "km", "mm", "mm d-1", "kg",
      "kg m-2", "kPa", "m s-1", "MJ m-2 d-1", "MJ m-2 d-1 °C-1", "weeks", "years", "day number"}  # fmt: skip


def snake(name: str) -> str:
    return re.sub(r"(?<!^)(?=[A-Z])", "_", name).lower()


def records() -> dict[str, set[str]]:
    modules: tuple[ModuleType, ...] = (crop, signals, origin, series, site, weather)
    return {
        snake(kind.__name__): {field.name for field in dataclasses.fields(kind)}
        for module in modules
        for kind in vars(module).values()
        if dataclasses.is_dataclass(kind) and isinstance(kind, type) and kind.__module__ == module.__name__
    }


def test_same_records() -> None:
    assert set(vocabulary()) == set(records())


@pytest.mark.parametrize("record", sorted(records()))
def test_same_fields(record: str) -> None:
    assert set(vocabulary()[record]) == records()[record]


def test_every_word_has_unit_meaning_and_bounds() -> None:
    for record, words in vocabulary().items():
        for name, word in words.items():
            place = f"{record}.{name}"
            assert word["meaning"], place
            assert word["unit"] in SI, place
            if word["unit"] in ("text", "record"):
                assert word.keys() == {"unit", "meaning"}, place
            else:
                assert word["low"] < word["high"], place


def test_solved_thermal_times_are_within_bounds() -> None:
    bounds = vocabulary()["crop"]["thermal_time"]
    times = np.array([crop.thermal_time for crop in load_catalogue().crops])
    assert np.all((times >= bounds["low"]) & (times <= bounds["high"]))
