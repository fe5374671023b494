"""Reference evapotranspiration of grass as FAO-56 prints it (allen1998).

Functions carry the paper's equation numbers; the sun's geometry (21 to 37) is evenpick.climate.daylight.
All are elementwise over arrays that broadcast together. A NaN in gives a NaN out: filling is done, and
told, before. Wind is m s⁻¹, vapour pressure kPa, radiation MJ m⁻² d⁻¹, height m above the sea.
"""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.climate.daylight import clear_sky_radiation, extraterrestrial_radiation
from evenpick.climate.moist_air import (
    Values,
    air_pressure,
    mean_saturation_pressure,
    psychrometric_constant,
    saturation_pressure,
    vapour_pressure_slope,
)

WIND_UNKNOWN = 2.0  # m s⁻¹, the average over 2000 stations (allen1998, chapter 3; memory)
WIND_LEAST = 0.5  # m s⁻¹ that equation 6 should be used with in calm air (allen1998, as others quote it)
ALBEDO = 0.23  # of the reference grass
STEFAN_BOLTZMANN = 4.903e-9  # MJ K⁻⁴ m⁻² d⁻¹
KELVIN = 273.16  # FAO-56's own offset
EVAPORATED = 0.408  # mm of water per MJ m⁻² (equation 20)
CLEAR_LEAST = 0.3  # least Rs/Rso that equation 39 is used with (ASCE-EWRI 2005, as in pyet and refet)
CLEAR_UNKNOWN = 0.55  # Rs/Rso in polar night, where it can't be seen (middle of its range; no source)


def reference_et(
    tmin: Floats,
    tmax: Floats,
    radiation: Floats,
    lat: float,
    day_of_year: Floats,
    height: float,
    vapour_pressure: Floats | None = None,
    wind: Values | None = None,
) -> Floats:
    """ETo, mm d⁻¹, by Penman-Monteith (equation 6) without soil heat (equation 42); never below 0.

    tmin, tmax in °C, radiation (Rs), lat in degrees, day_of_year 1 to 366, wind at 2 m. Without
    vapour_pressure dew is taken to form at tmin (equation 48); without wind it is 2 m s⁻¹.

    Valid for open ground in any climate. With neither vapour pressure nor wind the sum of years is 4 % high
    and a day's RMS 0.4 mm in mild maritime climates; give both or neither, since wind multiplies the error
    of equation 48 (authorities/evapotranspiration.md). In dry climates, where nights do not reach the dew
    point, ETo without vapour pressure comes out too low (memory: up to 20 %). Dew is not counted.
    """
    ea = dew_at_minimum(tmin) if vapour_pressure is None else vapour_pressure
    u2 = WIND_UNKNOWN if wind is None else wind
    clear_sky = clear_sky_radiation(lat, day_of_year, height)
    longwave = net_longwave(tmin, tmax, ea, radiation, clear_sky)
    net = net_radiation(net_shortwave(radiation), longwave)
    return np.asarray(np.maximum(penman_monteith(tmin, tmax, net, ea, u2, height), 0.0))


def as_measured(
    tmin: Floats, tmax: Floats, vapour_pressure: Floats | None, wind: Floats | None
) -> tuple[Floats, Values]:
    """ea and u2 of every day: measured, or where it is not (None or NaN) what FAO-56 has stand in for it.

    Damp that can't be (over saturation at tmax) is not taken. Wind is taken only beside measured damp: with
    equation 48 it makes matters worse than 2 m s⁻¹ does (authorities/evapotranspiration.md).
    """
    dew = dew_at_minimum(tmin)
    if vapour_pressure is None:
        return dew, WIND_UNKNOWN
    damp = vapour_pressure <= saturation_pressure(tmax)
    ea = np.where(damp, vapour_pressure, dew)
    if wind is None:
        return ea, WIND_UNKNOWN
    return ea, np.where(damp & ~np.isnan(wind), np.maximum(wind, WIND_LEAST), WIND_UNKNOWN)


def penman_monteith(
    tmin: Values, tmax: Values, net: Values, ea: Values, u2: Values, height: float, soil_heat: Values = 0.0
) -> Floats:
    """ETo, mm d⁻¹ (equation 6), negative where dew forms; net (Rn) and soil_heat (G) in MJ m⁻² d⁻¹."""
    t = mean_temperature(tmin, tmax)
    delta, gamma = vapour_pressure_slope(t), psychrometric_constant(air_pressure(height))
    deficit = mean_saturation_pressure(tmin, tmax) - ea
    sun = EVAPORATED * delta * (net - soil_heat)
    air = gamma * 900 / (t + 273) * u2 * deficit
    return np.asarray((sun + air) / (delta + gamma * (1 + 0.34 * u2)))


def hargreaves(tmin: Values, tmax: Values, lat: float, day_of_year: Floats) -> Floats:
    """ETo, mm d⁻¹, from temperature alone (equation 52), Ra in mm d⁻¹ of water; tends to be high in damp
    climates and low in windy ones (allen1998, chapter 3). For weeks and longer rather than days."""
    ra = EVAPORATED * extraterrestrial_radiation(lat, day_of_year)
    spread = np.sqrt(np.maximum(np.asarray(tmax) - tmin, 0.0))
    return np.asarray(np.maximum(0.0023 * (mean_temperature(tmin, tmax) + 17.8) * spread * ra, 0.0))


def mean_temperature(tmin: Values, tmax: Values) -> Floats:
    """Tmean, °C (equation 9)."""
    return np.asarray((np.asarray(tmin) + tmax) / 2)


def pressure_from_dew_point(dew_point: Values) -> Floats:
    """ea, kPa (equation 14)."""
    return saturation_pressure(dew_point)


def net_shortwave(radiation: Values) -> Floats:
    """Rns (equation 38)."""
    return np.asarray((1 - ALBEDO) * np.asarray(radiation))


def net_longwave(tmin: Values, tmax: Values, ea: Values, radiation: Values, clear_sky: Values) -> Floats:
    """Rnl, outgoing (equation 39); radiation Rs, clear_sky Rso. Rs/Rso is kept within 0.3 to 1."""
    emitted = STEFAN_BOLTZMANN * ((np.asarray(tmax) + KELVIN) ** 4 + (np.asarray(tmin) + KELVIN) ** 4) / 2
    cloud = 1.35 * _clear_share(radiation, clear_sky) - 0.35
    return np.asarray(emitted * (0.34 - 0.14 * np.sqrt(ea)) * cloud)


def net_radiation(shortwave: Values, longwave: Values) -> Floats:
    """Rn (equation 40)."""
    return np.asarray(shortwave - np.asarray(longwave))


def wind_at_2m(speed: Values, height: float) -> Floats:
    """u2, m s⁻¹, from the wind at `height` m above short grass (equation 47)."""
    return np.asarray(speed * 4.87 / np.log(67.8 * height - 5.42))


def dew_at_minimum(tmin: Values) -> Floats:
    """ea, kPa, if dew forms at the night's minimum (equation 48): reference ground, not an arid station."""
    return pressure_from_dew_point(tmin)


def _clear_share(radiation: Values, clear_sky: Values) -> Floats:
    rs, rso = np.broadcast_arrays(np.asarray(radiation, dtype=float), np.asarray(clear_sky, dtype=float))
    unknown = np.where(np.isnan(rs), np.nan, CLEAR_UNKNOWN)
    share = np.divide(rs, rso, out=unknown, where=rso > 0)
    return np.asarray(np.clip(share, CLEAR_LEAST, 1.0))
