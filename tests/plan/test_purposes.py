"""A crop's other whole uses are offered too, such as sowings in autumn that stand the winter."""

from __future__ import annotations

from dataclasses import replace

import pytest
from garden_task import GARDEN, HORIZON, all_batches, groups, settings

from evenpick.base.chance import DEFAULT_SEED
from evenpick.climate.shift import warmed
from evenpick.crops.catalogue import load_catalogue
from evenpick.garden.garden import Garden, Ground
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import workable_ground
from evenpick.plan.options import batches


def test_a_day_serves_one_purpose_of_a_crop_way_and_cover() -> None:
    taken: dict[tuple[str, str, str], set[int]] = {}
    for batch in all_batches():
        days = taken.setdefault((batch.crop.key, batch.way.name, batch.cover), set())
        mine = {int(day) for day in batch.days}
        assert not days & mine
        days |= mine


def test_autumn_sowings_that_stand_the_winter_are_offered() -> None:
    purposes = {batch.outcome.purpose.name for batch in all_batches()}
    assert "overwintering" in purposes


def test_a_type_is_named_and_the_crops_own_varieties_do_not_take_its_days() -> None:
    """Sets to store are not put in the open before the winter, where those that overwinter are."""
    sets = load_catalogue().crop("onion-sets").by_type()
    offered = batches(sets, GARDEN, settings(), workable_ground(settings()), HORIZON, groups(), DEFAULT_SEED)
    days: dict[str, set[int]] = {}
    for batch in offered["onion-sets"]:
        if batch.cover == "open":
            days.setdefault(batch.crop.name, set()).update(int(day) for day in batch.days)
    assert set(days) == {"Onion sets", "Onion sets, overwintering"}
    assert not days["Onion sets"] & days["Onion sets, overwintering"]


TUNNEL = replace(GARDEN, grounds=(Ground("tunnel", "tunnel", 8.0),))


@pytest.mark.parametrize(("key", "garden", "covers"), [
    ("main-potato", GARDEN, {"open"}), ("main-potato", TUNNEL, {"tunnel"}),
    ("sweet-potato", GARDEN, {"tunnel"}),
])
def test_what_goes_to_store_has_the_tunnel_where_the_open_never_gives_it(
    key: str, garden: Garden, covers: set[str]
) -> None:
    """Of sweet potatoes, and of all that is stored in a garden of a tunnel alone, the plan said that none
    succeeds under the covers there are, where the windows had the tunnel. The weather is 3 °C warmer."""
    warm = Settings(warmed(settings().weather, 3.0))
    crop = [load_catalogue().crop(key)]
    made = batches(crop, garden, warm, workable_ground(warm), HORIZON, groups(), DEFAULT_SEED)
    assert {batch.cover for batch in made[key]} == covers


@pytest.mark.parametrize(("warmer", "early"), [(-2.0, True), (2.0, False)])
def test_early_kinds_where_the_common_ones_come_good_in_too_few_years(warmer: float, early: bool) -> None:
    """Sweet corn in the open at Brize Norton, in cooler and in warmer weather than it has."""
    there = Settings(warmed(settings().weather, warmer))
    crop = [load_catalogue().crop("sweetcorn")]
    made = batches(crop, GARDEN, there, workable_ground(there), HORIZON, groups(), DEFAULT_SEED)["sweetcorn"]
    names = {batch.crop.name for batch in made if batch.cover == "open" and batch.way.name == "raised"}
    assert made
    assert ("Sweetcorn, early kinds" in names) == early
