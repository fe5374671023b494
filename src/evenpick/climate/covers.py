"""A cover is a change of weather (docs/design/covers.md, rules 1 to 6 and 10)."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.errors import Problem, UnknownCrop, did_you_mean
from evenpick.base.language import tell
from evenpick.base.trade import CoverName
from evenpick.climate.soil_temperature import soil_temperature
from evenpick.climate.weather import WeatherYears

VENT_EXCESS = 2.5  # °C that a vented cover stays above the air outside, at most
BENCH_RANGE = 2.0  # °C from the bench's lowest to the least of its highest temperatures


@dataclass(frozen=True, slots=True)
class Cover:
    """What a cover does to the day.

    light: share let through; day_gain: on the maximum, °C per MJ m⁻² d⁻¹ outside; night_gain: on the
    minimum, °C; vent: °C at which it is opened; rain: share let in; frost: the most of a night's frost that
    comes in, as a share, and laid_over: the share of that which comes to low crops under fleece laid over
    them inside.
    """

    light: float
    day_gain: float
    night_gain: float
    vent: float = math.inf
    rain: float = 1.0
    frost: float = 1.0
    laid_over: float = 1.0


COVER_EFFECTS: Mapping[CoverName, Cover] = MappingProxyType(
    {
        "open": Cover(light=1.0, day_gain=0.0, night_gain=0.0),
        "fleece": Cover(light=0.83, day_gain=0.13, night_gain=1.2),
        "cloche": Cover(light=0.80, day_gain=0.33, night_gain=1.3, vent=32.0),
        "tunnel": Cover(light=0.72, day_gain=0.45, night_gain=1.3, vent=27.0, rain=0.0, frost=0.67,
                        laid_over=0.53),
    }
)


@dataclass(frozen=True, slots=True)
class UnderCover:
    """The weather that a crop feels; every array has shape (years, days).

    tmin, tmax, tmean (midpoint of the two) and soil (mean at 5 cm) in °C; radiation in MJ m⁻² d⁻¹;
    rain in mm d⁻¹. Wind (m s⁻¹ at 2 m) and vapour pressure (kPa) as measured, under open sky alone, NaN or
    None where they were not.
    """

    tmin: Floats
    tmax: Floats
    tmean: Floats
    radiation: Floats
    rain: Floats
    soil: Floats
    wind: Floats | None = None
    vapour_pressure: Floats | None = None


def under_cover(weather: WeatherYears, cover: CoverName) -> UnderCover:
    """The weather under a cover that is closed by night and vented by day; UnknownCrop for no such cover.

    Night gains are averages: under a clear, calm, cold sky the gain may be nil (trials: 0 to +1.8 °C
    under fleece), so a kill by frost under cover is likelier than these minima say. Expected error of
    a day's maximum several °C: wind, size and the hand on the vent are not known. Sources in
    docs/design/covers.md.
    """
    effect = _effect(cover)
    tmin = np.maximum(weather.tmin + effect.night_gain, effect.frost * weather.tmin)
    ceiling = np.maximum(effect.vent, weather.tmax + VENT_EXCESS)
    warmed = np.minimum(weather.tmax + effect.day_gain * weather.radiation, ceiling)
    tmax = np.maximum(warmed, tmin)  # dark days with less range than the night gain
    tmean = (tmin + tmax) / 2
    radiation = effect.light * weather.radiation
    soil = soil_temperature(tmean, radiation)
    measured = (weather.wind, weather.vapour_pressure) if cover == "open" else (None, None)
    return UnderCover(tmin, tmax, tmean, radiation, effect.rain * weather.rain, soil, *measured)


def raising_bench(weather: WeatherYears, lowest: float) -> UnderCover:
    """A bench in the tunnel kept at `lowest` °C or above (5 frost-free, 16 heated), watered by hand.

    On days on which the vents can't hold the tunnel's heat the trays stand outside in the shade. The compost
    in a module follows the air: soil is the bench's mean air temperature.
    """
    tunnel = under_cover(weather, "tunnel")
    hot = weather.tmax > COVER_EFFECTS["tunnel"].vent
    tmin = np.maximum(np.where(hot, weather.tmin, tunnel.tmin), lowest)
    tmax = np.maximum(np.where(hot, weather.tmax, tunnel.tmax), lowest + BENCH_RANGE)
    tmean = (tmin + tmax) / 2
    return UnderCover(tmin, tmax, tmean, tunnel.radiation, tunnel.rain, tmean)


def _effect(cover: CoverName) -> Cover:
    try:
        return COVER_EFFECTS[cover]
    except KeyError:
        known = ", ".join(COVER_EFFECTS)
        raise UnknownCrop(
            Problem(
                tell("there is no cover '{cover}'.", cover=cover),
                f"{did_you_mean(cover, COVER_EFFECTS)} The covers are {known}.".strip(),
                field="cover",
            )
        ) from None
