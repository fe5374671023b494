"""Yields of ground that only rain waters, reckoned and measured.

    PYTHONPATH=src python authorities/rain_fed.py > authorities/rain_fed.md

`authorities/rain_fed_cases/cases.csv` holds trials that grew the same crop with and without watering. Of each
the share that the rain leaves (docs/design/water.md, 20a) is reckoned for the crop as the catalogue has it,
sown on the case's day, in the weather years of its place (in the one year that was measured where a packaged
record has it), its drill taken to have come up as a trial's does. None of these trials was fitted to: the
balance, roots and Ky are as published.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from evenpick.base.arrays import Floats
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.days import day_number
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.outlook.grow import drinks_until, grow, parameter_draws
from evenpick.outlook.outcome import Fate
from evenpick.outlook.rain_fed import yield_by_rain
from evenpick.outlook.setting import Settings
from evenpick.service.seedbeds import unwatered
from evenpick.service.windows import year_weather

CASES = Path(__file__).with_name("rain_fed_cases") / "cases.csv"
RECORDS = {"Brize Norton": "brize_norton"}
YEAR = 2027
ABOUT = """# Ground that only rain waters, reckoned and measured

Written by `python authorities/rain_fed.py`; how: its docstring. Yield left to the rain over that of watered
ground: as measured, and as reckoned, the mean of the years and those of the dry and the wet year (a tenth
each). Trials water by their own rule, some by no more than half of what was wanted, on one soil that
abstracts hardly describe, in three or four years of which the weather here is not theirs: a tenth either
way says nothing, two tenths over several crops would.

| trial | soil | measured | reckoned | dry to wet year | read |
|---|---|---|---|---|---|"""


@dataclass(frozen=True)
class Case:
    name: str
    source: str
    site: Site
    soil: str
    crop: str
    way: str
    sown: tuple[int, int]
    year: str
    measured: float
    read: str


def cases() -> list[Case]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return [
            Case(row["name"], row["source"],
                 Site(row["place"], float(row["lat"]), float(row["lon"]), float(row["height_m"])),
                 row["soil"], row["crop"], row["way"], (int(row["month"]), int(row["day"])), row["years"],
                 float(row["rain_fed"]) / float(row["watered"]), row["read"])
            for row in csv.DictReader(file)
        ]


def weather_of(case: Case) -> WeatherYears:
    record = RECORDS.get(case.site.name)
    return year_weather(case.site, WeatherChoice(packaged=record), YEAR, DEFAULT_SEED)


def reckoned(case: Case) -> Floats:
    """Share of a watered yield in each year whose watered crop comes good."""
    weather, crop = weather_of(case), load_catalogue().crop(case.crop)
    way = crop.way(case.way)  # type: ignore[arg-type]
    sow = np.array([day_number(date(YEAR, *case.sown)) - weather.start])
    factor = parameter_draws(crop, weather.years, DEFAULT_SEED)
    grown = grow(crop, way, "open", Settings(weather), sow, factor, crop.purposes[0])
    place = grown.place.astype(np.int64)
    begins = place if case.way == "raised" else np.tile(sow, (weather.years, 1))
    end = drinks_until(crop, grown.first.astype(np.int64), grown.last.astype(np.int64))
    ground = unwatered(case.site, Seedbed(case.soil, watered=False))
    left = yield_by_rain(crop, Settings(weather, ground), "open", begins, place, end)
    assert left is not None
    kept = (grown.fate == Fate.GOOD) | (grown.fate == Fate.HEAT)
    if case.year:
        kept &= np.array([[label == case.year] for label in weather.labels])
    return np.asarray(left[kept])


def main() -> None:
    print(ABOUT)
    errors = []
    for case in cases():
        found = reckoned(case)
        low, high = np.quantile(found, (0.1, 0.9))
        errors.append(found.mean() - case.measured)
        band = "" if case.year else f"{low:.2f} to {high:.2f}"
        print(f"| {case.name} ({case.source}) | {case.soil} | {case.measured:.2f} | {found.mean():.2f} | "
              f"{band} | {case.read} |")
    apart = np.array(errors)
    print(f"\nOver {apart.size} trials reckoned less measured: mean {apart.mean():+.2f}, "
          f"square mean {np.sqrt((apart**2).mean()):.2f}.")


if __name__ == "__main__":
    main()
