"""When each item of a first garden is wanted: in its usual season where this climate gives it then, and else
for as long as it is to be had here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from evenpick.base.arrays import Bools
from evenpick.base.chance import DEFAULT_SEED
from evenpick.base.trade import CoverName
from evenpick.climate.site import Site
from evenpick.garden.begin import ALL_YEAR, Helping, Season, usual_season
from evenpick.garden.garden import WeatherChoice
from evenpick.garden.wishes import Crops
from evenpick.outlook.had import to_be_had
from evenpick.outlook.setting import Settings
from evenpick.outlook.windows import MARGIN, YEAR
from evenpick.service.windows import calendars, month_day, year_weather

OFTEN = 0.5  # of the years: an item is to be had on a day
MOST = 0.8  # of its usual season: it stays as it is
MUCH = 0.45  # of it, in one piece: that piece; with less, whenever it is to be had
LEAST, BREAK = 14, 28  # days: shorter seasons are left out, shorter breaks bridged


def seasons_here(
    helpings: Sequence[Helping], site: Site, covers: Sequence[CoverName], catalogue: Crops
) -> Mapping[str, tuple[Season, ...]]:
    """By item, the seasons it is wished for; none where no sowing in its good time gives it here."""
    weather = year_weather(site, WeatherChoice(), None, DEFAULT_SEED)
    keys = dict.fromkeys(key for helping in helpings for key in helping.crops)
    settings, had = Settings(weather), dict[str, Bools]()
    for made in calendars([catalogue.crop(key) for key in keys], covers, weather, DEFAULT_SEED):
        if made.windows:
            key = made.outcome.crop.key
            had[key] = to_be_had(made, settings.cover(made.outcome.cover)) | had.get(key, np.False_)
    start = weather.start + MARGIN
    return {helping.item: _seasons(helping, had, site.lat, start) for helping in helpings}


def _seasons(helping: Helping, had: Mapping[str, Bools], lat: float, start: int) -> tuple[Season, ...]:
    own = [had[key] for key in helping.crops if key in had]
    if not own:
        return ()
    often = np.logical_or.reduce(own).mean(axis=0) >= OFTEN
    usual = usual_season(helping, lat)
    wanted = _days(usual, start)
    if often[wanted].mean() >= MOST:
        return (usual,)
    pieces = tuple(runs(often & wanted))
    enough = len(pieces) == 1 and pieces[0][1] - pieces[0][0] >= MUCH * wanted.sum()
    return tuple(_season(start, *run) for run in (pieces if enough else runs(often)))


def _season(start: int, opens: int, closes: int) -> Season:
    if closes - opens + 1 >= YEAR:
        return ALL_YEAR
    return month_day(start, opens), month_day(start, closes % YEAR)


def _days(season: Season, start: int) -> Bools:
    """The days of the year from `start` that lie in a season."""
    if season == ALL_YEAR:
        return np.ones(YEAR, dtype=bool)
    (opens, closes), day = season, [month_day(start, i) for i in range(YEAR)]
    inside = [opens <= d <= closes if opens <= closes else d >= opens or d <= closes for d in day]
    return np.array(inside)


def runs(often: Bools) -> Iterator[tuple[int, int]]:
    """Runs of days round the year, breaks bridged and short ones left out; the whole year is one run."""
    if not often.any():
        return
    bridged = often.copy()
    for opens, closes in _runs(~often):
        if closes - opens + 1 < BREAK:
            bridged[np.arange(opens, closes + 1) % YEAR] = True
    yield from ((o, c) for o, c in _runs(bridged) if c - o + 1 >= LEAST)


def _runs(days: Bools) -> Iterator[tuple[int, int]]:
    """Runs of a ring of days, first and last; a last day past the year's end counts on."""
    if days.all():
        yield 0, days.size - 1
    for first in np.flatnonzero(days & ~np.roll(days, 1)):
        length = int(np.argmin(np.roll(days, -first)))
        yield int(first), int(first) + length - 1

