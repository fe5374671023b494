"""Weather years out of twelve monthly normals (docs/design/weather.md, rules G1 to G9).

A stochastic generator: a two-state chain of wet and dry days (geng1986), shifted gamma amounts,
temperature as a seasonal cycle with a fast and a slow first-order autoregression, shifted on wet days,
and radiation from sunshine or from the range of temperature. How far it stands from real records is
measured in authorities/generator.md.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import erf

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.chance import stream
from evenpick.base.days import days_of_year
from evenpick.climate.daylight import (
    clear_sky_radiation,
    extraterrestrial_radiation,
    radiation_from_sunshine,
)
from evenpick.climate.normals import DAYS_IN_MONTH, MonthlyNormals
from evenpick.climate.seasonal import (
    DAYS_OF_CYCLE,
    cycle,
    cycle_days,
    month_means,
    positive_cycle,
)
from evenpick.climate.variability import FAST, SLOW, WET_MEMORY, amplitudes

GAMMA_SHAPE = 0.75
LEAST_RANGE = 0.8  # °C, tmax over tmin
WET_LIGHT = 0.65  # radiation of a wet day over a dry one's
WET_NOISE = 0.45  # of a wet day's radiation
LEAST_LIGHT = 0.05  # of clear sky
SUN_SHARE = np.array([0.4798, 0.0359, -0.2762])


@dataclass(frozen=True, slots=True)
class DailyClimate:
    """What every calendar day is drawn from; arrays over a 365-day cycle, shape (365,)."""

    wet: Floats
    """probability of a wet day (1 mm and more)"""
    rain: Floats
    """mm on a wet day"""
    tmin: Floats
    tmax: Floats
    shift_min: Floats
    """°C on a wet day over a dry one's"""
    shift_max: Floats
    fast_min: Floats
    """°C standard deviation of the day-to-day part"""
    fast_max: Floats
    shared: Floats
    """correlation of the day-to-day parts of minimum and maximum"""
    slow_min: Floats
    """°C standard deviation of the part that lasts for weeks"""
    slow_max: Floats
    year: float
    """°C standard deviation of the part that lasts a member's whole length"""
    dry_light: Floats
    """MJ m⁻² d⁻¹ of a dry day before noise and the clear-sky limit"""
    dry_noise: Floats
    """standard deviation of a dry day's radiation over its mean"""


def daily_climate(normals: MonthlyNormals, lat: float) -> DailyClimate:
    """The parameters of the generator at every calendar day, from the normals alone; lat in degrees."""
    wet = positive_cycle(np.minimum(normals.wet_days / DAYS_IN_MONTH, 1.0), most=1.0)
    rain = positive_cycle(normals.rain_mm / DAYS_IN_MONTH)
    toa = extraterrestrial_radiation(lat, DAYS_OF_CYCLE)
    height_of_sun = toa / max(float(toa.max()), 1e-9)
    shift_max, shift_min = -(0.5 + 2.5 * height_of_sun), 1.5 - 1.5 * height_of_sun
    spread = amplitudes(normals, month_means(wet), month_means(shift_min), month_means(shift_max))
    clear = clear_sky_radiation(lat, DAYS_OF_CYCLE, normals.height_m or 0.0)
    light = np.minimum(_mean_light(normals, lat), clear)
    noise = np.clip(0.75 - 0.94 * np.divide(light, toa, out=np.zeros(365), where=toa > 0), 0.10, 0.50)
    return DailyClimate(
        wet, np.divide(rain, wet, out=np.zeros(365), where=wet > 0), cycle(normals.tmin), cycle(normals.tmax),
        shift_min, shift_max, positive_cycle(spread.fast_min), positive_cycle(spread.fast_max),
        positive_cycle(spread.shared, most=1.0), positive_cycle(spread.slow_min),
        positive_cycle(spread.slow_max), spread.year, _dry_light(light, wet, noise, clear), noise,
    )


def generate(
    normals: MonthlyNormals, lat: float, start: int, days: int, years: int, seed: int
) -> tuple[Floats, Floats, Floats, Floats]:
    """(tmin, tmax, rain, radiation), each of shape (years, days), from day number `start`.

    °C, °C, mm d⁻¹, MJ m⁻² d⁻¹. Any latitude; any length. The same arguments give the same weather.
    Measured in authorities/generator.md: monthly means as far off as chance makes real years; median last
    frost mostly within 4 days, at worst 12; the longest dry spells up to a third too short in north-west
    Europe. Not there: rain below 1 mm, the skew of real temperatures, trend.
    """
    climate, at = daily_climate(normals, lat), cycle_days(start, days)
    wet = wet_days(climate.wet[at], stream(seed, "weather", "wet").random((days, years)))
    tmin, tmax = _temperatures(climate, at, wet, seed)
    # days of a leap year stand one day off the cycle, so the limit is taken on the real day
    clear = clear_sky_radiation(lat, days_of_year(start, days), normals.height_m or 0.0)[:, None]
    light = _light(climate, at, wet, stream(seed, "weather", "light").standard_normal(wet.shape), clear)
    amounts = rain_amounts(climate.rain[at], wet, stream(seed, "weather", "amount"))
    return _by_year(tmin), _by_year(tmax), _by_year(amounts), _by_year(light)


def wet_days(probability: Floats, chance: Floats) -> Bools:
    """Two-state chain: P(wet|dry) = 0.75 f, P(wet|wet) = 0.25 + 0.75 f (geng1986); f is kept as the mean.

    probability (days,), chance uniform (days, years); gives (days, years).
    """
    wet = np.empty(chance.shape, dtype=np.bool_)
    wet[0] = chance[0] < probability[0]
    fresh = (1.0 - WET_MEMORY) * probability
    for day in range(1, len(wet)):
        np.less(chance[day], fresh[day] + WET_MEMORY * wet[day - 1], out=wet[day])
    return wet


