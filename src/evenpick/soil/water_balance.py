"""The ground's water day by day: FAO-56's dual crop coefficient (allen1998, chapters 7 and 8).

Functions carry the paper's equation numbers and are elementwise over arrays that broadcast. mm and mm d⁻¹,
m, shares 0 to 1; De and Dr are depletions below field capacity of the surface layer and of the root zone.
Not known here: runoff, water rising from below, cracks, slope, mulch, salt. What falls is taken to fall early
in the day (as in the paper's example 35).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.climate.moist_air import Values, saturation_pressure
from evenpick.soil.crop_coefficients import Growing
from evenpick.soil.texture import EVAPORATING, Soil

KC_MIN = 0.15
"""dry bare ground: 0.15 to 0.20 (equation 76)"""
LEAST_EXPOSED = 0.01
LEAST_KC_ADJUSTED = 0.45


@dataclass(frozen=True, slots=True)
class Balance:
    """A balance day by day; every array has shape (years, days), mm or mm d⁻¹.

    surface and root are De and Dr in the evening; stress is Ks (1 none, 0 no water taken up); readily is RAW.
    wanted is what would fill the root zone in the morning where that is due, given or not; spared tells where
    it would be due but for the day's rain.
    """

    evaporation: Floats
    transpiration: Floats
    watered: Floats
    wanted: Floats
    spared: Floats
    drained: Floats
    surface: Floats
    root: Floats
    stress: Floats
    readily: Floats


@dataclass(frozen=True, slots=True)
class Away:
    """When nobody is there to water; both arrays (days,)."""

    on: Bools
    after: Ints
    """days running, from the one after each day, on which nobody is there; 0 while nobody is"""

    def over(self, here: slice) -> Away:
        """Some of its days."""
        return Away(self.on[here], self.after[here])


def away_on(days: Bools) -> Away:
    """Of the days on which nobody is there."""
    after, run = np.zeros(days.size, dtype=np.int64), 0
    for day in range(days.size - 1, -1, -1):
        after[day] = 0 if days[day] else run
        run = run + 1 if days[day] else 0
    return Away(days, after)


def never_away(days: int) -> Away:
    """Somebody is there on all of so many days."""
    return Away(np.zeros(days, dtype=bool), np.zeros(days, dtype=np.int64))


def total_evaporable(soil: Soil, layer: Values = EVAPORATING) -> Values:
    """TEW (equation 73); layer is Ze."""
    return 1000.0 * (soil.field_capacity - 0.5 * soil.wilting_point) * layer


def evaporation_reduction(depletion: Values, tew: Values, rew: Values) -> Floats:
    """Kr (equation 74)."""
    return np.asarray(np.clip((tew - np.asarray(depletion)) / (np.asarray(tew) - rew), 0.0, 1.0))


def kc_max(u2: Values, rh_min: Values, height: Values, kcb: Values) -> Floats:
    """Kcmax, of ground just wetted (equation 72); u2 1 to 6 m s⁻¹, rh_min 20 to 80 % as the paper has it."""
    return np.asarray(np.maximum(1.2 + _climate_term(u2, rh_min, height), np.asarray(kcb) + 0.05))


def adjusted_kcb(kcb: Values, u2: Values, rh_min: Values, height: Values) -> Floats:
    """Kcb of the middle and late season for the climate (equation 70); values under 0.45 stay."""
    moved = np.asarray(kcb) + _climate_term(u2, rh_min, height)
    return np.asarray(np.where(np.asarray(kcb) >= LEAST_KC_ADJUSTED, moved, kcb))


def least_humidity(ea: Values, tmax: Values) -> Floats:
    """RHmin, %, of a day with the vapour pressure ea, kPa (equation 63, or 64 with that of dew at tmin)."""
    return np.asarray(100.0 * np.asarray(ea) / saturation_pressure(tmax))


def canopy_cover(kcb: Values, kcmax: Values, height: Values) -> Floats:
    """fc (equation 76), 0 to 0.99."""
    share = np.clip((np.asarray(kcb) - KC_MIN) / (np.asarray(kcmax) - KC_MIN), 0.0, 1.0)
    return np.asarray(np.clip(share ** (1.0 + 0.5 * np.asarray(height)), 0.0, 0.99))


def exposed_wetted(cover: Values, wetted: Values = 1.0) -> Floats:
    """few (equation 75): bare to the sky and wet."""
    return np.asarray(np.maximum(np.minimum(1.0 - np.asarray(cover), wetted), LEAST_EXPOSED))


def evaporation_coefficient(kr: Values, kcmax: Values, kcb: Values, few: Values) -> Floats:
    """Ke (equation 71)."""
    return np.asarray(np.minimum(kr * (np.asarray(kcmax) - kcb), np.asarray(few) * kcmax))


def total_available(soil: Soil, roots: Values) -> Values:
    """TAW (equation 82); roots is Zr."""
    return 1000.0 * (soil.field_capacity - soil.wilting_point) * roots


def depletion_share(p: Values, etc: Values) -> Floats:
    """p for the day's ETc (note under table 22), 0.1 to 0.8. RAW is p TAW (equation 83)."""
    return np.asarray(np.clip(p + 0.04 * (5.0 - np.asarray(etc)), 0.1, 0.8))


