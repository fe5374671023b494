"""Where winters are long: leaf that grows again in spring, tunnels in hard frost, what is planted before and
after it (docs/design/outlook.md, O3, O5, O9, O18; covers.md, 12).

The places are real, their weather made of the packaged normals. What growers there do is common practice, no
source, unless one is named."""

from __future__ import annotations

import numpy as np
import pytest
from real_places import at, grown, offered, open_air, weather

from evenpick.base.trade import CoverName
from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.outcome import CHILLED, Fate, fate_word
from evenpick.outlook.season import OVERWINTERING
from evenpick.outlook.setting import Settings
from evenpick.outlook.usual_year import growth_comes_back, midwinter
from evenpick.outlook.windows import Calendar


def made(place: str, crop: str, purpose: str, cover: CoverName = "open") -> Calendar:
    return next(one for one in grown(place, crop, cover) if one.outcome.purpose.name == purpose)


@pytest.mark.parametrize(("place", "crop"), [
    ("minneapolis", "spinach"), ("burlington", "spinach"), ("saskatoon", "spinach"), ("harbin", "spinach"),
    ("minneapolis", "lambs-lettuce"), ("harbin", "lambs-lettuce"), ("saskatoon", "lambs-lettuce"),
])
def test_greens_winter_in_the_tunnels_of_continents(place: str, crop: str) -> None:
    """As in Maine (coleman2009): none, while a tunnel was a degree warmer than the night outside."""
    found = made(place, crop, OVERWINTERING, "tunnel")
    assert found.judged(at(place, 9, 12)) == "worth"


@pytest.mark.parametrize(("place", "month", "day"), [
    ("trondheim", 8, 25), ("trondheim", 9, 14), ("helsinki", 9, 1), ("helsinki", 9, 16),
    ("burlington", 9, 10),
])
def test_spinach_cut_before_the_snow_is_cut_again_after_it(place: str, month: int, day: int) -> None:
    """Frost that took the leaf ended it, though the plant lived: nothing of August was offered for spring."""
    assert made(place, "spinach", OVERWINTERING).judged(at(place, month, day)) == "worth"


def test_a_hard_frost_comes_into_a_tunnel_in_part() -> None:
    """-27 °C outside, -18 in it, in northern Wisconsin (washburntunnel2015); fleece on low crops."""
    settings = Settings(weather("minneapolis"))
    outside, inside = settings.cover("open").air.tmin, settings.cover("tunnel").air.tmin
    hard = outside < -20.0
    assert hard.any()
    assert np.allclose(inside[hard], 0.67 * outside[hard])
    mild = (outside > -3.0) & (outside < 20.0)
    assert np.allclose(inside[mild] - outside[mild], 1.3)
    tunnel, day = settings.cover("tunnel"), np.full((outside.shape[0], 1), at("minneapolis", 10, 1))
    assert (tunnel.frost(-10.0, day, low=True) > tunnel.frost(-10.0, day)).mean() > 0.9
    bare = settings.cover("open")
    assert (bare.frost(-10.0, day, low=True) == bare.frost(-10.0, day)).all()


def test_chives_stand_for_years_and_are_cut_again() -> None:
    """A night of -7 °C ended them, and six cuts did."""
    crop = load_catalogue().crop("chives")
    assert crop.harvest.years > 1
    spring = made("minneapolis", "chives", "fresh")
    day = at("minneapolis", 4, 20)
    after_winter = spring.outcome.last[:, day] - spring.outcome.sow[day] > 330
    assert after_winter.mean() > 0.9
    assert offered("minneapolis", "chives", 8, 25)


def test_garlic_is_planted_on_the_prairies() -> None:
    """Not more than 120 days before the coldest left it the week from 4 October, and the ground freezes on
    the eleventh."""
    assert offered("saskatoon", "garlic", 9, 28)
    assert offered("saskatoon", "garlic", 10, 8)
    assert not offered("saskatoon", "garlic", 8, 25)


@pytest.mark.parametrize(("place", "month", "day"), [("krakow", 6, 10), ("harbin", 6, 10), ("dublin", 6, 20)])
def test_maincrops_are_full_grown_and_set_skins_before_they_are_lifted(
    place: str, month: int, day: int
) -> None:
    """They were lifted small, a week before the frost, and their time went on to 20 June."""
    assert offered(place, "main-potato", 5, 5)
    assert not offered(place, "main-potato", month, day)


@pytest.mark.parametrize(("place", "crop", "month", "day"), [
    ("anchorage", "main-potato", 5, 20), ("saskatoon", "main-potato", 5, 28),
    ("trondheim", "main-potato", 5, 20), ("winnipeg", "main-potato", 5, 28), ("tromso", "early-potato", 6, 5),
])
def test_where_summer_is_too_short_potatoes_are_lifted_at_their_size(
    place: str, crop: str, month: int, day: int
) -> None:
    """Anchorage was to plant by 7 May, Saskatoon from 8 to 21 May, Tromsø earlies by the 25th."""
    assert offered(place, crop, month, day)


@pytest.mark.parametrize(("place", "crop", "cover"), [
    ("saskatoon", "tomato", "open"), ("anchorage", "tomato", "tunnel"), ("trondheim", "tomato", "tunnel"),
])
def test_tomatoes_are_not_planted_out_into_a_forecast_frost(place: str, crop: str, cover: CoverName) -> None:
    """Saskatoon had none in the open, with its early kinds neither."""
    day = at(place, 4, 10)
    assert any(one.judged(day) == "worth" for one in grown(place, crop, cover))
    early = made(place, crop, "early kinds", cover)
    assert (early.outcome.fate[:, day] == Fate.FROSTED).mean() < 0.4


@pytest.mark.parametrize(("crop", "month", "day"), [("pea", 11, 1), ("broad-bean", 10, 10)])
def test_peas_and_beans_fill_in_the_coolest_summers(crop: str, month: int, day: int) -> None:
    """No weeks of Punta Arenas are over 11.5 °C, and it had neither; tomatoes have none there (O10)."""
    assert offered("punta arenas", crop, month, day)
    assert not any(one.windows for one in grown("punta arenas", "aubergine"))


def test_basil_is_killed_by_cold_and_beans_by_frost() -> None:
    known = load_catalogue()
    assert fate_word(known.crop("basil"), Fate.FROSTED) == CHILLED
    assert fate_word(known.crop("dwarf-bean"), Fate.FROSTED) == "frosted"
    assert fate_word(known.crop("cucumber"), Fate.FROSTED) == "frosted"
    against = {why for one in grown("szczecin", "basil") for why in one.score.against}
    assert CHILLED in against
    assert "frosted" not in against


def test_leaf_of_mild_winters_waits_for_nobody() -> None:
    """Growth never stands still at San Diego: what overwinters is wanted from midwinter on, as before."""
    growth, here = load_catalogue().crop("spinach").development, open_air("san diego")
    assert (growth_comes_back(growth, here) == midwinter(here)).all()
    cold = open_air("minneapolis")
    assert (growth_comes_back(growth, cold) - midwinter(cold))[at("minneapolis", 9, 1)] > 45
