"""Where the onions that keep are grown, and where those of autumn stand in for them (outlook.md, O9)."""

from __future__ import annotations

import pytest

from evenpick.climate.site import Site
from evenpick.garden.garden import WeatherChoice
from evenpick.service.windows import windows

CROPS = ["onion", "onion-sets"]


def purposes(lat: float, lon: float) -> set[tuple[str, str]]:
    """Crops and purposes that have a window in the open."""
    rows = windows(Site("somewhere", lat, lon), WeatherChoice(), CROPS, ("open",), 2027).windows
    return {(row.crop, row.purpose) for row in rows}


@pytest.mark.parametrize(("lat", "lon"), [(30.69, -88.04), (30.44, -84.28), (30.45, -91.19), (25.8, -80.3)])
def test_none_that_keep_are_sown_in_the_deep_south(lat: float, lon: float) -> None:
    """Mobile, Tallahassee, Baton Rouge, Miami: kinds that keep ask for days of 13.75 hours (lancaster1996),
    and days there hardly have 14. Short-day kinds are sown in autumn in their stead (bulbhours)."""
    assert purposes(lat, lon) == {(crop, "overwintering") for crop in CROPS}


@pytest.mark.parametrize(("lat", "lon"), [(35.8, -78.6), (38.0, 23.7), (-32.9, -68.8), (-36.9, 174.8)])
def test_farther_from_the_equator_they_are(lat: float, lon: float) -> None:
    """Raleigh, Athens, Mendoza, Auckland."""
    assert ("onion", "storing") in purposes(lat, lon)


@pytest.mark.parametrize(("lat", "lon"), [(12.97, 77.59), (1.35, 103.98), (6.45, 3.39)])
def test_between_the_tropics_they_are_kinds_for_short_days(lat: float, lon: float) -> None:
    """Bangalore, Singapore, Lagos: days of 11 to 13 hours start those alone (echoonion)."""
    assert purposes(lat, lon) == {(crop, "overwintering") for crop in CROPS}
