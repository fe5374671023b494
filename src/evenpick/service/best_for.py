"""For which of its purposes a sow day of a crop is best."""

from __future__ import annotations

from collections.abc import Sequence

from evenpick.base.trade import CoverName
from evenpick.climate.weather import WeatherYears
from evenpick.crops.crop import Crop, Way
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import YEAR, Calendar, Window, each_purpose, workable_ground


def for_each_purpose(
    crop: Crop, way: Way, cover: CoverName, weather: WeatherYears, seed: int
) -> list[Calendar]:
    """One calendar for each purpose of the whole crop, in their order; baby leaf and the like are sown at
    nearly the same times, and picked sooner."""
    settings = Settings(weather)
    ground = workable_ground(settings)
    return list(each_purpose(crop, way, cover, crop.whole_purposes, settings, ground, seed))


def best_of(every: Sequence[Calendar], day: int) -> Calendar:
    """The calendar in whose windows the sow day lies, of those or else of all that with its best score."""
    return max(every, key=lambda one: (within(one.windows, day), float(one.score.score[day])))


def within(pieces: Sequence[Window], day: int) -> bool:
    """Whether the sow day lies in a window; one may run over the New Year."""
    return any(piece.opens <= one <= piece.closes for piece in pieces for one in (day, day + YEAR))
