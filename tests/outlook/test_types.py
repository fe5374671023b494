"""Varieties grown for one purpose (docs/design/types.md), held against the days that their sources print."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from real_places import at, weather

from evenpick.base.errors import BadRequest
from evenpick.base.trade import CoverName, WayName
from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.crop import Anchor, Crop, Purpose
from evenpick.outlook.anchor_climate import anchor_settings
from evenpick.outlook.anchors import solve_thermal_time
from evenpick.outlook.made_for import as_sown
from evenpick.outlook.setting import Settings

BRIZE = ("brize-norton", 51.758, -1.578)


def purpose_of(crop: Crop, name: str) -> Purpose:
    return next(one for one in crop.purposes if one.name == name)


def ratio(
    key: str, purpose: str, where: tuple[str, float, float], when: tuple[int, int], days: float,
    way: WayName = "direct", cover: CoverName = "open",
) -> float:  # fmt: skip
    """Thermal time by which the type takes so many days, over the crop's."""
    crop = load_catalogue().crop(key)
    place, lat, lon = where
    counted = "planting out" if way == "raised" else "sowing"
    anchor = Anchor(lat, lon, place, *when, days, cover, way, "", counted)
    kind = crop.grown_for(purpose_of(crop, purpose))
    return solve_thermal_time(kind, anchor, anchor_settings(place, lat, lon)) / crop.thermal_time


def mean_ratio(*ratios: float) -> float:
    product = 1.0
    for one in ratios:
        product *= one
    return float(product ** (1 / len(ratios)))


def told(key: str, purpose: str) -> float:
    own = purpose_of(load_catalogue().crop(key), purpose).type
    assert own is not None
    return own.thermal_ratio


def test_onions_that_overwinter() -> None:
    # mason2022: ripe in June and July, sown in August; westsidegardener1998: 300 days to June and early July
    solved = mean_ratio(
        ratio("onion", "overwintering", BRIZE, (8, 20), 315),
        ratio("onion", "overwintering", ("Seattle", 47.66, -122.29), (8, 25), 300),
    )
    assert told("onion", "overwintering") == pytest.approx(solved, abs=0.01)


def test_sets_that_overwinter() -> None:
    # philosophising2018: planted by the end of September, lifted in June or early July
    solved = ratio("onion-sets", "overwintering", BRIZE, (9, 30), 263, way="planted")
    assert told("onion-sets", "overwintering") == pytest.approx(solved, abs=0.01)


def test_small_heads() -> None:
    # oconnell2021: 36 to 40 days in spring, field and tunnel; highmowing2012: 22 November to April, tunnel
    athens = ("Athens, Georgia", 33.95, -83.38)
    spring = mean_ratio(
        ratio("cos-lettuce", "small heads", athens, (3, 15), 38, "raised"),
        ratio("cos-lettuce", "small heads", athens, (3, 15), 38, "raised", "tunnel"),
    )
    winter = ratio("cos-lettuce", "small heads", ("Wolcott, Vermont", 44.54, -72.46), (11, 22), 141, "raised",
                   "tunnel")  # fmt: skip
    assert told("cos-lettuce", "small heads") == pytest.approx(mean_ratio(spring, winter), abs=0.01)


def test_a_type_is_laid_over_its_crop() -> None:
    onion = load_catalogue().crop("onion")
    kind = onion.grown_for(purpose_of(onion, "overwintering"))
    assert onion.bulbing is not None
    assert kind.bulbing is not None
    assert (kind.bulbing.hours, kind.bulbing.leaf) == (12.0, onion.bulbing.leaf)
    assert kind.harvest.stand == onion.harvest.stand
    assert kind.harvest.store_weeks < onion.harvest.store_weeks
    assert kind.grown_for(kind.purposes[0]) == kind  # once is enough


def test_the_crop_and_each_type_alone() -> None:
    onion = load_catalogue().crop("onion")
    several = onion.by_type()
    assert [[one.name for one in kind.own_purposes] for kind in several] == [["storing"], ["overwintering"]]
    assert [kind.name for kind in several] == ["Onion", "Onion, overwintering"]
    assert [kind.bulbing.hours for kind in several if kind.bulbing] == [None, 12.0]
    leek = load_catalogue().crop("leek")
    assert leek.by_type() == (leek,)


