"""Weather years: the ensemble that every answer is computed from."""

from __future__ import annotations

from dataclasses import dataclass

from evenpick.base.arrays import Floats
from evenpick.climate.origin import ClimateOrigin


@dataclass(frozen=True, slots=True)
class WeatherYears:
    """Members of the ensemble on one continuous axis of days; every array has shape (years, days).

    Day 0 of the axis is day number `start`. Nothing is missing here: filling has been done and told.
    tmin, tmax in °C; rain in mm d⁻¹; radiation in MJ m⁻² d⁻¹.
    """

    lat: float
    start: int
    tmin: Floats
    tmax: Floats
    rain: Floats
    radiation: Floats
    labels: tuple[str, ...]
    origin: ClimateOrigin

    @property
    def years(self) -> int:
        return int(self.tmin.shape[0])

    @property
    def days(self) -> int:
        return int(self.tmin.shape[1])
