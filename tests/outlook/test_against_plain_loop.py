"""The array code against a plain daily loop (docs/design/outlook.md, O1 to O6): same days, same fates."""

from __future__ import annotations

from collections import Counter
from datetime import date
from functools import cache

import numpy as np
import pytest
from plain_loop import Life, live, place_of, stands_still

from evenpick.base.chance import DEFAULT_SEED, stream
from evenpick.base.days import day_number
from evenpick.base.trade import COVERS
from evenpick.climate.site import Site
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Crop
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.grow import grow, parameter_draws
from evenpick.outlook.outcome import Fate
from evenpick.outlook.setting import Settings
from evenpick.service.climate import weather_for

CROPS = load_catalogue().crops
CASES_A_CROP = 5  # sow day and year, for a random way, cover and purpose
SETTINGS = {
    name: Settings(
        weather_for(site, WeatherChoice(packaged=name), day_number(date(2027, 1, 1)), 800, DEFAULT_SEED)
    )
    for name, site in (
        ("dublin_airport", Site("Dublin", 53.43, -6.24)),
        ("brize_norton", Site("Brize Norton", 51.758, -1.578)),
        ("west_palm_beach", Site("West Palm Beach", 26.685, -80.099)),
    )
}


@cache
def lives(key: str, record: str) -> tuple[tuple[Life, Life], ...]:
    """What the array code and the loop say of a few random sowings of a crop."""
    crop = load_catalogue().crop(key)
    random, settings = stream(11, "plain loop", crop.key, record), SETTINGS[record]
    years, pairs = settings.weather.years, []
    factor = parameter_draws(crop, years, DEFAULT_SEED)
    for _ in range(CASES_A_CROP):
        way, purpose = (x[int(random.integers(len(x)))] for x in (crop.ways, crop.purposes))
        sown = crop.grown_for(purpose)
        cover = COVERS[int(random.integers(len(COVERS)))]
        sow, year = int(random.integers(0, 390)), int(random.integers(0, years))
        out = grow(sown, way, cover, settings, np.array([sow]), factor, purpose)
        got = Life(
            *(int(getattr(out, name)[year, 0]) for name in ("up", "place", "first", "last")),
            Fate(int(out.fate[year, 0])).name,
            *(float(getattr(out, name)[year, 0]) for name in ("share", "quality", "emerged")),
        )
        hours = [float(h) for h in settings.hours]
        bench = place_of(settings.bench(way.bench).air, hours, year) if way.name == "raised" else None
        spot = place_of(settings.cover(cover).air, hours, year, 0.53 if cover == "tunnel" else 1.0)
        growth = settings.cover(cover).growth_clock(crop.development).rate
        still = stands_still(sown, purpose.name, growth, sow)
        loop = live(sown, way, spot, bench, sow, float(factor[year, 0]), purpose.thermal_share, still)
        pairs.append((got, loop))
    return tuple(pairs)


@pytest.mark.parametrize("record", SETTINGS)
@pytest.mark.parametrize("crop", CROPS, ids=lambda crop: crop.key)
def test_same_life_day_by_day(crop: Crop, record: str) -> None:
    for got, loop in lives(crop.key, record):
        assert (got.up, got.place, got.first, got.last, got.fate) == (
            loop.up, loop.place, loop.first, loop.last, loop.fate,
        )
        assert (got.share, got.quality, got.emerged) == pytest.approx(
            (loop.share, loop.quality, loop.emerged), abs=1e-5
        )


def test_the_cases_meet_every_fate() -> None:
    met = Counter(got.fate for crop in CROPS for record in SETTINGS for got, _ in lives(crop.key, record))
    unwatered = {Fate.DRIED.name, Fate.PARCHED.name}  # only where nobody waters: test_drying, test_rain_fed
    assert set(met) == {fate.name for fate in Fate} - unwatered
    assert sum(met.values()) == len(SETTINGS) * CASES_A_CROP * len(CROPS)
