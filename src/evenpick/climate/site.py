"""Where the ground is."""

from __future__ import annotations

from dataclasses import dataclass

from evenpick.base.errors import Problem, UnknownPlace
from evenpick.base.language import tell

LAPSE_PER_METRE = -0.0065  # K, ICAO standard atmosphere (memory)


@dataclass(frozen=True, slots=True)
class Site:
    """A place on earth: degrees north and east, metres above the sea (None when not known)."""

    name: str
    lat: float
    lon: float
    height_m: float | None = None

    def __post_init__(self) -> None:
        if not -90.0 <= self.lat <= 90.0:
            raise UnknownPlace(
                Problem(
                    tell("a latitude of {lat:g} is not on earth.", lat=self.lat),
                    tell("Latitude runs from -90 (south) to 90 (north); write it first, then the longitude."),
                    field="lat",
                )
            )
        if not -180.0 <= self.lon <= 180.0:
            raise UnknownPlace(
                Problem(
                    tell("a longitude of {lon:g} is not on earth.", lon=self.lon),
                    tell("Longitude runs from -180 (west) to 180 (east)."),
                    field="lon",
                )
            )

    @property
    def southern(self) -> bool:
        return self.lat < 0.0
