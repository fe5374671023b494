"""Drills that nobody waters, as a fate and as a hazard (docs/design/water.md, 19 to 21)."""

from __future__ import annotations

import time
from datetime import date

import numpy as np
import pytest

from evenpick.base.chance import DEFAULT_SEED
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.emergence import emergence_rate
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.outlook.drying import ALIKE, bare_ground
from evenpick.outlook.grow import grow, parameter_draws
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import UNSEEN, Seen
from evenpick.outlook.windows import sow_days
from evenpick.service.outlook import outlook
from evenpick.service.seedbeds import drill_dries, unwatered
from evenpick.service.windows import year_weather
from evenpick.soil.reference_et import as_measured, reference_et
from evenpick.soil.seedbed import DEADLY, SPROUTED, bed_of, open_ground
from evenpick.soil.texture import soil_named

BRIZE = Site("Brize Norton", 51.758, -1.578, 82.0)
RECORD = WeatherChoice(packaged="brize_norton")
DRY = Seedbed("sandy loam", watered=False)


@pytest.fixture(scope="module")
def weather() -> WeatherYears:
    return year_weather(BRIZE, RECORD, 2027, DEFAULT_SEED)


def life(weather: WeatherYears, seedbed: Seedbed, crop: str = "carrot", cover: str = "open") -> Outcome:
    plant = load_catalogue().crop(crop)
    factor = parameter_draws(plant, weather.years, DEFAULT_SEED)
    settings = Settings(weather, unwatered(BRIZE, seedbed))
    return grow(plant, plant.way("direct"), cover, settings, sow_days(), factor, plant.purposes[0])  # type: ignore[arg-type]


def test_a_fate_of_its_own_only_where_nobody_waters(weather: WeatherYears) -> None:
    watered, dry = life(weather, Seedbed("sandy loam")), life(weather, DRY)
    assert not (watered.fate == Fate.DRIED).any()
    lost = dry.fate == Fate.DRIED
    assert 0.05 < lost.mean() < 0.7
    assert (dry.share[lost] == 0).all()
    assert not (life(weather, DRY, cover="tunnel").fate == Fate.DRIED).any()


def test_what_nobody_waters_comes_up_late_and_thinly_and_yields_less(weather: WeatherYears) -> None:
    """Seed in dust was taken to come up on its day, and a drill either died whole or stood whole."""
    watered, dry = life(weather, Seedbed("sandy loam")), life(weather, DRY)
    assert (dry.up >= watered.up).all()
    june, winter = slice(160, 190), slice(0, 25)
    assert np.median(dry.up[:, june] - watered.up[:, june]) >= 7
    assert (dry.up[:, winter] == watered.up[:, winter]).mean() > 0.8
    both = (dry.fate == Fate.GOOD) & (watered.fate == Fate.GOOD)
    assert (both & (dry.share < 0.9 * watered.share)).mean() > 0.03
    assert (dry.fate[:, winter] == Fate.DRIED).mean() < 0.02


def test_quick_seed_can_dry_out_too(weather: WeatherYears) -> None:
    """Up in four or five days, so that there are hardly two evenings between sprouting and coming up."""
    july = life(weather, DRY, "radish").fate[:, 200:220]
    assert 0.15 < (july == Fate.DRIED).mean() < 0.6


def test_as_seeds_followed_one_by_one_have_it(weather: WeatherYears) -> None:
    """The cheap way (one balance for all sow days, three runs of spells a sowing) against 500 seeds of every
    sowing followed day by day: each waits where it is dry and dies where it has sprouted and is not up."""
    settings, plant = Settings(weather, unwatered(BRIZE, DRY)), load_catalogue().crop("carrot")
    air, needs = settings.cover("open").air, plant.emergence.thermal_time
    et0 = reference_et(
        air.tmin,
        air.tmax,
        air.radiation,
        weather.lat,
        settings.day_of_year,
        82.0,
        *as_measured(air.tmin, air.tmax, air.vapour_pressure, air.wind),
    )
    bed = bed_of(soil_named("sandy loam"), plant.spacing.depth)
    dry = open_ground(air.rain, et0, bed)[0][:, 1:] <= DEADLY * bed.dry
    warmth = emergence_rate(air.soil, plant.emergence)
    level = (np.arange(500) + 0.5) / 500
    seeds = (level / (1 - level)) ** (1 / ALIKE)
    bare = bare_ground(settings, plant.way("direct"), "open", plant.spacing.depth)
    assert bare is not None
    apart = []
    for sow in (100, 130, 171, 220, 250):
        days = np.full((weather.years, 1), sow)
        up = bare.clock(plant.emergence).reach(days, needs)
        found = bare.living(plant.emergence, days, up)[:, 0]
        for year in range(weather.years):
            had, alive = 0.0, np.ones(500, dtype=bool)
            day = sow
            while had < needs - 1e-6 and day < weather.days:
                day += 1
                had += 0.0 if dry[year, day - 1] else warmth[year, day - 1]
                if had < needs - 1e-6 and day - 1 > sow and dry[year, day - 1] and dry[year, day - 2]:
                    share = had / needs
                    alive &= (seeds * SPROUTED > share) | (seeds <= share)
            if day < weather.days:
                assert up[year, 0] == day - 1, (sow, year)
                apart.append(abs(alive.mean() - found[year]))
    assert max(apart) < 0.005


