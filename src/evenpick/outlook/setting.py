"""One cover's weather with the running sums that crops search, each made once, when first asked for."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from copy import copy
from dataclasses import replace
from math import inf
from typing import TypeVar

import numpy as np

from evenpick.base.arrays import Floats, Ints
from evenpick.base.days import days_of_year
from evenpick.base.trade import CoverName
from evenpick.climate.covers import COVER_EFFECTS, UnderCover, raising_bench, under_cover
from evenpick.climate.daylight import day_length
from evenpick.climate.weather import WeatherYears
from evenpick.crops.clock import Clock, clock, looked_up, mean_between, means
from evenpick.crops.crop import Development, Emergence
from evenpick.crops.development import cold_weight, growth_rate, long_day_weight
from evenpick.crops.emergence import emergence_rate
from evenpick.crops.hazards import heat_quality, next_frost, next_that
from evenpick.crops.signals import LongDay
from evenpick.outlook.drying import Unwatered
from evenpick.soil.snow import night_under_snow
from evenpick.soil.workable import falls_as_snow, snow_and_water

HOLD_BASE = 4.0  # a ripe crop ages by °C d above 4 °C (growth H1)
SOIL_WARM_DAYS = 5
KEPT = 16  # running sums a setting; two crops at a time ask for up to eight each
HEAT_DAYS = 21  # that a crop is to be brought through

T = TypeVar("T")


class Setting:
    """Where a crop stands: the weather under one cover (or on one bench) and its day length."""

    def __init__(self, air: UnderCover, hours: Floats, laid_over: float = 1.0) -> None:
        self.air = air
        self.hours = hours
        self.laid_over = laid_over
        """share of a night's frost that comes to low crops under fleece laid over them in hard weather"""
        self._made: dict[Hashable, object] = {}
        self._sums: dict[Hashable, object] = {}

    @property
    def days(self) -> int:
        return int(self.air.tmean.shape[1])

    @property
    def years(self) -> int:
        return int(self.air.tmean.shape[0])

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What `make` gives, made only the first time that `key` is asked for."""
        if key not in self._made:
            self._made[key] = make()
        return self._made[key]  # type: ignore[return-value]

    def _lately(self, key: Hashable, make: Callable[[], T]) -> T:
        """What `make` gives, of what was last asked for: nearly every crop has running sums of its own, and
        goes through the year with them before the next crop does."""
        found = self._sums.pop(key, None)
        found = make() if found is None else found
        self._sums[key] = found
        for oldest in list(self._sums)[:-KEPT]:
            self._sums.pop(oldest, None)  # another thread may have been sooner
        return found  # type: ignore[return-value]

    def clock_of(self, key: Hashable, rate: Callable[[], Floats]) -> Clock:
        return self._lately(key, lambda: clock(rate()))

    def soil_clock(self, emergence: Emergence) -> Clock:
        key = ("soil", emergence.base, emergence.optimum)
        return self.clock_of(key, lambda: emergence_rate(self.air.soil, emergence))

    def growth_clock(self, growth: Development) -> Clock:
        return self.clock_of(("growth", growth), lambda: self._growth_rate(growth))

    def _growth_rate(self, growth: Development) -> Floats:
        air = self.air
        return growth_rate(air.tmin, air.tmax, air.radiation, growth)

    def long_day_clock(self, growth: Development, rule: LongDay) -> Clock:
        """Growth towards flowering: heat that slows leaf hastens the stem, so it is at its best above the
        optimum (O24)."""
        growth = replace(growth, ceiling=inf)
        key = ("long day", growth, rule.low, rule.high, rule.floor)
        weight = long_day_weight(self.hours, rule)
        return self.clock_of(key, lambda: self.growth_clock(growth).rate * weight)

    def cold_clock(self, below: float) -> Clock:
        return self.clock_of(("cold", below), lambda: cold_weight(self.air.tmean, below))

    def hold_clock(self) -> Clock:
        return self.clock_of("hold", lambda: np.clip(self.air.tmean - HOLD_BASE, 0.0, None))

    def frost(self, kill: float, day: Ints, bud: float | None = None, low: bool = False) -> Ints:
        """First day from `day` (years, n) on whose minimum is below `kill`, or `days`; as felt by a `bud`, m
        above the ground, that snow shelters, and by what is `low` enough to lay fleece over where it stands
        under cover."""
        if bud is not None and self._snows:
            shelter = bud
            return self._next(
                ("frost", kill, bud), lambda: next_frost(self._night_under_snow(shelter), kill), day
            )
        share = self.laid_over if low else 1.0
        level = kill / share if kill < 0.0 else kill
        return self._next(("frost", level), lambda: next_frost(self.air.tmin, level), day)

    def spared(self, kill: float, days: int, day: Ints) -> Ints:
        """First day from `day` (years, n) with no minimum below `kill` on it nor on so many days after it, or
        `days` of the axis."""
        def clear() -> Ints:
            frost, today = next_frost(self.air.tmin, kill)[:, :-1], np.arange(self.days)
            return next_that(frost > today + days)

        return self._next(("spared", kill, days), clear, day)

    def snow_and_water(self) -> tuple[Floats, Floats]:
        """Water lying as snow, mm, and what reaches the ground, mm d⁻¹, under what lets rain in."""
        return self.once("snow", lambda: snow_and_water(self.air.rain, self.air.tmean))

    @property
    def _snows(self) -> bool:
        return self.once("snows", lambda: bool(falls_as_snow(self.air.rain, self.air.tmean).any()))

    def _night_under_snow(self, bud: float) -> Floats:
        lying, _ = self.snow_and_water()
        return self.once(("night", bud), lambda: night_under_snow(self.air.tmin, lying, bud))

    def totals(self, name: str) -> Floats:
        """Running totals of tmean, tmax or soil, for means between two days."""
        return self.once(("totals", name), lambda: means(getattr(self.air, name)))

    def flowers_setting(self, set_tmax: float, set_tmin: float | None) -> Floats:
        """Running totals of each day's share of flowers that set in its heat (growth H3) and warm night."""
        return self._lately(("set", set_tmax, set_tmin), lambda: means(self._set(set_tmax, set_tmin)))

    def _set(self, set_tmax: float, set_tmin: float | None) -> Floats:
        by_day = heat_quality(self.air.tmax, set_tmax)
        return by_day if set_tmin is None else by_day * heat_quality(self.air.tmin, set_tmin)

    def soil_ahead(self) -> Floats:
        """Mean soil temperature of the five days from each day; (years, days)."""
        return self._ahead("soil", SOIL_WARM_DAYS)

    def _ahead(self, name: str, days: int) -> Floats:
        """Mean of tmean, tmax or soil over so many days from each day; (years, days)."""
        day = np.arange(self.days)
        return self.once((name, days, "ahead"), lambda: mean_between(self.totals(name), day, day + days))

    def warm(self, least: float, day: Ints) -> Ints:
        """First day from `day` (years, n) whose soil ahead is at least so warm, or `days`."""
        return self._next(("warm", least), lambda: next_frost(-self.soil_ahead(), -least), day)

    def hot(self, mean: float, day: Ints) -> Ints:
        """First day from `day` (years, n) whose three weeks ahead are warmer, or `days`."""
        return self._next(("hot", mean), lambda: next_frost(-self._ahead("tmean", HEAT_DAYS), -mean), day)

    def _next(self, key: Hashable, make: Callable[[], Ints], day: Ints) -> Ints:
        """A table's answers; it is kept in a quarter of its room, for every crop has limits of its own."""
        return looked_up(self.once(key, lambda: make().astype(np.int16)), day)

    def next_long_day(self, offset: float) -> Ints:
        """For each day the first day from it within `offset` hours of the longest; (days + 1,)."""
        threshold = float(self.hours.max()) - offset
        return self.once(("long", offset), lambda: next_frost(-self.hours[None, :], -threshold)[0])


