"""What snow shelters, and what is not begun in it (docs/design/covers.md, 11, outlook.md, O15).

The places are real, their weather made of the packaged normals. What growers there do is common practice, no
source, unless one is named."""

from __future__ import annotations

import numpy as np
import pytest
from real_places import at, grown, offered, open_air, weather

from evenpick.crops.catalogue import load_catalogue
from evenpick.outlook.outcome import Fate
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import asked, workable_ground


def frosted(place: str, crop: str, month: int, day: int) -> float:
    """Share of the years in which frost takes a sowing in the open before it is picked."""
    return float((grown(place, crop)[0].outcome.fate[:, at(place, month, day)] == Fate.FROSTED).mean())


def test_garlic_comes_through_a_winter_of_the_prairies() -> None:
    """The cloves lie under the snow: seven in ten were frozen at Winnipeg, by the air's forty below."""
    assert frosted("winnipeg", "garlic", 10, 8) < 0.25
    assert offered("winnipeg", "garlic", 10, 12)


@pytest.mark.parametrize("place", ["quebec", "helsinki"])
def test_a_rosette_under_snow_winters(place: str) -> None:
    """Lamb's lettuce: none was offered for spring."""
    assert offered(place, "lambs-lettuce", 9, 5)


def test_spinach_of_september_is_picked_in_spring_under_nordic_snow() -> None:
    assert offered("helsinki", "spinach", 9, 10)


def test_what_stands_over_the_snow_is_not_sheltered() -> None:
    """Kale at Quebec feels the air's nights; nights of 20 below come later to a bud at the ground, or not."""
    here = open_air("quebec")
    day = np.full((here.years, 1), at("quebec", 10, 1))
    air, under = here.frost(-20.0, day), here.frost(-20.0, day, 0.0)
    assert (air <= under).all()
    assert (air < under).mean() > 0.7
    assert load_catalogue().crop("kale").limits.bud is None


def test_no_snow_lies_in_a_tunnel_nor_in_the_tropics() -> None:
    tunnel = Settings(weather("quebec")).cover("tunnel")
    day = np.zeros((tunnel.years, 1), dtype=np.int64)
    assert (tunnel.frost(-13.0, day) == tunnel.frost(-13.0, day, 0.0)).all()
    assert not open_air("singapore").snow_and_water()[0].any()


def test_sets_and_cloves_go_into_wet_ground_but_not_into_snow() -> None:
    """They were not asked: onion sets went into the snow of Quebec's first week of April."""
    garlic = grown("quebec", "garlic")[0].outcome
    ground = workable_ground(Settings(weather("quebec")))
    planted = asked(ground, garlic.way, "open")
    assert planted is not None
    assert set(np.unique(planted)) == {0.0, 1.0}
    assert planted[:, at("quebec", 2, 1)].mean() < 0.1
    assert asked(ground, garlic.way, "tunnel") is None
    assert not offered("quebec", "onion-sets", 4, 8)


def test_ground_is_under_last_winters_snow_when_the_year_begins() -> None:
    """The axis began without any, twelve days before: of the 63 mm that lie at Quebec on 5 January it had 28,
    and in mid-April a third too few years were under snow."""
    lying, water = open_air("quebec").snow_and_water()
    assert np.median(lying[:, at("quebec", 1, 5)]) > 50.0
    ground = workable_ground(Settings(weather("quebec")))
    assert (ground[:, at("quebec", 4, 8)] == 0.0).mean() > 0.6
    assert water.min() > -1e-9