@pytest.mark.parametrize("cover", ["fleece", "cloche"])
def test_the_fate_and_the_hazard_reckon_with_the_same_still_air_under_a_cover(
    weather: WeatherYears, cover: str
) -> None:
    """The fate reckoned with the open's wind under fleece, the hazard with still air."""
    settings, outcome = Settings(weather), life(weather, DRY, cover=cover)
    for day in (120, 171, 200):
        lost = (outcome.fate[:, day] == Fate.DRIED).mean()
        hazard, _ = drill_dries(outcome.at(np.array([day])), settings, BRIZE, DRY.soil)
        assert lost == pytest.approx(hazard, abs=0.03), day


def under_way(weather: WeatherYears, seen: Seen) -> Outcome:
    """Carrots sown on three days of June, as somebody saw them."""
    plant, sow = load_catalogue().crop("carrot"), np.array([165, 171, 177])
    factor = parameter_draws(plant, weather.years, DEFAULT_SEED)
    settings = Settings(weather, unwatered(BRIZE, DRY))
    return grow(plant, plant.way("direct"), "open", settings, sow, factor, plant.purposes[0], seen)


def test_what_is_in_the_drill_and_not_yet_up_can_still_dry_out(weather: WeatherYears) -> None:
    """What was seen to be up is safe. Of what was not, no word is no word that it lives until a fortnight
    after it should be up: seed dies where nobody sees it, and the dry days of the season so far count."""
    never = np.full(3, UNSEEN)
    lost = life(weather, DRY).fate[:, [165, 171, 177]] == Fate.DRIED
    new = under_way(weather, Seen(never, never)).fate == Fate.DRIED
    assert lost.mean() > 0.3
    assert np.array_equal(new, lost)
    assert not (under_way(weather, Seen(np.array([170, 176, 182]), never)).fate == Fate.DRIED).any()
    by_now = under_way(weather, Seen(never, never, alive=np.array([171, 177, 183]))).fate == Fate.DRIED
    assert np.array_equal(by_now, new)
    later = under_way(weather, Seen(never, never, alive=np.array([200, 206, 212]))).fate == Fate.DRIED
    assert (later <= new).all()
    assert 0 < later.mean() < new.mean()
    past = under_way(weather, Seen(never, never, alive=np.array([400, 400, 400])))
    assert not (past.fate == Fate.DRIED).any()


def test_all_sow_days_cost_little(weather: WeatherYears) -> None:
    """0.05 s more of one core measured, for 37 years of 810 days and 390 sow days; 0.014 s without."""
    began = time.process_time()
    life(weather, DRY)
    assert time.process_time() - began < 1.5


@pytest.mark.parametrize(("crop", "sow"), [("carrot", date(2027, 6, 20)), ("carrot", date(2027, 3, 20))])
def test_told_beside_the_fates(crop: str, sow: date) -> None:
    told = outlook(BRIZE, RECORD, crop, sow)
    assert told.drill is not None
    assert dict(told.fates)["dried out in the drill"] == 0
    assert told.drill.watered <= 0.05
    assert 0.3 < told.drill.unwatered < 0.9


def test_where_nobody_waters_it_is_a_fate_and_the_fates_still_make_one() -> None:
    told = outlook(BRIZE, RECORD, "carrot", date(2027, 6, 20), seedbed=DRY)
    fates = dict(told.fates)
    assert told.drill is not None
    assert not told.drill.can_water
    assert fates["dried out in the drill"] == pytest.approx(told.drill.unwatered, abs=0.08)
    assert sum(fates.values()) == pytest.approx(1.0)


def test_an_untouched_drill_dries_less_on_the_soil_that_holds_more_and_in_the_wetter_month() -> None:
    def share(soil: str, sow: date) -> float:
        told = outlook(BRIZE, RECORD, "radish", sow, seedbed=Seedbed(soil)).drill
        assert told is not None
        return told.unwatered

    spring, autumn = date(2027, 4, 20), date(2027, 10, 1)
    assert share("silt loam", spring) <= share("sand", spring)
    assert share("loam", autumn) < share("loam", spring)


def test_nothing_to_dry_where_it_is_raised() -> None:
    assert outlook(BRIZE, RECORD, "leek", date(2027, 3, 20), way="raised").drill is None
