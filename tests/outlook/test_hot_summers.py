"""What summers do: shaded nurseries, crops that would sleep through the heat, and bolting in it
(docs/design/outlook.md, O4, O6, O9, O20, O21, O24).

The places are real, their weather made of the packaged normals. What growers there do is common practice, no
source, unless one is named."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from real_places import at, grown, offered, open_air

from evenpick.crops.catalogue import load_catalogue
from evenpick.crops.signals import LongDay
from evenpick.outlook.heat import flowers_spared
from evenpick.outlook.outcome import Fate
from evenpick.outlook.season import OVERWINTERING
from evenpick.outlook.windows import fold


def fates(place: str, crop: str, month: int, day: int, way: str) -> list[str]:
    """By year, of a sowing in the open for its first purpose."""
    outcome = next(made.outcome for made in grown(place, crop) if made.outcome.way.name == way)
    return [Fate(each).name for each in outcome.fate[:, at(place, month, day)]]


@pytest.mark.parametrize("crop", ["broad-bean", "pea"])
@pytest.mark.parametrize("month", [5, 6])
def test_peas_and_beans_are_sown_through_a_winter_without_frost(crop: str, month: int) -> None:
    """May and June are the main sowing months at the Cape; overwintering claimed them and was not offered."""
    assert offered("cape town", crop, month, 20)


def test_what_is_raised_in_shade_may_be_sown_while_the_field_is_too_hot() -> None:
    """Broccoli for autumn at Dallas: raised in late July for the field of early September. The window closes
    between 20 and 30 July, by the draw of the years."""
    assert "TOO_HOT" not in fates("dallas", "calabrese", 8, 1, "raised")
    assert fates("dallas", "calabrese", 8, 1, "direct").count("TOO_HOT") > 30
    assert offered("dallas", "calabrese", 7, 18)


@pytest.mark.parametrize(("place", "crop", "month", "day"), [
    ("madrid", "crisp-lettuce", 6, 20), ("atlanta", "broad-bean", 7, 20), ("phoenix", "courgette", 5, 25),
])  # fmt: skip
def test_nothing_sleeps_through_the_heat_to_be_picked_in_autumn(
    place: str, crop: str, month: int, day: int
) -> None:
    """Growth stands still in it, so that what is picked after it has ripened in the cool; kept at 25 °C
    lettuce bolts without a head (lettuce25)."""
    assert not offered(place, crop, month, day)


@pytest.mark.parametrize(("place", "crop", "too_soon", "sown"), [
    ("kansas city", "calabrese", (5, 28), (6, 20)), ("kansas city", "turnip", (7, 10), (8, 1)),
    ("kansas city", "early-carrot", (6, 18), (7, 10)), ("turin", "turnip", (6, 25), (7, 25)),
    ("savannah", "kale", (7, 1), (8, 20)), ("savannah", "beetroot", (8, 5), (9, 1)),
    ("bucharest", "radish", (7, 24), (8, 15)),
])  # fmt: skip
def test_crops_for_autumn_wait_for_the_worst_of_summer_to_pass(
    place: str, crop: str, too_soon: tuple[int, int], sown: tuple[int, int]
) -> None:
    """What grew through it and ripened in the cool counted as if all had been cool: it opened two weeks too
    soon."""
    assert not offered(place, crop, *too_soon)
    assert offered(place, crop, *sown)


@pytest.mark.parametrize(("place", "crop"), [("bucharest", "broad-bean"), ("savannah", "main-potato")])
def test_no_window_where_heat_spoils_seven_years_of_ten(place: str, crop: str) -> None:
    """Broad beans of June and maincrop potatoes of late April, of which a quarter of the years were sound."""
    for made in grown(place, crop):
        for window in made.windows:
            days = [fold(day) for day in range(window.opens, window.closes + 1)]
            assert made.score.sound[days].mean() > 0.3
    assert not offered("bucharest", "broad-bean", 6, 20)
    assert not offered("savannah", "main-potato", 4, 28)


def test_potatoes_for_autumn_are_planted_in_july() -> None:
    """At Kansas City, where 25 °C was held too hot to plant in."""
    assert offered("kansas city", "early-potato", 7, 15)
    assert not offered("kansas city", "early-potato", 6, 5)


def test_lettuce_is_sown_for_autumn_once_the_worst_is_past() -> None:
    assert offered("madrid", "cos-lettuce", 8, 25)


def test_spinach_is_not_sown_at_the_longest_days() -> None:
    assert not offered("lyon", "spinach", 7, 5)
    assert offered("lyon", "spinach", 8, 10)


def test_heat_slows_leaf_and_not_the_stem() -> None:
    """Spinach at Phoenix grows less in July than in April and is driven to flower more."""
    spinach, here = load_catalogue().crop("spinach"), open_air("phoenix")
    (rule,) = (rule for rule in spinach.bolting if isinstance(rule, LongDay))
    april, july = at("phoenix", 4, 15), at("phoenix", 7, 15)
    for clock, more in ((here.growth_clock(spinach.development), False),
                        (here.long_day_clock(spinach.development, rule), True)):
        rate = clock.rate.mean(axis=0)
        assert (rate[july] > rate[april]) is np.bool_(more)


def test_garlic_is_not_planted_in_summer_weeks() -> None:
    """Cloves sprout soonest at 12.7 °C (hsiao2019)."""
    assert not offered("phoenix", "garlic", 9, 10)
    assert offered("phoenix", "garlic", 11, 20)
    assert offered("lyon", "garlic", 10, 15)


def test_days_that_are_always_about_as_long_start_the_bulbs_of_kinds_for_short_days_alone() -> None:
    """They make bulbs in days of 11 to 13 hours, kinds for long days none (echoonion)."""
    found = {one.outcome.purpose.name for one in grown("singapore", "onion") if one.windows}
    assert found == {OVERWINTERING}


def test_a_bulb_of_half_its_size_is_a_set() -> None:
    """At Warsaw seed raised in May makes such; growers raise it by March."""
    assert not offered("warsaw", "onion", 5, 12)
    assert offered("warsaw", "onion", 3, 15)


def test_beans_drop_their_flowers_in_hot_nights() -> None:
    """Nights of 24 °C take half (ernestbeans, konsens1991). Where all are so hot nothing is left to pick;
    days as hot with cool nights spare them."""
    bean = load_catalogue().crop("dwarf-bean")
    assert not any(made.windows for made in grown("singapore", bean.key))
    spared = {
        place: float(flowers_spared(bean, open_air(place), np.full((60, 1), at(place, 7, 1))).mean())
        for place in ("savannah", "kansas city")
    }
    by_day = replace(bean, limits=replace(bean.limits, set_tmin=None))
    lost = {
        place: 1 - each / flowers_spared(by_day, open_air(place), np.full((60, 1), at(place, 7, 1))).mean()
        for place, each in spared.items()
    }
    assert lost["savannah"] > 0.15 > 0.1 > lost["kansas city"]


def test_sprouts_do_not_stand_through_a_summer_of_the_deep_south() -> None:
    """Set out in early July they stand one of Kansas (kstatesprouts); at Savannah they were raised for the
    winter in May."""
    assert not offered("savannah", "brussels-sprout", 6, 1)
    assert offered("savannah", "brussels-sprout", 8, 20)


def test_sprouts_are_set_out_in_early_july_by_wichita() -> None:
    """Kansas (kstatesprouts): raised four to five weeks before."""
    assert offered("wichita", "brussels-sprout", 6, 5)
