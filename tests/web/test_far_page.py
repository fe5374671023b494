"""Today's page says that the weather is of far off, the plan's what mends it. An invented garden and plan."""

from __future__ import annotations

from dataclasses import replace

import pytest
from served_garden import GARDEN, Place, plan_for

from evenpick.climate.origin import ClimateOrigin
from evenpick.service.store_plan import save_plan


@pytest.mark.parametrize(("km", "far"), [(451.0, True), (40.0, False)])
def test_todays_page_says_how_far_off_the_weather_is(place: Place, km: float, far: bool) -> None:
    origin = ClimateOrigin("station normals", "Mwanza, Tanzania", km, -500.0, 18, made=60)
    save_plan(place.garden, replace(plan_for(GARDEN), climate=origin))
    page = place.client.get("/").text
    assert ("Mwanza, Tanzania, 451 km away" in page) == far
    assert not far or page.index("To do this week") < page.index("CAUTION")
    plan = place.client.get("/plan").text
    assert ("Twelve monthly normals from closer by are better." in plan) == far
