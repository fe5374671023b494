"""For which of its purposes a sow day of a crop is best."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from evenpick.base.trade import CoverName
from evenpick.climate.weather import WeatherYears
from evenpick.crops.crop import SMALLER, WHOLE, Crop, Purpose, Way
from evenpick.outlook.drying import Unwatered
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import RANK, Calendar, each_purpose, workable_ground


def main_purposes(crop: Crop) -> list[Purpose]:
    """Purposes of the crop itself: baby leaf and the like are sown at nearly the same times, and picked
    sooner."""
    return [one for one in crop.purposes if one.thermal_share == WHOLE or one.name not in SMALLER]


def for_each_purpose(
    crop: Crop, way: Way, cover: CoverName, weather: WeatherYears, seed: int, lowest: float = inf,
    by_rain: Unwatered | None = None,
) -> list[Calendar]:
    """One calendar for each purpose that the crop itself is grown for, in their order; `lowest` as of
    `Settings`, `by_rain` the ground that nobody waters."""
    settings = Settings(weather, by_rain, lowest)
    ground = workable_ground(settings)
    return list(each_purpose(crop, way, cover, main_purposes(crop), settings, ground, seed))


def best_of(every: Sequence[Calendar], day: int) -> Calendar:
    """The calendar by which the sow day is judged best, of those or else of all that with its best score."""
    return max(every, key=lambda one: (RANK[one.judged(day)], float(one.score.score[day])))
