"""Learning on simulated growers: how far off first pickings are after some records, and what the band holds.

    python authorities/learning.py > authorities/learning.md

Growers are drawn, the weather is real: every sowing is grown in one year of the Dublin Airport record with
the grower's own thermal time (site, crop and single-sowing effects), and is recorded with that year's
weather as measured. The next sowing is then foretold from the other years. Nothing here was tuned on.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from scipy import stats

from evenpick.base.arrays import Floats
from evenpick.base.chance import stream
from evenpick.base.days import parse_date
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.garden.diary import Sowed
from evenpick.garden.garden import WeatherChoice
from evenpick.garden.record import Sowing, Taken
from evenpick.learn.learned import Learned
from evenpick.learn.observed import timing
from evenpick.learn.shrinking import TIMING, YIELD, Evidence, shrink
from evenpick.outlook.grow import grow
from evenpick.outlook.setting import Settings
from evenpick.service.climate import weather_for

SITE = Site("Dublin Airport", 53.43, -6.24, 71.0)
START = parse_date("2027-01-01")
SPAN = 480
CROPS = ("radish", "cos-lettuce", "dwarf-bean", "beetroot", "kohlrabi")
SOW_DAYS = (100, 190)
"""days of the year between which all five are worth sowing there"""
GROWERS = 250
RECORDS = (0, 3, 10, 20)
WRONG = 0.1
"""share of wrong records: a day of first picking moved by 30 to 60 days"""
SEED = 20_270_301


@dataclass(frozen=True, slots=True)
class Truth:
    """How far growers differ: standard deviations of ln(thermal time)."""

    name: str
    site: float
    crop: float
    sowing: float


TRUTHS = (
    Truth("as the prior has it", TIMING.site, TIMING.crop, TIMING.residual),
    Truth("growers more alike", 0.08, 0.10, 0.09),
    Truth("single sowings wilder", TIMING.site, TIMING.crop, 0.14),
)


@cache
def weather() -> WeatherYears:
    return weather_for(SITE, WeatherChoice(packaged="dublin_airport"), START, SPAN, SEED)


@cache
def settings(years: tuple[int, ...]) -> Settings:
    """The settings of some of the years alone."""
    return Settings(weather().of_years(np.array(years)))


def first_day(crop: Crop, day: int, year: int, factor: float) -> int:
    """Day of first picking in one year; the axis's end where there is none."""
    outcome = grow(crop, crop.way("direct"), "open", settings((year,)), np.array([day]),
                   np.array([[factor]]), crop.purposes[0])
    return int(outcome.first[0, 0])


def foretold(crop: Crop, day: int, year: int) -> Floats:
    """10, 50, 90 % of the days of first picking over the other years, with the crop's own spread."""
    others = tuple(other for other in range(weather().years) if other != year)
    here = settings(others)
    levels = stats.norm.ppf((np.arange(here.weather.years) + 0.5) / here.weather.years)
    factor = np.exp(crop.thermal_time_sd * stream(SEED, "levels", crop.key).permutation(levels))[:, None]
    outcome = grow(crop, crop.way("direct"), "open", here, np.array([day]), factor, crop.purposes[0])
    return np.asarray(np.quantile(outcome.first[:, 0].astype(float), (0.1, 0.5, 0.9)))


def record(crop: Crop, day: int, year: int, first: int) -> list[Evidence]:
    """What learning makes of one sowing of the diary, in the weather of its year."""
    sowing = Sowing(f"{day}", START + day, Sowed(crop.key, "direct", "open", 1.0), None, "open", 1.0,
                    pickings=(Taken(START + first, None, None),))
    return timing(crop, [sowing], settings((year,)))


def grower(number: int, truth: Truth, wrong: float) -> list[tuple[int, float, bool, float]]:
    """(records, error in days, inside the band, band's width) after each number of records."""
    dice = stream(SEED, truth.name, str(wrong), str(number))
    crops = [load_catalogue().crop(key) for key in CROPS]
    site = truth.site * dice.normal()
    own = {crop.key: site + truth.crop * dice.normal() for crop in crops}

    def sown() -> tuple[Crop, int, int, int]:
        crop = crops[int(dice.integers(len(crops)))]
        day, year = int(dice.integers(*SOW_DAYS)), int(dice.integers(weather().years))
        factor = np.exp(own[crop.key] + truth.sowing * dice.normal())
        return crop, day, year, first_day(crop, day, year, factor)

    records: list[Evidence] = []
    found = []
    for wanted in RECORDS:
        while len(records) < wanted:
            crop, day, year, first = sown()
            if dice.random() < wrong:
                first += int(dice.choice((-1, 1)) * dice.integers(30, 61))
            records += record(crop, day, year, first) if first < SPAN else []
        learned = Learned(shrink(records, TIMING), shrink([], YIELD))
        crop, day, year, first = sown()
        low, likely, high = foretold(learned.crop(crop, "open"), day, year)
        found.append((wanted, abs(first - likely), low <= first <= high, high - low))
    return found


def main() -> None:
    print("# Learning: agreement\n")
    print("Written by `python authorities/learning.py`. Simulated growers, real years of Dublin Airport: "
          f"{GROWERS} growers a row, crops {', '.join(CROPS)}, sown in place between days {SOW_DAYS[0]} and "
          f"{SOW_DAYS[1]} of the year, seed {SEED}. Error: of the likely day of the next first picking, "
          "foretold from the other years. Band: 10 to 90 %.\n")
    print("| growers | wrong records | records | mean error, d | median, d | band holds, % | width, d |")
    print("|---|---|---|---|---|---|---|")
    for truth in TRUTHS:
        for wrong in (0.0, WRONG):
            rows = [row for number in range(GROWERS) for row in grower(number, truth, wrong)]
            for wanted in RECORDS:
                found = np.array([row[1:] for row in rows if row[0] == wanted], dtype=float)
                error, inside, width = found.mean(axis=0)
                print(f"| {truth.name} | {wrong:.0%} | {wanted} | {error:.1f} | "
                      f"{np.median(found[:, 0]):.1f} | {inside * 100:.0f} | {width:.1f} |")


if __name__ == "__main__":
    main()
