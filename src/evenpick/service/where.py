"""Where on earth a question is asked for."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from evenpick.base.errors import BadRequest, Problem
from evenpick.base.language import tell
from evenpick.climate.places import find_place
from evenpick.climate.point import parse_point
from evenpick.climate.site import Site
from evenpick.garden.amounts import height as read_height
from evenpick.garden.garden import WeatherChoice
from evenpick.service.setups import garden_of


def site_for(at: str | None, place: str | None, height: str | None) -> Site:
    """The site of a point ('53.43,-6.24') or of a place name ('Dublin, IE').

    Raises UnknownPlace for either where it is not on earth or not listed, BadRequest for both or neither.
    """
    if (at is None) == (place is None):
        raise BadRequest(
            Problem(
                tell("the place is given twice.") if at else tell("no place is given."),
                tell('Give --at "latitude,longitude" or --place "Town, Country", or a garden file.'),
            )
        )
    site = parse_point(at) if at is not None else find_place(place or "")
    return site if height is None else replace(site, height_m=read_height(height))


def garden_site(garden: Path) -> tuple[Site, WeatherChoice]:
    """Where a garden is and which weather it asks for."""
    described = garden_of(garden)
    return described.site, described.weather
