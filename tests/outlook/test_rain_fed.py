"""What stands in ground that nobody waters lives and yields by the rain (docs/design/water.md, 20a)."""

from __future__ import annotations

import numpy as np
import pytest

from evenpick.base.chance import DEFAULT_SEED
from evenpick.climate.site import Site
from evenpick.climate.weather import WeatherYears
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import Seedbed, WeatherChoice
from evenpick.outlook.grow import grow, parameter_draws
from evenpick.outlook.outcome import Fate, Outcome
from evenpick.outlook.rain_fed import LEAST_YIELD, yield_by_rain
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import UNSEEN, Seen
from evenpick.outlook.windows import sow_days
from evenpick.service.seedbeds import unwatered
from evenpick.service.windows import year_weather
from evenpick.soil.crop_coefficients import SHORTEST, Growing, crop_water
from evenpick.soil.texture import soil_named
from evenpick.soil.water_balance import balance, kc_max

BRIZE = Site("Brize Norton", 51.758, -1.578, 82.0)
PUNE = Site("Pune", 18.52, 73.86, 554.0)
MAY, DECEMBER = slice(140, 160), slice(334, 360)
RAIN, CAN = Seedbed("loam", watered=False), Seedbed("loam")


@pytest.fixture(scope="module")
def weather() -> WeatherYears:
    """Rains from June to October, next to none in the other seven months."""
    return year_weather(PUNE, WeatherChoice(), 2027, DEFAULT_SEED)


def okra(weather: WeatherYears, seedbed: Seedbed, cover: str = "open", seen: Seen | None = None) -> Outcome:
    plant = load_catalogue().crop("okra")
    days = sow_days() if seen is None else sow_days()[DECEMBER][:1]
    factor = parameter_draws(plant, weather.years, DEFAULT_SEED)
    settings = Settings(weather, unwatered(PUNE, seedbed))
    return grow(plant, plant.way("raised"), cover, settings, days, factor, plant.purposes[0], seen)  # type: ignore[arg-type]


def test_nothing_stands_a_dry_season_that_nobody_waters(weather: WeatherYears) -> None:
    """Okra was planned to be set out in December and picked till April, where no rain falls."""
    rain, can = okra(weather, RAIN), okra(weather, CAN)
    assert (can.fate[:, DECEMBER] == Fate.GOOD).mean() > 0.9
    assert not (can.fate == Fate.PARCHED).any()
    assert (rain.fate[:, DECEMBER] == Fate.PARCHED).mean() > 0.95
    assert (rain.share[rain.fate == Fate.PARCHED] == 0).all()


def test_what_grows_through_the_rains_hardly_yields_less(weather: WeatherYears) -> None:
    rain, can = okra(weather, RAIN), okra(weather, CAN)
    assert (rain.fate[:, MAY] == Fate.GOOD).mean() > 0.95
    assert 0.8 < rain.share[:, MAY].sum() / can.share[:, MAY].sum() < 1.0
    lived = rain.fate == Fate.GOOD
    assert (rain.share[lived] <= can.share[lived] + 1e-6).all()
    assert (rain.share[lived] >= 0.99 * LEAST_YIELD * can.share[lived]).all()


def test_a_tunnel_is_watered_or_is_no_tunnel(weather: WeatherYears) -> None:
    assert not (okra(weather, RAIN, "tunnel").fate == Fate.PARCHED).any()


def test_what_was_picked_was_not_lost(weather: WeatherYears) -> None:
    """It may yield little, but what was seen to bear after months without rain is not told as dead."""
    sow = int(sow_days()[DECEMBER][0])
    never = np.array([UNSEEN])
    seen = Seen(never, never, first=np.array([sow + 60]), alive=np.array([sow + 61]))
    assert (okra(weather, RAIN, seen=seen).fate != Fate.PARCHED).all()


def test_as_the_water_balance_of_one_sowing_has_it(weather: WeatherYears) -> None:
    """All sow days at once against the paper's whole balance, of roots full grown in ground that is full."""
    settings, plant = Settings(weather, unwatered(PUNE, RAIN)), crop_water("okra")
    crop = load_catalogue().crop("okra")
    here = settings.cover("open")
    start, length = 250, 80  # September: the ground is full
    stands = np.full((weather.years, 1), start)
    made = yield_by_rain(crop, settings, "open", stands, stands, stands + length)
    assert made is not None
    et0 = here.once(("et0", 554.0), lambda: np.empty(0))
    days = slice(start + 1, start + length + 1)
    share = np.arange(1, length + 1)[None, :] / length
    first, grows, _, late = plant.stages
    grown, aged = np.clip((share - first) / grows, 0, 1), np.clip((share - 1 + late) / late, 0, 1)
    kcb = plant.kcb_ini + (plant.kcb_mid - plant.kcb_ini) * grown + (plant.kcb_end - plant.kcb_mid) * aged
    height = SHORTEST + (plant.height - SHORTEST) * grown
    kcb, height = (np.broadcast_to(each, et0[:, days].shape) for each in (kcb, height))
    whole = balance(
        here.air.rain[:, days], et0[:, days], kc_max(2.0, 45.0, height, kcb),
        Growing(kcb, height, np.full(kcb.shape, plant.roots_deep)), plant.p, soil_named("loam"),
        np.zeros(kcb.shape), np.full(kcb.shape, np.inf),
    )
    lost = whole.evaporation.sum(axis=1)
    used = (whole.transpiration.sum(axis=1) + lost) / ((kcb * et0[:, days]).sum(axis=1) + lost)
    assert plant.response == 1.0
    assert np.median(np.abs(made[:, 0] - used)) < 0.05
    assert (made[:, 0] <= used + 0.02).all()


@pytest.fixture(scope="module")
def england() -> WeatherYears:
    return year_weather(BRIZE, WeatherChoice(packaged="brize_norton"), 2027, DEFAULT_SEED)


def test_ground_is_bare_until_what_was_planted_is_up(england: WeatherYears) -> None:
    """Potatoes planted on 10 April come up at the end of May. Weeds were taken to drink all that time as from
    ground between crops, so that half of the winter's water was gone before the first leaf."""
    settings, crop = Settings(england, unwatered(BRIZE, RAIN)), load_catalogue().crop("main-potato")
    planted = np.full((england.years, 1), int(sow_days()[100]))
    up, end = planted + 50, planted + 140
    bare = yield_by_rain(crop, settings, "open", planted, up, end)
    weedy = yield_by_rain(crop, settings, "open", up, up, end)
    assert bare is not None
    assert weedy is not None
    assert (bare >= weedy - 1e-3).mean() > 0.9  # a shower of June wets bare ground a little less
    assert np.median(bare - weedy) > 0.05


def test_the_yield_falls_by_the_crops_own_factor(england: WeatherYears) -> None:
    """Equation 90: of two crops that go without as much, that with the greater Ky yields less."""
    assert crop_water("sweetcorn").response == 1.25
    assert crop_water("winter-cabbage").response == 0.95
    assert crop_water("beetroot").response == 1.0  # FAO has none of it
    settings, peas = Settings(england, unwatered(BRIZE, RAIN)), load_catalogue().crop("pea")
    begins = np.full((england.years, 1), int(sow_days()[110]))
    given = yield_by_rain(peas, settings, "open", begins, begins + 14, begins + 90)
    assert given is not None
    dry = given[given < 1.0]
    assert dry.size
    assert (dry >= 1.0 - crop_water("pea").response).all()
