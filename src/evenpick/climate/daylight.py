"""The sun's geometry as FAO-56 prints it (allen1998, equations 21 to 25, 34, 35, 37, 50).

Valid at every latitude: the argument of equation 25 is clipped, so polar night gives no light and
polar day 24 hours. Day length is from sunrise to sunset of the sun's centre without refraction: short of
an almanac's by 7 minutes at the equator, 14 at 45° N, 17 at 53° N, 23 at 60° N (measured against pvlib;
the equations' declination is up to 1.5° low in October, so Ra is up to 1.2 MJ m⁻² d⁻¹ low then).
"""

from __future__ import annotations

import numpy as np

from evenpick.base.arrays import Floats

SOLAR_CONSTANT = 0.0820  # MJ m⁻² min⁻¹


def declination(day_of_year: Floats) -> Floats:
    """Solar declination, rad (equation 24)."""
    return np.asarray(0.409 * np.sin(2 * np.pi * day_of_year / 365 - 1.39))


def inverse_distance(day_of_year: Floats) -> Floats:
    """Inverse relative distance of earth and sun (equation 23)."""
    return np.asarray(1 + 0.033 * np.cos(2 * np.pi * day_of_year / 365))


def sunset_angle(lat: float, day_of_year: Floats) -> Floats:
    """Sunset hour angle, rad, 0 in polar night to pi in polar day (equation 25); lat in degrees."""
    cosine = -np.tan(np.radians(lat)) * np.tan(declination(day_of_year))
    return np.asarray(np.arccos(np.clip(cosine, -1.0, 1.0)))


def extraterrestrial_radiation(lat: float, day_of_year: Floats) -> Floats:
    """Ra, MJ m⁻² d⁻¹ (equation 21); lat in degrees."""
    phi, delta, omega = np.radians(lat), declination(day_of_year), sunset_angle(lat, day_of_year)
    geometry = omega * np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.sin(omega)
    daily = 24 * 60 / np.pi * SOLAR_CONSTANT * inverse_distance(day_of_year) * geometry
    return np.asarray(np.maximum(daily, 0.0))


def day_length(lat: float, day_of_year: Floats) -> Floats:
    """N, hours (equation 34); lat in degrees."""
    return np.asarray(24 / np.pi * sunset_angle(lat, day_of_year))


def radiation_from_sunshine(sunshine: Floats, lat: float, day_of_year: Floats) -> Floats:
    """Rs, MJ m⁻² d⁻¹, from hours of bright sunshine (equation 35)."""
    daylight = day_length(lat, day_of_year)
    share = np.divide(sunshine, daylight, out=np.zeros_like(sunshine), where=daylight > 0)
    return np.asarray((0.25 + 0.50 * np.minimum(share, 1.0)) * extraterrestrial_radiation(lat, day_of_year))


def clear_sky_radiation(lat: float, day_of_year: Floats, height: float = 0.0) -> Floats:
    """Rso, MJ m⁻² d⁻¹ (equation 37); height in m."""
    return np.asarray((0.75 + 2e-5 * height) * extraterrestrial_radiation(lat, day_of_year))


def radiation_from_range(
    tmin: Floats, tmax: Floats, lat: float, day_of_year: Floats, krs: float = 0.16
) -> Floats:
    """Rs, MJ m⁻² d⁻¹, from the day's range of temperature (equation 50), at most clear sky.

    krs 0.16 inland, 0.19 on the coast. Expected error of a day about 3, of a month about 1 MJ m⁻² d⁻¹
    (memory).
    """
    estimate = krs * np.sqrt(np.maximum(tmax - tmin, 0.0)) * extraterrestrial_radiation(lat, day_of_year)
    return np.asarray(np.minimum(estimate, clear_sky_radiation(lat, day_of_year)))