def rain_amounts(mean: Floats, wet: Bools, chance: np.random.Generator) -> Floats:
    """mm: 1 mm and a gamma (shape 0.75) on wet days with mean `mean` (days,), nought on dry ones.

    Normals with under 1.25 mm a wet day get a smaller shift, so that the month's rain is kept.
    """
    least = np.minimum(1.0, 0.8 * mean)[:, None]
    gamma = chance.standard_gamma(GAMMA_SHAPE, wet.shape) * (mean[:, None] - least) / GAMMA_SHAPE
    return np.asarray(np.where(wet, least + gamma, 0.0))


def autoregression(noise: Floats, memory: Floats) -> Floats:
    """First-order autoregressions of unit variance; noise normal (days, parts, years), memory (parts,)."""
    parts = np.empty_like(noise)
    parts[0] = noise[0]
    kept, fresh = memory[:, None], np.sqrt(1.0 - memory**2)[:, None]
    for day in range(1, len(noise)):
        parts[day] = kept * parts[day - 1] + fresh * noise[day]
    return parts


def _temperatures(
    climate: DailyClimate, at: Ints, wet: Bools, seed: int
) -> tuple[Floats, Floats]:
    days, years = wet.shape
    chance = stream(seed, "weather", "temperature")
    noise = _centred(chance.standard_normal((days, 4, years)))
    parts = autoregression(noise, np.array([FAST, FAST, FAST, SLOW]))
    common, own_min, own_max, slow = np.moveaxis(parts, 1, 0)
    year = climate.year * _centred(chance.standard_normal((1, years)))
    shared = climate.shared[at][:, None]
    surprise = wet - climate.wet[at][:, None]

    def one(mean: Floats, fast_sd: Floats, slow_sd: Floats, shift: Floats, own: Floats) -> Floats:
        fast = np.sqrt(shared) * common + np.sqrt(1.0 - shared) * own
        mean, fast_sd, slow_sd, shift = (part[at][:, None] for part in (mean, fast_sd, slow_sd, shift))
        return np.asarray(mean + fast_sd * fast + slow_sd * slow + shift * surprise + year)

    tmin = one(climate.tmin, climate.fast_min, climate.slow_min, climate.shift_min, own_min)
    tmax = one(climate.tmax, climate.fast_max, climate.slow_max, climate.shift_max, own_max)
    middle, half = (tmin + tmax) / 2, np.maximum((tmax - tmin) / 2, LEAST_RANGE / 2)
    return middle - half, middle + half


def light_terms(normals: MonthlyNormals) -> Floats:
    """Predictors of the share of sunlight that comes through: root of the range, and wet days; (12, 3)."""
    wet = np.minimum(normals.wet_days / DAYS_IN_MONTH, 1.0)
    return np.stack([np.ones(12), np.sqrt(normals.tmax - normals.tmin), wet], axis=1)


def _centred(noise: Floats) -> Floats:
    """Noise with mean nought over the members (last axis): the ensemble's mean is then the normals'."""
    years = noise.shape[-1]
    if years < 2:
        return noise
    return np.asarray((noise - noise.mean(axis=-1, keepdims=True)) * np.sqrt(years / (years - 1)))


def _mean_light(normals: MonthlyNormals, lat: float) -> Floats:
    """The cycle of mean radiation (365,): from sunshine where the normals have it, else `light_terms`."""
    if normals.sunshine_h is not None:
        hours = positive_cycle(normals.sunshine_h / DAYS_IN_MONTH)
        return radiation_from_sunshine(hours, lat, DAYS_OF_CYCLE)
    share = np.clip(light_terms(normals) @ SUN_SHARE, 0.2, 0.75)
    return cycle(share) * extraterrestrial_radiation(lat, DAYS_OF_CYCLE)


def _light(
    climate: DailyClimate, at: Ints, wet: Bools, noise: Floats, clear: Floats
) -> Floats:
    level = climate.dry_light[at][:, None] * np.where(wet, WET_LIGHT, 1.0)
    spread = np.where(wet, WET_NOISE, climate.dry_noise[at][:, None])
    return np.asarray(np.clip(level * (1.0 + spread * noise), LEAST_LIGHT * clear, clear))


def _dry_light(mean: Floats, wet: Floats, noise: Floats, clear: Floats) -> Floats:
    """The dry day's level at which wet and dry days, noisy and cut at clear sky, have the wanted mean.

    Found by a few proportional steps; a mean nearer clear sky than the noise allows stays a little short.
    """
    level = mean / (1.0 - (1.0 - WET_LIGHT) * wet)
    for _ in range(12):
        dry = _mean_cut(level, noise, clear)
        rainy = _mean_cut(WET_LIGHT * level, np.full(365, WET_NOISE), clear)
        got = (1.0 - wet) * dry + wet * rainy
        level = np.minimum(level * np.divide(mean, got, out=np.ones_like(got), where=got > 0), 3.0 * clear)
    return level


def _mean_cut(level: Floats, noise: Floats, most: Floats) -> Floats:
    """E[min(level (1 + noise z), most)] for standard normal z."""
    spread = np.maximum(noise * level, 1e-12)
    room = np.clip((most - level) / spread, -40.0, 40.0)
    density = np.exp(-(room**2) / 2) / np.sqrt(2 * np.pi)
    above = np.array([0.5 - erf(x / 2**0.5) / 2 for x in room])
    return np.asarray(level - spread * (density - room * above))


def _by_year(daily: Floats) -> Floats:
    return np.ascontiguousarray(daily.T)
