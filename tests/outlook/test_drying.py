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
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.outlook.grow import grow, parameter_draws
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import UNSEEN, Seen
from evenpick.outlook.windows import sow_days
from evenpick.service.outlook import outlook
from evenpick.service.seedbeds import drill_dries, unwatered
from evenpick.service.windows import year_weather
from evenpick.soil.reference_et import as_measured, reference_et
from evenpick.soil.seedbed import DEADLY, bed_of, dry_spell, open_ground
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
    assert np.array_equal(dry.fate[~lost], watered.fate[~lost])
    assert not (life(weather, DRY, cover="tunnel").fate == Fate.DRIED).any()


def test_as_the_seedbed_has_it_sowing_by_sowing(weather: WeatherYears) -> None:
    """The cheap way (one balance for all sow days) against a search of each sowing's own days."""
    settings, plant = Settings(weather), load_catalogue().crop("carrot")
    air, up = settings.cover("open").air, life(weather, DRY).up.astype(np.int64)
    et0 = reference_et(air.tmin, air.tmax, air.radiation, weather.lat, settings.day_of_year, 82.0,
                       *as_measured(air.tmin, air.tmax, air.vapour_pressure, air.wind))
    bed = bed_of(soil_named("sandy loam"), plant.spacing.depth)
    evening = open_ground(air.rain, et0, bed)[0][:, 1:] <= DEADLY * bed.dry
    fate = life(weather, DRY).fate
    for day in (20, 120, 171, 240, 330):
        began = day + np.ceil((up[:, day] - day) / 2).astype(np.int64)
        by_hand = dry_spell(evening, began, np.minimum(up[:, day], weather.days))
        earlier = np.isin(fate[:, day], (Fate.TOO_HOT, Fate.TOO_COLD))
        assert np.array_equal((fate[:, day] == Fate.DRIED)[~earlier], by_hand[~earlier])


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
    """What stood was never lost to drought, be it sown yesterday. What was seen to be up is safe; no word
    of a loss up to a day is a word that it lives."""
    never = np.full(3, UNSEEN)
    lost = life(weather, DRY).fate[:, [165, 171, 177]] == Fate.DRIED
    new = under_way(weather, Seen(never, never)).fate == Fate.DRIED
    assert lost.mean() > 0.3
    assert np.array_equal(new, lost)
    assert not (under_way(weather, Seen(np.array([170, 176, 182]), never)).fate == Fate.DRIED).any()
    by_now = under_way(weather, Seen(never, never, alive=np.array([171, 177, 183]))).fate == Fate.DRIED
    assert (by_now <= new).all()
    assert 0 < by_now.mean() < new.mean()
    past = under_way(weather, Seen(never, never, alive=np.array([220, 220, 220])))
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
