"""Weather years: the ensemble that every answer is computed from."""

from __future__ import annotations

from dataclasses import dataclass, field

from evenpick.base.arrays import Floats


@dataclass(frozen=True, slots=True)
class ClimateOrigin:
    """Which weather an answer rests on."""

    source: str
    """'own daily record', 'own daily record, by its months', 'packaged daily record', 'typed normals' or
    'station normals'"""
    station: str
    distance_km: float | None
    height_difference_m: float | None
    """station above (+) or below (-) the site; None when the site's height is not known"""
    years: int
    """calendar years of record behind the ensemble"""
    licence: str = ""
    notes: tuple[str, ...] = field(default_factory=tuple)


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
