"""Where winters are warm and summers stop growth (docs/design/outlook.md, O6, O9, O18, O21, O22).

The places are real, their weather made of the packaged normals. What growers there do is common practice, no
source, unless one is named."""

from __future__ import annotations

import numpy as np
import pytest
from real_places import at, grown, offered, open_air, weather

from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.first_frost import BELOW_BEST, FROST, season_ends, time_to_spare, usual_frosts
from evenpick.outlook.grow import grow
from evenpick.outlook.outcome import Fate
from evenpick.outlook.season import OVERWINTERING
from evenpick.outlook.setting import Settings
from evenpick.outlook.stages import UNSEEN, Seen
from evenpick.outlook.usual_year import (
    has_frosts,
    has_winter,
    midwinter,
    standstill,
    usual_mean,
    winter_standstill,
)
from evenpick.outlook.windows import fold


@pytest.mark.parametrize("crop", ["spinach", "early-carrot", "beetroot", "calabrese"])
@pytest.mark.parametrize("place", ["phoenix", "delhi"])
def test_a_summer_that_stops_growth_is_no_winter(place: str, crop: str) -> None:
    """Roots and leaf are sown through the cool months: nothing stands still in them."""
    here = open_air(place)
    growth = load_catalogue().crop(crop).development
    assert (winter_standstill(growth, here) == here.days).all()
    assert all(offered(place, crop, month, 1) for month in (11, 12))


def test_heat_stops_growth_too_and_cold_still_makes_a_winter() -> None:
    spinach, leek = (load_catalogue().crop(key).development for key in ("spinach", "leek"))
    phoenix, dublin = (open_air(place) for place in ("phoenix", "dublin"))
    assert standstill(spinach, phoenix)[0] < phoenix.days
    assert np.array_equal(standstill(leek, dublin), winter_standstill(leek, dublin))


def test_what_is_sown_late_in_a_mild_winter_is_not_too_near_its_first_frost() -> None:
    """Half of Riverside's winters have had frost only by February, after the coldest days: beans sown in
    mid-January are picked at the end of March, when no frost is due."""
    settings = Settings(weather("riverside"))
    here = settings.cover("open")
    frost = int(usual_frosts(here, FROST)[at("riverside", 1, 1)])
    coldest = int(midwinter(here)[0])
    assert coldest < frost < 60  # of the winter that the axis begins in
    (beans,) = grown("riverside", "dwarf-bean")
    spare = time_to_spare(beans.outcome, here, beans.score.days[50])
    assert spare[at("riverside", 1, 15)]
    assert not spare[at("riverside", 10, 25)]


@pytest.mark.parametrize(("crop", "month"), [("spinach", 11), ("early-carrot", 10), ("calabrese", 9)])
def test_what_bears_frost_is_sown_on_where_there_is_no_winter(crop: str, month: int) -> None:
    """Houston has frost in most winters, and its growers pick between them."""
    assert usual_frosts(open_air("houston"), FROST)[at("houston", 9, 1)] < 400
    assert offered("houston", crop, month, 1)
    assert not offered("houston", "dwarf-bean", month, 20)


@pytest.mark.parametrize("crop", ["early-carrot", "kale", "pea", "broad-bean", "spinach"])
def test_there_is_no_winter_to_stand_through_at_tampa(crop: str) -> None:
    assert not has_winter(open_air("tampa"))
    overwintering = [made for made in grown("tampa", crop) if made.outcome.purpose.name == OVERWINTERING]
    assert overwintering
    assert not any(made.windows for made in overwintering)
    assert has_winter(open_air("dublin"))


def test_pods_due_before_midwinter_do_not_wait_for_spring() -> None:
    """Beans of August would be in flower by winter; those of November are picked in May and June."""
    beans = next(made for made in grown("dublin", "broad-bean") if made.outcome.purpose.name == OVERWINTERING)
    august, november = (beans.outcome.fate[:, at("dublin", month, 10)] for month in (8, 11))
    assert (august == Fate.TOO_LATE).mean() > 0.5
    assert (november == Fate.GOOD).mean() > 0.5
    assert not offered("dublin", "broad-bean", 8, 25)
    assert offered("dublin", "broad-bean", 11, 1)


def test_pods_of_plants_seen_alive_after_midwinter_come() -> None:
    """Beans of August at Dublin that stand in March flower again."""
    settings, beans = Settings(weather("dublin")), load_catalogue().crop("broad-bean")
    purpose = next(one for one in beans.purposes if one.name == OVERWINTERING)
    sow, march = np.array([at("dublin", 8, 10)]), np.array([at("dublin", 12, 31) + 60])
    factor = np.ones((settings.weather.years, 1))
    nobody = np.array([UNSEEN])
    lost, stands = (
        grow(beans, beans.ways[0], "open", settings, sow, factor, purpose, seen)
        for seen in (None, Seen(nobody, nobody, None, march))
    )
    assert (lost.fate == Fate.TOO_LATE).mean() > 0.5
    assert (stands.fate == Fate.GOOD).mean() > 0.8


@pytest.mark.parametrize("place", ["seville", "mobile", "houston"])
def test_pods_that_bear_frost_stand_in_flower_through_a_mild_winter(place: str) -> None:
    """Broad beans and peas of October are picked from January on; what flowered in the autumn was lost where
    the coldest weeks are a degree too cool for pods to fill."""
    for day in (1, 15, 28):
        assert offered(place, "broad-bean", 10, day)
    assert offered(place, "pea", 10, 20)
    beans = next(made for made in grown(place, "broad-bean") if made.outcome.purpose.name == "fresh")
    assert (beans.outcome.fate[:, at(place, 10, 8)] == Fate.GOOD).mean() > 0.75
    runners = next(made for made in grown(place, "dwarf-bean") if made.outcome.way.name == "direct")
    assert (runners.outcome.fate[:, at(place, 10, 28)] == Fate.GOOD).mean() < 0.3  # frost would kill these


