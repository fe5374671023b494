"""Daily records that come with the program: six open stations, 40 to 45 years each."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.errors import BadWeatherFile, Problem, did_you_mean
from evenpick.base.language import tell
from evenpick.climate.series import VARIABLES, DailySeries, Origin

MISSING = -32768
TEN_TO_TWO_METRES = 4.87 / np.log(67.8 * 10 - 5.42)  # allen1998, equation 47: 0.748


@dataclass(frozen=True, slots=True)
class RecordPlace:
    """Where a packaged record was measured."""

    name: str
    station: str
    lat: float
    lon: float
    height_m: float


def packaged_records() -> tuple[RecordPlace, ...]:
    """The packaged records with their places, by name."""
    return tuple(
        RecordPlace(name, about["station"], about["lat"], about["lon"], about["height_m"])
        for name, about in sorted(_about().items())
    )


def packaged_record(name: str) -> tuple[DailySeries, Origin]:
    """One packaged record, exactly as its service published it, and where it came from.

    Variables as in `DailySeries`, shape (days,), NaN where the service has none; wind taken from 10 m
    down to 2 m (allen1998, equation 47, valid over short grass). Raises BadWeatherFile for a name
    that is not packaged.
    """
    key = name.replace("-", "_")
    about = _about().get(key)
    if about is None:
        raise BadWeatherFile(
            Problem(
                f"there is no packaged record '{name}'. {did_you_mean(name, _about())}".rstrip(),
                tell("The packaged records are {about}.", about=", ".join(sorted(_about()))),
            )
        )
    columns = _columns(key)
    absent = np.full(about["days"], np.nan)
    series = DailySeries(start=about["start"], **{v: columns.get(v, absent) for v in VARIABLES})
    origin = Origin(
        source=about["source"], file=f"packaged record {name}", station=about["station"], lat=about["lat"],
        lon=about["lon"], height_m=about["height_m"], licence=about["licence"], notes=tuple(about["notes"]),
    )
    return series, origin


@cache
def _about() -> dict[str, dict[str, Any]]:
    about: dict[str, dict[str, Any]] = json.loads((_folder() / "records.json").read_text(encoding="utf-8"))
    return about


def _folder() -> Any:
    return files("evenpick") / "data" / "daily"


@cache
def _columns(name: str) -> dict[str, Floats]:
    """Unpacked once, for a garden asks for the same record again and again; to be read alone."""
    divisors: dict[str, int] = _about()[name]["divisors"]
    with (_folder() / f"{name}.npz").open("rb") as file, np.load(file) as packed:
        columns = {variable: _unpacked(packed[variable], divisor) for variable, divisor in divisors.items()}
    if "wind" in columns:
        columns["wind"] = columns["wind"] * TEN_TO_TWO_METRES
    for column in columns.values():
        column.flags.writeable = False
    return columns


def _unpacked(low_and_high_bytes: Any, divisor: int) -> Floats:
    whole = np.ascontiguousarray(low_and_high_bytes.T).view("<i2").ravel()
    return np.where(whole == MISSING, np.nan, whole / divisor)