@pytest.mark.parametrize(("key", "way", "days", "kinds"), [
    # sets of autumn are those that overwinter (philosophising2018), of spring those to store
    ("onion-sets", "planted", [(11, 28), (3, 20), (10, 10)], ["", "overwintering"]),
    ("onion", "direct", [(9, 1), (3, 20)], ["", "overwintering"]),
    ("cos-lettuce", "direct", [(4, 1), (7, 1)], [""]),
    ("leek", "direct", [(4, 10)], [""]),
])  # fmt: skip
def test_a_sowing_is_followed_as_what_its_day_was_for(
    key: str, way: WayName, days: list[tuple[int, int]], kinds: list[str]
) -> None:
    """At Cork, in the open: spring is for the crop's own varieties, autumn for the type's."""
    crop = load_catalogue().crop(key)
    sow = np.array([at("cork", month, day) for month, day in days])
    found = as_sown(crop, crop.way(way), "open", Settings(weather("cork")), sow)
    assert [kind.name.removeprefix(crop.name).removeprefix(", ") for kind, _ in found] == kinds
    assert sorted(np.concatenate([places for _, places in found])) == list(range(len(days)))
    spring = [n for n, (month, _) in enumerate(days) if month < 9]
    assert list(found[0][1]) == spring


def test_a_growers_own_variety_keeps_what_it_does_not_say(tmp_path: Path) -> None:
    path = tmp_path / "crops.toml"
    path.write_text(
        '[senshyu]\nlike = "onion"\nname = "Senshyu"\n'
        '[senshyu.types.overwintering.bulbing]\nhours = { value = 13.0, source = "own record" }\n',
        encoding="utf-8",
    )
    own = purpose_of(load_catalogue(path).crop("senshyu"), "overwintering").type
    onion = purpose_of(load_catalogue().crop("onion"), "overwintering").type
    assert own is not None
    assert onion is not None
    assert own.bulbing is not None
    assert onion.bulbing is not None
    assert (own.bulbing.hours, own.bulbing.least_leaf) == (13.0, onion.bulbing.least_leaf)
    assert (own.thermal_ratio, own.harvest) == (onion.thermal_ratio, onion.harvest)


def test_a_type_of_no_purpose_is_told(tmp_path: Path) -> None:
    path = tmp_path / "crops.toml"
    path.write_text(
        '[mine]\nlike = "cos lettuce"\nname = "Mine"\n'
        '[mine.types.winter]\nthermal_ratio = { value = 0.7, source = "own record" }\n'
        '["mine".types.fresh]\nthermal_ratio = { value = 0.7, source = "own record" }\n'
        'bulbing.hours = { value = 12.0, source = "own record" }\n',
        encoding="utf-8",
    )
    with pytest.raises(BadRequest) as caught:
        load_catalogue(path)
    told = "\n".join(map(str, caught.value.problems))
    assert "'winter' is not a purpose of this crop" in told
    assert "can't have a 'bulbing' of its own" in told


def test_early_peanuts() -> None:
    """faogroundnut: bunch kinds 90 to 115 days, others 120 to 140; of the common ones' own time there, which
    is not the middle of all their places."""
    where, when = ("Bamako", 12.65, -8.0), (6, 25)
    solved = ratio("peanut", "early kinds", where, when, 102.5) / ratio("peanut", "storing", where, when, 130)
    assert told("peanut", "early kinds") == pytest.approx(solved, abs=0.01)


def test_garlic_for_warm_winters() -> None:
    """urdupointgarlic: planted at the turn of October, lifted from the last week of April; victormatara: 4 to
    6 months in Kenya's highlands; krishidunia: 150 to 170 days in India, place and date ours."""
    solved = mean_ratio(
        ratio("garlic", "early kinds", ("Sialkot", 32.0, 74.53), (10, 1), 206, way="planted"),
        ratio("garlic", "early kinds", ("Nakuru", -0.3, 36.07), (4, 1), 150, way="planted"),
        ratio("garlic", "early kinds", ("Delhi", 28.6, 77.2), (10, 10), 160, way="planted"),
    )
    assert told("garlic", "early kinds") == pytest.approx(solved, abs=0.015)