class Settings:
    """Every setting of one ensemble: covers and raising benches, made when first asked for."""

    def __init__(
        self, weather: WeatherYears, unwatered: Unwatered | None = None, lowest: float = inf
    ) -> None:
        self.weather = weather
        self.lowest = lowest
        """°C that the grower's own bench is kept above; without end where none is told"""
        self.unwatered = unwatered
        """the ground, where nobody can water its drills"""
        self.day_of_year = days_of_year(weather.start, weather.days)
        self.hours = day_length(weather.lat, self.day_of_year)
        self._covers: dict[str, Setting] = {}
        self._benches: dict[float, Setting] = {}

    def cover(self, name: CoverName) -> Setting:
        if name not in self._covers:
            air = under_cover(self.weather, name)
            self._covers[name] = Setting(air, self.hours, COVER_EFFECTS[name].laid_over)
        return self._covers[name]

    def raising(self, bought: bool) -> Settings:
        """The same for plants raised on the grower's own bench or, `bought`, on one as they want it."""
        if not bought or self.lowest == inf:
            return self
        there = copy(self)
        there.lowest = inf
        return there

    def bench(self, wants: float) -> Setting:
        """A bench kept above what a way `wants`, °C, or as near to it as the grower's own is."""
        lowest = min(wants, self.lowest)
        if lowest not in self._benches:
            self._benches[lowest] = Setting(raising_bench(self.weather, lowest), self.hours)
        return self._benches[lowest]
