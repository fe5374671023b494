"""A daily weather record as it was measured, before anything is filled or moved."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.climate.moist_air import at_same_humidity

VARIABLES = ("tmin", "tmax", "rain", "radiation", "sunshine", "vapour_pressure", "wind")


@dataclass(frozen=True, slots=True)
class DailySeries:
    """Consecutive days from `start` (day number); every array has shape (days,), NaN is missing.

    tmin, tmax in °C; rain in mm; radiation in MJ m⁻² d⁻¹; sunshine in hours; vapour_pressure in kPa;
    wind in m s⁻¹ at 2 m. A variable that the source does not have is all NaN.
    """

    start: int
    tmin: Floats
    tmax: Floats
    rain: Floats
    radiation: Floats
    sunshine: Floats
    vapour_pressure: Floats
    wind: Floats

    @property
    def days(self) -> int:
        return int(self.tmin.size)

    def missing(self, variable: str) -> int:
        """Number of days without this variable."""
        return int(np.isnan(getattr(self, variable)).sum())

    def with_warmth(self, tmin: Floats, tmax: Floats) -> DailySeries:
        """The same days with other temperatures; the air is as damp as it was, for its warmth."""
        damp = at_same_humidity(self.vapour_pressure, (self.tmin, self.tmax), (tmin, tmax))
        return replace(self, tmin=tmin, tmax=tmax, vapour_pressure=damp)


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a daily record came from, and what was done to read it."""

    source: str
    file: str
    station: str | None = None
    lat: float | None = None
    lon: float | None = None
    height_m: float | None = None
    licence: str | None = None
    notes: tuple[str, ...] = field(default_factory=tuple)
