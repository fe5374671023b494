"""Seed in drills that nobody can water: it waits where it is dry, and dies where it has sprouted (growth E3;
docs/design/water.md, 20)."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from evenpick.base.arrays import Bools, Floats, Ints
from evenpick.base.trade import CoverName
from evenpick.climate.covers import UnderCover
from evenpick.climate.moist_air import Values
from evenpick.crops.clock import Clock, at_days
from evenpick.crops.crop import Emergence, Way
from evenpick.crops.hazards import next_that
from evenpick.soil.reference_et import WIND_LEAST, as_measured, reference_et
from evenpick.soil.seedbed import DEADLY, SPROUTED, bed_of, open_ground
from evenpick.soil.texture import Soil

if TYPE_CHECKING:
    from evenpick.outlook.setting import Setting, Settings

EVERY_DAY = slice(None)
LETS_RAIN_IN: tuple[CoverName, ...] = ("open", "fleece", "cloche")
RUNS = 3
"""of spells that are followed, the last first: each is under half as warm as the next, so what those before
kill is under one seed in ten thousand"""
ALIKE = 8.0
"""how alike the seeds of a drill are: nine in ten are through after 1.7 times as long as one in ten (memory;
the curve is log-logistic, as germination is often fitted)"""


@dataclass(frozen=True, slots=True)
class Unwatered:
    """Ground whose open drills nobody waters."""

    soil: Soil
    height: float
    """m above the sea"""


def by_rain(settings: Settings, cover: CoverName) -> Unwatered | None:
    """The ground under that cover where only rain waters it; None where somebody does. A tunnel is watered or
    is no tunnel."""
    return settings.unwatered if cover in LETS_RAIN_IN else None


def damp_and_wind(air: UnderCover, cover: CoverName, here: slice = EVERY_DAY) -> tuple[Floats, Values]:
    """Vapour pressure, kPa, and wind at 2 m, m s⁻¹, of days under a cover: as measured under open sky; under
    anything else nothing measured tells it, and the air is all but still (water.md, 6)."""
    ea, wind = as_measured(
        air.tmin[:, here], air.tmax[:, here], *(None if every is None else every[:, here]
                                                for every in (air.vapour_pressure, air.wind))
    )
    return ea, wind if cover == "open" else WIND_LEAST


@dataclass(frozen=True, slots=True)
class Bare:
    """Bare ground that nobody waters, for seed at one depth; days as of its setting's axis."""

    here: Setting
    key: Hashable
    dry: Bools
    """days on whose evening the seed's layer is so dry that sprouted seed dies; (years, days)"""
    following: Ints
    """for each day the first from it that ends two such evenings running; (years, days + 1)"""
    before: Ints
    """for each day the last up to it that does; -1 where none does; (years, days)"""

    def clock(self, emergence: Emergence) -> Clock:
        """Warmth towards coming up: seed in dry ground waits (water.md, 20)."""
        return self.here.clock_of(
            ("waits", self.key, emergence.base, emergence.optimum),
            lambda: np.where(self.dry, 0.0, self.here.soil_clock(emergence).rate),
        )

    def living(self, emergence: Emergence, sow: Ints, up: Ints) -> Floats:
        """Share of the seed of each sowing that no drought kills between sprouting and coming up; (years, n).

        Seeds differ in what they take to sprout and to come up: what has not sprouted yet dries and swells
        again, what is up already has its roots down.
        """
        clock, days, needs = self.clock(emergence), self.here.days, emergence.thermal_time
        end = self._last(up, sow)
        killed, counted = np.zeros(up.shape), np.full(up.shape, np.inf)
        for _ in range(RUNS):
            # every spell kills from what is just not up to what has just sprouted: from half of the last
            # one's warmth on these run into one
            had = clock.between(sow, end) / needs
            half = np.maximum(clock.reach(sow, SPROUTED * needs * had), sow + 1)
            first = np.minimum(np.asarray(at_days(self.following, np.minimum(half, days))), end)
            least = clock.between(sow, first) / needs
            most = np.minimum(had, SPROUTED * counted)
            killed += np.maximum(_gathered(most, SPROUTED) - _gathered(least, 1.0), 0.0)
            end, counted = self._last(first, sow), least
        return np.asarray(1.0 - killed)

    def _last(self, day: Ints, sow: Ints) -> Ints:
        """The last day before `day` that ends two dry evenings running; the day of sowing where none does."""
        return np.maximum(np.asarray(at_days(self.before, np.clip(day - 1, 0, self.here.days - 1))), sow)


def bare_ground(settings: Settings, way: Way, cover: CoverName, depth: float) -> Bare | None:
    """The ground in which seed lies that nobody can water; None of what is watered, or not sown in place.

    The water of bare ground is followed once for a depth, so all sow days cost as much as one. Ground is
    taken to be full at the axis's start: drills of its first weeks look moister than they are.
    """
    ground = by_rain(settings, cover)
    if ground is None or way.name != "direct":
        return None
    here, known = settings.cover(cover), ("bare ground", ground, depth)
    return here.once(known, lambda: _followed(settings, here, cover, ground, depth))


def _followed(settings: Settings, here: Setting, cover: CoverName, ground: Unwatered, depth: float) -> Bare:
    bed = bed_of(ground.soil, depth)
    evening = open_ground(here.air.rain, et0_of(settings, here, cover, ground), bed)[0][:, 1:]
    return as_followed(here, ("bare ground", ground, depth), evening <= DEADLY * bed.dry)


def as_followed(here: Setting, key: Hashable, dry: Bools) -> Bare:
    """Ground whose evenings are known: `dry` (years, days) as of `Bare`, `key` a name of theirs alone."""
    spell = np.zeros(dry.shape, dtype=bool)
    spell[:, 1:] = dry[:, 1:] & dry[:, :-1]
    day = np.where(spell, np.arange(here.days), -1)
    return Bare(here, key, dry, next_that(spell), np.maximum.accumulate(day, axis=1))


def _gathered(share: Floats, middle: float) -> Floats:
    """Share of the seeds that are through a stage once `share` of the middle seed's warmth to come up is had,
    of which the middle seed takes `middle`: log-logistic."""
    powered = share**ALIKE
    return np.asarray(powered / (powered + middle**ALIKE))


def et0_of(settings: Settings, here: Setting, cover: CoverName, ground: Unwatered) -> Floats:
    """What the air draws from ground that nobody waters, mm d⁻¹; (years, days)."""
    air, weather = here.air, settings.weather
    return here.once(("et0", ground.height), lambda: reference_et(
        air.tmin, air.tmax, air.radiation, weather.lat, settings.day_of_year, ground.height,
        *damp_and_wind(air, cover)))
