"""Garlic from a winter of thirty below to one without frost (garlicminnesota, tasmaniangarlic)."""

from __future__ import annotations

import pytest

from evenpick.climate.site import Site
from evenpick.garden.garden import WeatherChoice
from evenpick.service.windows import windows

MonthDay = tuple[int, int]


def covered(lat: float, lon: float, *days: MonthDay) -> bool:
    """Whether each of these days of 2027 lies in a window of planting in the open."""
    rows = windows(Site("somewhere", lat, lon), WeatherChoice(), ["garlic"], ("open",), 2027).windows
    return all(any(_within(row.opens, day, row.closes) for row in rows) for day in days)


def _within(opens: MonthDay, day: MonthDay, closes: MonthDay) -> bool:
    return opens <= day <= closes if opens <= closes else day >= opens or day <= closes


def test_minnesota_plants_it_in_the_first_half_of_october() -> None:
    """Mulched, one to two weeks after the first killing frost (garlicminnesota)."""
    assert covered(44.95, -93.2, (10, 4), (10, 14))


@pytest.mark.parametrize(("lat", "lon", "days"), [
    (46.81, -71.21, ((9, 28), (10, 15))), (39.25, -106.3, ((9, 10),)), (46.8, -92.1, ((10, 4), (10, 20))),
])  # fmt: skip
def test_short_springs_make_full_bulbs_too(lat: float, lon: float, days: tuple[MonthDay, ...]) -> None:
    """Quebec, Leadville, Duluth: planted from September into October (common practice, no source). As much
    leaf was asked for as a mild winter at Brize Norton gives."""
    assert covered(lat, lon, *days)


@pytest.mark.parametrize(("lat", "lon"), [(-33.87, 151.2), (-26.2, 28.05)])
def test_winters_without_frost_chill_it_too(lat: float, lon: float) -> None:
    """Sydney, Johannesburg: nights below 12 °C for 8 to 10 weeks are enough (tasmaniangarlic); planted in
    autumn (common practice, no source)."""
    assert covered(lat, lon, (4, 1), (5, 1))


def test_never_on_the_equator() -> None:
    assert not covered(1.35, 103.9, (1, 1))
    assert not covered(1.35, 103.9, (7, 1))
