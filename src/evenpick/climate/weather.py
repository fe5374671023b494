"""Weather years: the ensemble that every answer is computed from."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.climate.moist_air import at_same_humidity
from evenpick.climate.origin import ClimateOrigin

NEEDED = ("tmin", "tmax", "rain", "radiation")
MEASURED = ("wind", "vapour_pressure")


@dataclass(frozen=True, slots=True)
class WeatherYears:
    """Members of the ensemble on one continuous axis of days; every array has shape (years, days).

    Day 0 of the axis is day number `start`. Nothing is missing here: filling has been done and told.
    tmin, tmax in °C; rain in mm d⁻¹; radiation in MJ m⁻² d⁻¹. Of wind (m s⁻¹ at 2 m) and vapour pressure
    (kPa) there is only what was measured, NaN on other days; None where it is on no day, and no wind where
    there is no vapour pressure, which it does not count without (docs/design/water.md, 23).
    """

    lat: float
    start: int
    tmin: Floats
    tmax: Floats
    rain: Floats
    radiation: Floats
    labels: tuple[str, ...]
    origin: ClimateOrigin
    wind: Floats | None = None
    vapour_pressure: Floats | None = None

    @property
    def years(self) -> int:
        return int(self.tmin.shape[0])

    @property
    def days(self) -> int:
        return int(self.tmin.shape[1])

    def columns(self) -> dict[str, Floats]:
        """Every array that is there, by its name."""
        found = {name: getattr(self, name) for name in (*NEEDED, *MEASURED)}
        return {name: values for name, values in found.items() if values is not None}

    def of_years(self, chosen: Ints | Bools) -> WeatherYears:
        """Some of the years: their numbers, in any order, or which of all."""
        at = np.arange(self.years)[chosen]
        columns: dict[str, Any] = {name: every[at] for name, every in self.columns().items()}
        return replace(self, labels=tuple(self.labels[year] for year in at), **columns)

    def from_day(self, day: int) -> WeatherYears:
        """The same from an axis day on."""
        later: dict[str, Any] = {name: every[:, day:] for name, every in self.columns().items()}
        return replace(self, start=self.start + day, **later)

    def with_warmth(self, tmin: Floats, tmax: Floats) -> WeatherYears:
        """The same days with other temperatures; the air is as damp as it was, for its warmth."""
        damp = self.vapour_pressure
        if damp is not None:
            damp = at_same_humidity(damp, (self.tmin, self.tmax), (tmin, tmax))
        return replace(self, tmin=tmin, tmax=tmax, vapour_pressure=damp)