def stress(root: Values, taw: Values, p: Values) -> Floats:
    """Ks (equation 84)."""
    return np.asarray(np.clip((np.asarray(taw) - root) / ((1.0 - np.asarray(p)) * taw), 0.0, 1.0))


def balance(
    rain: Floats,
    et0: Floats,
    kcmax: Floats,
    crop: Growing,
    p: float,
    soil: Soil,
    watered: Floats,
    let_go: Floats,
    vary_p: bool = True,
    from_share: float | None = None,
    start: tuple[Floats, Floats] | None = None,
    away: Away | None = None,
) -> Balance:
    """The whole balance (equations 69 to 77, 79, 80, 82 to 88) of ground that starts at field capacity, or at
    `start`: De and Dr, (years,) each.

    rain, et0, kcmax, watered (mm given whatever the state) and let_go: shape (years, days), nothing missing.
    In the morning the root zone is filled up if, with the day's rain, it has lost what it gives easily and of
    the rest the share `let_go`: 0 waters at RAW, 0.5 holds back until Ks is a half, inf never waters. All
    ground is wetted (fw 1). With vary_p off p stays as tabled. With from_share one hand waters for all years:
    every root zone that may be watered is filled on a day on which it is due in that share of them, and none
    before; without it each year is watered when it is due there. While nobody is
    there nobody fills it; on the day before it is due if it will be by their return, at the day's own ETc and
    without rain.

    Water is conserved to rounding: what the root zone can't give (it may not fall below wilting point) is
    taken off the day's evaporation, where FAO-56 cuts Dr off at TAW. Roots grow into full ground.
    Expected error of Dr with local soil values and weather 10 to 20 % of TAW (memory); soil known by name
    alone adds as much again.
    """
    years, days = rain.shape
    tew = float(total_evaporable(soil))
    cover = canopy_cover(crop.kcb, kcmax, crop.height)
    few = exposed_wetted(cover)
    taw = np.asarray(total_available(soil, crop.roots))
    made = {name: np.empty((years, days)) for name in Balance.__slots__}
    de, dr = start or (np.zeros(years), np.zeros(years))
    gone = away or never_away(days)
    for day in range(days):
        evaporable = evaporation_reduction(np.maximum(de - rain[:, day] - watered[:, day], 0.0), tew,
                                           soil.readily_evaporable)
        full = _day_etc(evaporable, kcmax, crop, few, et0, day)
        share = depletion_share(p, full) if vary_p else np.full(years, p)
        readily = share * taw[:, day]
        limit = readily + let_go[:, day] * (taw[:, day] - readily)
        limit = np.maximum(limit - gone.after[day] * full, 0.0)
        short = np.maximum(dr - rain[:, day] - watered[:, day], 0.0)
        due = dr - rain[:, day] - watered[:, day] >= limit
        spared = (dr - watered[:, day] >= limit) & ~due
        filled = due if from_share is None else np.isfinite(limit) & (due.mean() >= from_share)
        given = watered[:, day] + np.where(filled & ~gone.on[day], short, 0.0)
        wet = rain[:, day] + given
        de, dr = np.maximum(de - wet, 0.0), dr - wet
        drained, dr = np.maximum(-dr, 0.0), np.maximum(dr, 0.0)
        ks = stress(dr, taw[:, day], share)
        kr = evaporation_reduction(de, tew, soil.readily_evaporable)
        ke = evaporation_coefficient(kr, kcmax[:, day], crop.kcb[:, day], few[:, day])
        left = taw[:, day] - dr
        transpired = np.minimum(ks * crop.kcb[:, day] * et0[:, day], left)
        evaporated = np.minimum(np.minimum(ke * et0[:, day], left - transpired), (tew - de) * few[:, day])
        de, dr = de + evaporated / few[:, day], dr + transpired + evaporated
        for name, value in (("evaporation", evaporated), ("transpiration", transpired), ("watered", given),
                            ("wanted", np.where(due, short, 0.0)), ("spared", spared), ("drained", drained),
                            ("surface", de), ("root", dr), ("stress", ks), ("readily", readily)):
            made[name][:, day] = value
    return Balance(**made)


def _day_etc(kr: Floats, kcmax: Floats, crop: Growing, few: Floats, et0: Floats, day: int) -> Floats:
    """ETc of the day without want of water (equation 69)."""
    ke = evaporation_coefficient(kr, kcmax[:, day], crop.kcb[:, day], few[:, day])
    return np.asarray((crop.kcb[:, day] + ke) * et0[:, day])


def _climate_term(u2: Values, rh_min: Values, height: Values) -> Floats:
    """What wind and dry air add to a coefficient (equations 62, 70, 72)."""
    wind, humidity = np.clip(u2, 1.0, 6.0), np.clip(rh_min, 20.0, 80.0)
    return np.asarray((0.04 * (wind - 2.0) - 0.004 * (humidity - 45.0)) * (np.asarray(height) / 3.0) ** 0.3)