def test_onions_of_short_days_still_overwinter_there() -> None:
    assert offered("tampa", "onion", 11, 1)


def test_onions_too_big_by_midwinter_bolt() -> None:
    """Sown early in August they do at 52° N, in its second half not (brewster2008, page 289); where autumns
    are warm they are sown weeks later."""
    outcomes = (made.outcome for made in grown("wellesbourne", "onion"))
    direct = next(one for one in outcomes if (one.way.name, one.purpose.name) == ("direct", OVERWINTERING))

    def bolted(month: int, day: int) -> float:
        return float((direct.fate[:, at("wellesbourne", month, day)] == Fate.BOLTED).mean())

    assert bolted(8, 3) > 0.6
    assert bolted(8, 20) < 0.2
    assert not offered("houston", "onion", 9, 10)
    assert offered("houston", "onion", 10, 15)


def test_tomatoes_at_tampa_are_for_spring_and_autumn() -> None:
    """Nights over 22 to 26 °C let few flowers set (echotomato); what flowers in them is no good sowing."""
    assert offered("tampa", "tomato", 1, 10)
    assert offered("tampa", "tomato", 7, 20)
    assert not offered("tampa", "tomato", 4, 5)


def test_a_night_at_the_limit_halves_the_set() -> None:
    here = open_air("singapore")
    with_nights = np.diff(here.flowers_setting(60.0, 24.0), axis=1)
    night = here.air.tmin[:, : with_nights.shape[1]]
    share = 1.0 / (1.0 + np.exp((night - 24.0) / 0.9))
    assert with_nights == pytest.approx(share, abs=1e-6)


def test_heat_that_leaves_next_to_nothing_leaves_no_window() -> None:
    """Singapore's nights spoil tomatoes in four years of five whenever they are sown, and leave peppers a
    short season; in Boise's dry heat beans set enough to be sown in May."""
    (tomato,), (pepper,) = grown("singapore", "tomato"), grown("singapore", "pepper")
    assert tomato.score.sound.max() < 0.3
    assert not tomato.windows
    assert pepper.windows
    for window in pepper.windows:
        days = [fold(day) for day in range(window.opens, window.closes + 1)]
        assert pepper.score.quality[days].min() >= 0.1
        assert pepper.score.sound[days].mean() >= 0.3
    assert offered("boise", "dwarf-bean", 5, 25)


def test_large_seed_lies_long_in_cold_ground() -> None:
    """Field beans are sown in the first week of February (winterbeans), broad beans in Ireland in the middle
    of it (a Dublin newspaper's column, irishtimesbeans)."""
    assert offered("dublin", "broad-bean", 2, 7)
    assert offered("dublin", "broad-bean", 2, 15)


def test_potatoes_do_not_lie_through_a_winter() -> None:
    for crop in ("early-potato", "main-potato"):
        assert not any(offered("reykjavik", crop, month, 15) for month in (9, 10, 11))
    assert offered("reykjavik", "early-potato", 5, 10)


def test_what_heat_keeps_from_starting_is_not_told_as_cold() -> None:
    (celery,) = grown("singapore", "celery")
    assert (celery.outcome.fate != Fate.TOO_COLD).all()
    assert celery.score.against[at("singapore", 1, 1)] == "too hot to start"


@pytest.mark.parametrize(("crop", "level"), [
    ("tomato", 18.3), ("pepper", 18.3), ("aubergine", 18.3), ("cucumber", 15.6), ("dwarf-bean", 15.0),
])
def test_where_no_frost_is_usual_a_season_ends_as_it_grows_too_cool(crop: str, level: float) -> None:
    """Least monthly means for growth and quality: knott1997, appendix 5 of UC Santa Cruz, unit 1.3 (65 °F for
    tomato, sweet pepper and eggplant, 60 °F for cucumber). San Diego's warmest weeks have over 20 °C."""
    one, here = load_catalogue().crop(crop), open_air("san diego")
    usual = usual_mean(here)
    ends = int(season_ends(one, here)[at("san diego", 7, 1)])
    assert usual[ends] < level <= usual[ends - 1]


def test_where_summers_are_hardly_so_warm_it_ends_a_little_under_their_best() -> None:
    """San Francisco's airport: the best three weeks have 17 to 19 °C."""
    here = open_air("san francisco")
    usual, start = usual_mean(here), at("san francisco", 9, 1)
    best = float(usual.max())
    assert 16.0 < best < 18.3 + BELOW_BEST
    for crop in ("tomato", "pepper"):
        ends = int(season_ends(load_catalogue().crop(crop), here)[start])
        assert usual[ends] < best - BELOW_BEST <= usual[ends - 1]


def test_tomatoes_of_the_coast_are_not_planted_for_the_winter() -> None:
    """City of San Diego's months end with July for the coast (authorities/calendars, tuning half)."""
    assert offered("san diego", "tomato", 5, 15)
    assert not offered("san diego", "tomato", 8, 15)


def test_a_frost_of_mild_winters_ends_no_season() -> None:
    """Oakland and Seville: half of the winters bring one, the coldest weeks have 10.3 °C and more (O18).
    Tomatoes go out in May at the first (ucregions); at the second lettuce is planted all autumn."""
    for place in ("oakland", "seville"):
        assert usual_frosts(open_air(place), FROST)[0] < open_air(place).days
        assert not has_frosts(open_air(place))
    for place in ("oakland", "san mateo"):
        assert offered(place, "tomato", 4, 1)
        assert not offered(place, "tomato", 7, 1)
    assert all(offered("seville", "crisp-lettuce", month, 15) for month in (9, 10, 11))
