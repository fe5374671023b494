"""Crops for a season that are not full grown when growth stands still (docs/design/outlook.md, O19)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from math import log

import numpy as np
import pytest
from steady import Everywhere, crop, setting

from evenpick.climate.covers import UnderCover
from evenpick.climate.site import Site
from evenpick.crops.crop import Crop, Harvest, Purpose, Season, Way
from evenpick.garden.garden import WeatherChoice
from evenpick.outlook.grow import grow
from evenpick.outlook.outcome import LEAST_SHARE, Fate, Outcome
from evenpick.outlook.setting import Setting
from evenpick.outlook.undersized import LIFTED_AHEAD, SIZE_POWER
from evenpick.outlook.usual_year import STANDSTILL
from evenpick.service.windows import windows

SOW, PLACE = 20, 25
STILL = 160  # the day from which it is too cold to grow; ten °C d a day until then
HAD = (STILL - PLACE) * 10.0
SEASON = Season(60.0)


def effective(day_degrees: float, light: float) -> float:
    """brewster2008, figure 4.51: 1/EDD = 1/DD + 0.6/R, here of the whole season's sums."""
    return 1 / (1 / day_degrees + 0.6 / light)


def test_the_power_is_that_of_the_leeks_of_wellesbourne() -> None:
    """brewster2008, table 4.8: planted 10 April and 3 July, lifted after 168 days."""
    april, july = effective(1403.0, 2938.0), effective(1203.0, 1733.0)
    assert log(69 / 26) / log(april / july) == pytest.approx(SIZE_POWER, abs=0.15)


def winter(frost: int | None = None) -> Setting:
    """Thirteen degrees all along, but for two hundred days of frost-free standstill, and a deadly night."""
    air = setting().air
    tmean = air.tmean.copy()
    tmean[:, STILL : STILL + 200] = 2.0
    tmin = tmean.copy()
    if frost is not None:
        tmin[:, frost] = -12.0
    return Setting(UnderCover(tmin, tmean, tmean, air.radiation, air.rain, tmean), setting().hours)


def life(
    needs: float, purpose: str = "winter use", season: Season | None = SEASON, frost: int | None = None
) -> Outcome:
    plain = crop(thermal_time=needs, season=season, harvest=Harvest("standing", stand=900.0))
    limits = replace(plain.limits, kill_seedling=-9.0, kill_plant=-9.0, kill_edible=-9.0, heat_mean=30.0,
                     set_tmax=None, soil_min=5.0)
    plant: Crop = replace(plain, limits=limits)
    where = Everywhere(winter(frost))
    return grow(plant, Way("direct"), "open", where, np.array([SOW]), np.ones((1, 1)), Purpose(purpose))  # type: ignore[arg-type]


def first(outcome: Outcome) -> int:
    assert Fate(int(outcome.fate[0, 0])) == Fate.GOOD
    return int(outcome.first[0, 0])


def stands_still() -> int:
    """The middle of the first 21 days so cold that less than a quarter of the growth is left."""
    cold = int((1 - STANDSTILL) * 21) + 1
    return STILL + cold - 11


def test_full_grown_before_the_standstill_is_a_full_crop() -> None:
    out = life(HAD - 100.0)
    assert first(out) < STILL
    assert out.share[0, 0] == 1.0


def test_nearly_grown_is_picked_when_growth_stands_still_at_its_size() -> None:
    out = life(HAD / 0.9)
    assert first(out) == stands_still()
    assert float(out.share[0, 0]) == pytest.approx(0.9**SIZE_POWER, rel=1e-3)


def test_too_small_a_crop_grows_on_in_spring() -> None:
    out = life(HAD / (0.95 * LEAST_SHARE ** (1 / SIZE_POWER)))
    assert first(out) > STILL + 200
    assert out.share[0, 0] == 1.0


def test_it_is_lifted_a_week_before_a_frost_that_would_kill_it() -> None:
    out = life(HAD, frost=STILL - 1)
    assert first(out) == STILL - 1 - LIFTED_AHEAD
    had = (STILL - 1 - LIFTED_AHEAD - PLACE) * 10.0
    assert float(out.share[0, 0]) == pytest.approx((had / HAD) ** SIZE_POWER, rel=1e-3)


def test_one_too_small_to_lift_dies_of_it() -> None:
    out = life(HAD, frost=STILL - 60)
    assert Fate(int(out.fate[0, 0])) == Fate.FROSTED


@pytest.mark.parametrize(("purpose", "season"), [("fresh", SEASON), ("winter use", None)])
def test_other_purposes_and_crops_without_a_season_wait_for_their_full_size(
    purpose: str, season: Season | None
) -> None:
    assert first(life(HAD / 0.9, purpose, season)) > STILL + 200


def test_winter_crops_of_dublin_are_not_a_gamble() -> None:
    """Leeks, swedes, celeriac, cabbages and parsnips are grown there (common practice, no source)."""
    asked = ["leek", "swede", "celeriac", "winter-cabbage", "parsnip"]
    found = windows(Site("Dublin", 53.4, -6.2), WeatherChoice(), asked, ("open",), 2027).windows
    best = {key: max(row.success for row in found if row.crop == key) for key in asked}
    assert all(share > 2 / 3 for share in best.values()), best


def test_leeks_are_sown_in_march_and_april() -> None:
    """At 51.8° N, under cover or in place, from March to the end of April (common practice, no source)."""
    rows = windows(Site("Brize Norton", 51.758, -1.578), WeatherChoice(packaged="brize_norton"), ["leek"],
                   ("open",), 2027).windows
    for day in (date(2027, 3, 10), date(2027, 4, 15)):
        assert any(row.opens <= (day.month, day.day) <= row.closes for row in rows)
