"""When each crop may be sown and the sheets of a year's months, of calendars made once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf

from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.garden.garden import LOAM, Seedbed, WeatherChoice
from evenpick.service.month import month_in
from evenpick.service.outlook_answer import MonthAnswer, WindowsAnswer
from evenpick.service.seedbeds import unwatered
from evenpick.service.windows import calendars, chosen_crops, windows_in, year_weather


@dataclass(frozen=True, slots=True)
class SownInYear:
    windows: WindowsAnswer
    months: Mapping[int, MonthAnswer]
    """by number, those that were asked for"""


def sown_in_year(
    site: Site,
    choice: WeatherChoice,
    year: int,
    months: Iterable[int],
    covers: Sequence[CoverName] = ("open", "tunnel"),
    lowest: float = inf,
    seedbed: Seedbed = LOAM,
    crops: Sequence[str] | None = None,
    seed: int = DEFAULT_SEED,
) -> SownInYear:
    """As `windows` and `month` answer for a year and some of its months, 1 to 12; all crops without `crops`.
    The calendars, some hundreds of MB, are let go; what is told of them is small."""
    weather, chosen = year_weather(site, choice, year, seed), chosen_crops(crops)
    made = calendars(chosen, covers, weather, seed, lowest, unwatered(site, seedbed))
    return SownInYear(
        windows_in(made, chosen, site, weather, seedbed),
        {which: month_in(made, chosen, covers, site, weather, (year, which), lowest, seedbed)
         for which in months},
    )
