"""Where the weather behind an answer comes from."""

from __future__ import annotations

from dataclasses import dataclass, field

FAR_KM = 100.0
"""a station farther off than this may have another climate, and every answer says so: at stations left out
the square mean of the errors of a month's temperatures steps there from 1.2 to 1.4 °C
(authorities/around.md)"""
FAR_ERROR, NEAR_ERROR, NEAR_KM = 1.4, 0.9, 50.0
"""°C: that error at stations with none within FAR_KM, and with one within NEAR_KM (the same table)"""


ANOTHERS = "record of another farm, moved"
"""of a cooperative: a source like another"""


@dataclass(frozen=True, slots=True)
class ClimateOrigin:
    """Which weather an answer rests on."""

    source: str
    """'own daily record', 'own daily record, by its months', 'packaged daily record', 'typed normals',
    'station normals' or 'record of another farm, moved'"""
    station: str
    distance_km: float | None
    height_difference_m: float | None
    """station above (+) or below (-) the site; None when the site's height is not known"""
    years: int | None
    """calendar years of record behind the ensemble; None where monthly figures don't say theirs"""
    licence: str = ""
    notes: tuple[str, ...] = field(default_factory=tuple)
    made: int = 0
    """weather years made from monthly figures by dice; nought where they are real"""

    @property
    def far(self) -> bool:
        """Whether it was measured farther off than another climate may begin."""
        return self.distance_km is not None and self.distance_km > FAR_KM
